import { existsSync, readdirSync, readFileSync } from 'node:fs';
import type { Licences, ShippedPart } from '../licences/licences.ts';

/** Bundled into the service worker by the build. */
const SHIPPED_BY_BUILD = ['workbox-precaching'];

/** Not inside, but the network has learnt from pictures under its light: vision/network/training/environments.py. */
const LEARNT_FROM = {
  name: '@pmndrs/assets',
  version: '1.7.0',
  licence: 'CC0-1.0',
  source: 'github.com/pmndrs/assets',
};

/** The LGPL is a set of permissions on top of the GPL, so both texts go with it. */
const ALSO_NEEDED: Readonly<Record<string, string>> = { 'LGPL-3.0': 'web/licences/GPL-3.0.txt' };

/**
 * Licences of the page itself and of every package it ships: the dependencies of package.json and theirs.
 * @param root  the project's folder, ending in a slash
 * @throws Error naming the package that has no licence text
 */
export function shippedLicences(root: string): Licences {
  const texts: string[] = [];
  const indexOf = (path: string) => {
    const text = readFileSync(path, 'utf8').trim();
    if (!texts.includes(text)) texts.push(text);
    return texts.indexOf(text);
  };
  const own: ShippedPart = {
    name: 'Roundwise',
    version: packageOf(root).version,
    licence: packageOf(root).license,
    source: null,
    textIndexes: [indexOf(`${root}LICENSE`)],
  };
  const parts = shippedPackages(root).map((name): ShippedPart => {
    const folder = `${root}node_modules/${name}/`;
    const { version, license: licence, repository, homepage } = packageOf(folder);
    const address = typeof repository === 'string' ? repository : (repository?.url ?? homepage ?? null);
    const source = address?.replace(/^(git\+)?(https|ssh|git):\/\/(git@)?|\.git$/g, '') ?? null;
    const file = readdirSync(folder).find((entry) => /^(licen[cs]e|copying)/i.test(entry));
    if (!file) throw new Error(`The package ${name} has no licence text.`);
    const files = [`${folder}${file}`, ...(ALSO_NEEDED[licence] ? [`${root}${ALSO_NEEDED[licence]}`] : [])];
    return { name, version, licence, source, textIndexes: files.map(indexOf) };
  });
  const learntFrom = { ...LEARNT_FROM, textIndexes: [indexOf(`${root}web/licences/${LEARNT_FROM.licence}.txt`)] };
  return { parts: [own, ...parts, learntFrom], texts };
}

/** Names of all packages that end up in the page, sorted. */
export function shippedPackages(root: string): string[] {
  const found = new Set<string>();
  const visit = (name: string) => {
    if (found.has(name)) return;
    found.add(name);
    const folder = `${root}node_modules/${name}/`;
    if (!existsSync(folder)) throw new Error(`The package ${name} is not installed.`);
    Object.keys(packageOf(folder).dependencies ?? {}).forEach(visit);
  };
  [...Object.keys(packageOf(root).dependencies ?? {}), ...SHIPPED_BY_BUILD].forEach(visit);
  return [...found].sort();
}

interface PackageFile {
  readonly version: string;
  readonly license: string;
  readonly repository?: string | { readonly url: string };
  readonly homepage?: string;
  readonly dependencies?: Readonly<Record<string, string>>;
}

function packageOf(folder: string): PackageFile {
  return JSON.parse(readFileSync(`${folder}package.json`, 'utf8'));
}
