import { writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildPage, serveFolder } from '../browser/serve-page.ts';
import type { Engine } from './engine.ts';
import { ensureEngines } from './ensure-engines.ts';
import { startWithPuppeteer } from './puppeteer-engine.ts';
import { bringIn, isKept, isReadyForOffline, measure, open, readPlan, type StoredSizes, storedSizes } from './walk.ts';
import { startWebKit } from './webkit-engine.ts';

const SAMPLE = fileURLToPath(new URL('../../sample-images/tumbler-standing-on-dark-desk.jpg', import.meta.url));
const HEIC = fileURLToPath(new URL('../browser/files/jam-jar-standing-on-dark-desk.heic', import.meta.url));
/** Engines decode JPEG by different libraries, or by another version of the same. */
const SAME_SD = 0.05;

const folder = fileURLToPath(new URL('../../node_modules/.tmp/engines-page', import.meta.url));
const installed = ensureEngines();
beforeAll(() => buildPage(folder));

const jpegIn = new Map<string, StoredSizes>();
const heicIn = new Map<string, StoredSizes>();

describe.each([
  ['Chromium', () => installed.chromium && startWithPuppeteer('chrome', installed.chromium)],
  ['Firefox', () => installed.firefox && startWithPuppeteer('firefox', installed.firefox)],
  ['WebKitGTK', () => installed.webkit && startWebKit(installed.webkit)],
] as const)('%s', (name, start) => {
  let engine: Engine;
  let page: Awaited<ReturnType<typeof serveFolder>>;
  beforeAll(async () => {
    const started = await start();
    if (!started) throw new Error(`${name} is not installed and could not be.`);
    engine = started;
    page = await serveFolder(folder);
    process.stdout.write(`${name}: ${engine.version}\n`);
    await open(engine, page.url);
  });
  afterAll(async () => {
    await engine?.close();
    await page?.close();
  });

  test('measures a photo, keeps the container and has the job again after a reload', async () => {
    const sizes = await measure(engine, SAMPLE);
    jpegIn.set(name, sizes);
    await isKept(engine);
    await engine.reload();
    expect(await storedSizes(engine)).toEqual(sizes);
    await readPlan(engine);
  });

  test('brings in what was kept elsewhere', async () => {
    const file = join(tmpdir(), `kept-for-${name}.json`);
    await writeFile(file, JSON.stringify(KEPT_ELSEWHERE));
    await bringIn(engine, file);
  });

  test('without a network opens again and measures a HEIC photo', async () => {
    await isReadyForOffline(engine);
    await open(engine, page.url);
    await page.close();
    await engine.reload();
    const before = await storedSizes(engine);
    const sizes = await measure(engine, HEIC, before);
    heicIn.set(name, sizes);
  });
});

test.each([
  ['JPEG', jpegIn],
  ['HEIC', heicIn],
])('a %s photo has the same sizes in all three', (_, found) => {
  const [reference, ...others] = [...found.values()];
  expect(others).toHaveLength(2);
  for (const other of others) {
    for (const size of ['maxDiameterMm', 'heightMm'] as const) {
      expect(Math.abs(other[size].value - reference[size].value)).toBeLessThan(SAME_SD * reference[size].sd);
    }
  }
});

const KEPT_ELSEWHERE = {
  format: 'roundwise-kept',
  version: 1,
  savedAt: '2026-11-30T12:00:00.000Z',
  gauges: [],
  plans: [],
  carriers: [],
  pictures: [],
  containers: [
    {
      id: 'kept-elsewhere-1',
      kind: 'container',
      label: 'kept elsewhere',
      createdAt: 1,
      changedAt: 1,
      measurement: null,
      warnings: [],
      tape: { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 },
      photo: null,
    },
  ],
};
