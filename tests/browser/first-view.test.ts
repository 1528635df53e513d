import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { LAPTOP, Maker, PHONE, samplePhoto, startChromium } from './maker.ts';
import { outDir } from './serve-page.ts';

const browser = startChromium();
const PHOTO = samplePhoto('tumbler-standing-on-dark-desk');

test('what is fetched before a photo can be taken weighs 200 kB or less, type and styles included', async () => {
  const maker = await Maker.arrives(browser());
  await maker.page.addInitScript(() => {
    new MutationObserver((_, observer) => {
      if (!document.querySelector('main h1')) return;
      performance.mark('ready');
      observer.disconnect();
    }).observe(document, { childList: true, subtree: true });
  });
  await maker.page.reload();
  await maker.page.locator('main h1').first().waitFor();
  const names = await maker.page.evaluate(() => {
    const ready = performance.getEntriesByName('ready')[0].startTime;
    return (performance.getEntriesByType('resource') as PerformanceResourceTiming[])
      .filter(({ initiatorType, startTime }) => ['script', 'link', 'css'].includes(initiatorType) && startTime <= ready)
      .map(({ name }) => new URL(name).pathname.slice(1));
  });
  const bytes = ['index.html', ...names].map(
    (name) => gzipSync(readFileSync(`${outDir}/${name}`), { level: 9 }).length,
  );
  expect(names.filter((name) => name.endsWith('.woff2'))).toHaveLength(2);
  expect(bytes.reduce((sum, each) => sum + each, 0) / 1000).toBeLessThanOrEqual(200);
  await maker.leaves();
});

describe.each([
  ['phone', PHONE],
  ['laptop', LAPTOP],
])('on a %s', (_device, viewport) => {
  test('nothing jumps after it was first painted: photo, sizes, plan', async () => {
    const maker = await Maker.arrives(browser(), { viewport, reducedMotion: 'no-preference' });
    await watchShifts(maker.page);
    await maker.page.reload();
    await maker.page.locator('main h1').first().waitFor();
    await maker.page.evaluate(() => document.fonts.ready);
    await maker.choosesPhoto(PHOTO);
    await maker.waitsForSizes();
    await maker.page.getByRole('button', { name: 'The plan for it' }).click();
    await maker.page.getByRole('button', { name: /^Start/ }).waitFor();
    expect(await shifts(maker.page)).toBeLessThan(SEEN);
    await maker.leaves();
  });
});

test('furniture above and below takes 9 % of the height of a phone or less', async () => {
  const maker = await Maker.arrives(browser(), { viewport: PHONE });
  await maker.choosesPhoto(PHOTO);
  await maker.waitsForSizes();
  for (const part of ['.shell__head', '.way-on']) {
    const box = await maker.page.locator(part).boundingBox();
    expect((box?.height ?? 0) / PHONE.height, part).toBeLessThanOrEqual(0.09);
  }
  await maker.leaves();
});

describe('on every place', () => {
  test.each([
    ['320 px wide', { width: 320, height: 568 }],
    ['lying on its side', { width: 844, height: 390 }],
  ])('a phone %s shows all there is without scrolling sideways, the way on in view', async (_how, viewport) => {
    const maker = await Maker.arrives(browser(), { viewport });
    const fits = async () => {
      const tooWide = await maker.page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(tooWide).toBeLessThanOrEqual(0);
    };
    await fits();
    await maker.choosesPhoto(PHOTO);
    await maker.waitsForSizes();
    await fits();
    const next = await maker.page.getByRole('button', { name: 'The plan for it' }).boundingBox();
    expect((next?.y ?? 0) + (next?.height ?? 0)).toBeLessThanOrEqual(viewport.height);
    await maker.page.getByRole('button', { name: 'The plan for it' }).click();
    await maker.page.locator('#plan-title').waitFor();
    await fits();
    await maker.leaves();
  });

  test('with colours forced by the system the way on keeps an edge', async () => {
    const maker = await Maker.arrives(browser(), { viewport: PHONE, forcedColors: 'active' });
    const take = maker.page.getByRole('button', { name: 'Take the photo' });
    expect(await take.evaluate((button) => getComputedStyle(button).borderTopWidth)).toBe('3px');
    await maker.leaves();
  });

  test('whatever is pressed is 44 px high and wide at least', async () => {
    const maker = await Maker.arrives(browser(), { viewport: PHONE });
    expect(await tooSmall(maker.page)).toEqual([]);
    await maker.choosesPhoto(PHOTO);
    await maker.waitsForSizes();
    expect(await tooSmall(maker.page)).toEqual([]);
    for (const place of ['At the stall', 'What I kept', 'How to take the photo', 'Settings']) {
      await maker.visits(place);
      await maker.page.locator('main h1').first().waitFor();
      expect(await tooSmall(maker.page), place).toEqual([]);
    }
    await maker.leaves();
  });
});

/** A thousandth of the screen is less than a pixel's jump of a line; rounding of a size may cause that. */
const SEEN = 0.001;

/** Adds up layout shifts that no hand caused (Layout Instability, W3C draft). */
async function watchShifts(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const seen = window as unknown as { shifted: number };
    seen.shifted = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as (PerformanceEntry & { value: number; hadRecentInput: boolean })[]) {
        if (!entry.hadRecentInput) seen.shifted += entry.value;
      }
    }).observe({ type: 'layout-shift', buffered: true });
  });
}

function shifts(page: Page): Promise<number> {
  return page.evaluate(() => (window as unknown as { shifted: number }).shifted);
}

/** Visible buttons, fields and lines to unfold under 44 px, by their words; text links in a sentence are exempt (WCAG 2.5.5). */
function tooSmall(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('button, summary, select, input:not([type=checkbox], [type=radio])')]
      .filter((element) => element.offsetParent !== null && !element.closest('.shell__skip'))
      .flatMap((element) => {
        // A field inside its label is pressed anywhere on the label. Boxes come back in floating point.
        const { width, height } = (element.closest('label') ?? element).getBoundingClientRect();
        return width < 43.99 || height < 43.99 ? [`${element.textContent}: ${width} × ${height}`] : [];
      }),
  );
}
