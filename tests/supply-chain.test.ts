import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

interface LockedPackage {
  readonly version?: string;
  readonly integrity?: string;
  readonly link?: boolean;
}

const lock: { readonly packages: Readonly<Record<string, LockedPackage>> } = JSON.parse(
  readFileSync('package-lock.json', 'utf8'),
);
const {
  dependencies,
  devDependencies,
}: Record<string, Record<string, string>> = JSON.parse(readFileSync('package.json', 'utf8'));

test('every package is locked to one version and one content', () => {
  const loose = Object.entries(lock.packages).filter(
    ([path, { version, integrity }]) => path && !(version && integrity),
  );
  expect(loose.map(([path]) => path)).toEqual([]);
  for (const version of Object.values({ ...dependencies, ...devDependencies }))
    expect(version).toMatch(/^\d+\.\d+\.\d+/);
});

test('installing runs no script of any package, so nothing is downloaded behind the lock', () => {
  expect(readFileSync('.npmrc', 'utf8')).toMatch(/^ignore-scripts=true$/m);
});
