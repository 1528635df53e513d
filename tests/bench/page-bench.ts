import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { buildPage, serveFolder } from '../browser/serve-page.ts';
import { launchKeepingChromium } from '../support/chromium.ts';
import { type Weight, weighPage } from './page-weight.ts';
import { type Timing, timingOf } from './timing.ts';
import { BENCH_SAMPLES, twelveMegapixelFile } from './twelve-megapixels.ts';

const COLD_STARTS = 5;
const WARM_ROUNDS = 3;
const DRAG_STEPS = 20;

export interface PageBench {
  readonly timings: readonly Timing[];
  readonly weights: { readonly parts: readonly Weight[]; readonly chunks: readonly Weight[] };
}

/**
 * The page in Chromium as a maker meets it, by the page's own clock: opened again with everything cached, a photo
 * chosen at once; further photos; a card corner dragged. And what it weighs.
 * @param outDir  where to build the page
 */
export async function benchPage(outDir: string): Promise<PageBench> {
  buildPage(outDir);
  const server = await serveFolder(outDir);
  const folder = await mkdtemp(join(tmpdir(), 'roundwise-bench-'));
  try {
    const photos: string[] = [];
    for (const name of BENCH_SAMPLES) {
      photos.push(join(folder, `${name}.jpg`));
      await writeFile(photos[photos.length - 1], await twelveMegapixelFile(name));
    }
    const profile = join(folder, 'profile');
    const first = await firstVisit(profile, server.url);
    const timings = await laterVisits(profile, server.url, photos);
    const ready = timingOf('page ready for a photo, first visit', [first.readyMs], null);
    return { timings: [ready, ...timings], weights: weighPage(outDir, first.files) };
  } finally {
    await server.close();
    await rm(folder, { recursive: true, force: true });
  }
}

/** Leaves everything cached behind; says what was fetched before the page was ready. */
function firstVisit(profile: string, url: string): Promise<{ readyMs: number; files: string[] }> {
  return inFreshBrowser(profile, url, async (page, readyMs) => {
    const fetched = await page.evaluate(() =>
      (performance.getEntriesByType('resource') as PerformanceResourceTiming[]).map(
        ({ name, responseEnd }) => [name, responseEnd] as const,
      ),
    );
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => {}));
    const before = fetched.filter(([, endMs]) => endMs > 0 && endMs <= readyMs);
    return { readyMs, files: ['index.html', ...before.map(([name]) => new URL(name).pathname.slice(1))] };
  });
}

async function laterVisits(profile: string, url: string, photos: readonly string[]): Promise<Timing[]> {
  const readyMs: number[] = [];
  const coldMs: number[] = [];
  for (let start = 0; start < COLD_STARTS; start += 1) {
    await inFreshBrowser(profile, url, async (page, ready) => {
      readyMs.push(ready);
      coldMs.push((await photoToSizes(page, photos[start % photos.length])).shownAtMs);
    });
  }
  return inFreshBrowser(profile, url, async (page) => {
    const warmMs: number[] = [];
    await photoToSizes(page, photos[0]);
    for (let round = 0; round < WARM_ROUNDS; round += 1) {
      for (const photo of photos) warmMs.push((await photoToSizes(page, photo)).tookMs);
    }
    return [
      timingOf('page ready for a photo, everything cached', readyMs, null),
      timingOf('page opened to sizes of a 12-megapixel photo, everything cached', coldMs, 4000),
      timingOf('12-megapixel photo to sizes, decoding and transfer included', warmMs, 1500),
      timingOf('handle dragged to sizes shown', await dragsCorner(page), 100),
    ];
  });
}

/** Opens the page in a browser started anew on the same profile, so that only what is on disk is kept. */
async function inFreshBrowser<T>(
  profile: string,
  url: string,
  work: (page: Page, readyMs: number) => Promise<T>,
): Promise<T> {
  const browser = await launchKeepingChromium(profile);
  try {
    const page = await browser.newPage();
    await page.addInitScript(() => {
      new MutationObserver((_, observer) => {
        if (!document.querySelector('[data-testid=photo-file]')) return;
        performance.mark('ready');
        observer.disconnect();
      }).observe(document, { subtree: true, childList: true });
    });
    await page.goto(`${url}#photo`);
    await page.getByTestId('photo-file').waitFor({ state: 'attached' });
    const readyMs = await page.evaluate(() => performance.getEntriesByName('ready')[0].startTime);
    return await work(page, readyMs);
  } finally {
    await browser.close();
  }
}

/** Chooses a photo and waits for its sizes: how long that took, and when they stood there after the page was opened. */
async function photoToSizes(page: Page, photo: string): Promise<{ tookMs: number; shownAtMs: number }> {
  const photoStep = page.locator('.shell__steps button').first();
  if (await photoStep.count()) await photoStep.click();
  await page.evaluate(() => {
    performance.clearMarks();
    document.addEventListener('change', () => performance.mark('chosen'), { once: true, capture: true });
    new MutationObserver((_, observer) => {
      if (!document.querySelector('.numbers') || document.querySelector('.check__busy')) return;
      requestAnimationFrame(() => performance.mark('shown'));
      observer.disconnect();
    }).observe(document.body, { subtree: true, childList: true });
  });
  await page.getByTestId('photo-file').setInputFiles(photo);
  await page.waitForFunction(() => performance.getEntriesByName('shown').length > 0, null, { polling: 100 });
  const marks = await page.evaluate(() =>
    performance.getEntriesByType('mark').map(({ name, startTime }) => [name, startTime] as const),
  );
  const { chosen, shown } = Object.fromEntries(marks);
  return { tookMs: shown - chosen, shownAtMs: shown };
}

/** Drags a card corner step by step; from each pointer event to the frame that shows other sizes. */
async function dragsCorner(page: Page): Promise<number[]> {
  const corner = await page.locator('.handle--card').first().boundingBox();
  if (!corner) throw new Error('The check screen shows no card corner.');
  const [x, y] = [corner.x + corner.width / 2, corner.y + corner.height / 2];
  const tookMs: number[] = [];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let step = 1; step <= DRAG_STEPS; step += 1) {
    const shown = page.evaluate(
      () =>
        new Promise<number | null>((resolve) => {
          let movedAt = 0;
          document.addEventListener('pointermove', () => (movedAt ||= performance.now()), { capture: true });
          new MutationObserver((_, observer) => {
            if (!movedAt) return;
            observer.disconnect();
            requestAnimationFrame(() => resolve(performance.now() - movedAt));
          }).observe(document.querySelector('.numbers') as Element, { subtree: true, characterData: true });
          setTimeout(() => resolve(null), 2000);
        }),
    );
    await page.mouse.move(x - 2 * step, y + (step % 2));
    const took = await shown;
    if (took !== null) tookMs.push(took);
  }
  await page.mouse.up();
  if (tookMs.length < DRAG_STEPS / 2) throw new Error('Dragging a corner did not change the sizes.');
  return tookMs;
}
