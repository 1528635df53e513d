import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FINGER_SD_CSS } from '../../web/place/grips.ts';
import { sampleTruth } from '../support/truth.ts';
import { LAPTOP, Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
const PHOTO = 'jam-jar-standing-on-dark-desk';

/** A point of the photo on screen, CSS px. */
async function onScreen(maker: Maker, [x, y]: readonly [number, number]): Promise<readonly [number, number]> {
  return maker.page.evaluate(
    ([px, py]) => {
      const svg = document.querySelector('.photo-canvas svg') as SVGSVGElement;
      const point = new DOMPoint(px, py).matrixTransform(svg.getScreenCTM() as DOMMatrix);
      return [point.x, point.y] as const;
    },
    [x, y] as const,
  );
}

async function drag(maker: Maker, handle: string, to: readonly [number, number], whileHeld?: () => Promise<void>) {
  const box = await maker.page.getByRole('button', { name: handle, exact: true }).boundingBox();
  if (!box) throw new Error(`${handle} is not on screen`);
  await maker.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await maker.page.mouse.down();
  await maker.page.mouse.move(...to, { steps: 8 });
  await whileHeld?.();
  await maker.page.mouse.up();
}

describe('a well-found photo under the hand', () => {
  let maker: Maker;
  beforeAll(async () => {
    maker = await Maker.arrives(browser(), { viewport: LAPTOP });
    await maker.choosesPhoto(samplePhoto(PHOTO));
    await maker.waitsForSizes();
  });
  afterAll(() => maker.leaves());

  test('every point is at least 44 CSS px across, at any zoom', async () => {
    for (const zoom of ['Zoom in', 'Zoom in', 'Zoom out', 'Whole photo']) {
      await maker.page.getByRole('button', { name: zoom }).click();
      for (const handle of await maker.page.locator('.handle').all()) {
        const box = await handle.boundingBox();
        // Boxes come back in floating point.
        expect(box && Math.min(box.width, box.height)).toBeGreaterThan(43.99);
      }
    }
  });

  test('a tap on a point moves nothing and leaves the others where they are', async () => {
    const points = maker.page.locator('.handle--card');
    await points.first().click();
    await expect.poll(() => points.count()).toBe(4);
    expect(await maker.page.getByRole('button', { name: 'Undo' }).isEnabled()).toBe(false);
  });

  test('while a corner is dragged the magnifier shows and the sizes follow; undo brings everything back', async () => {
    const before = await maker.reads('Widest');
    // Where things are on screen is asked after the click, which may scroll the page.
    const [x, y] = await onScreen(maker, (await sampleTruth(PHOTO)).cornersPx[0]);
    const corner = await nearestCorner(maker, [x, y]);
    // Far enough to change the size by much more than the rounding shown, and to be out of reach of the card's edges.
    await drag(maker, corner, [x - 25, y - 25], async () => {
      await maker.page.locator('.magnifier').waitFor();
      await expect.poll(() => maker.reads('Widest')).not.toEqual(before);
    });
    await maker.waitsForSizes();
    // Nothing is there to lay the corner on, and the sizes hang on it: that is no green light.
    await maker.page.getByText('Check the card', { exact: true }).waitFor();
    await maker.page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => (await maker.reads('Widest')).mm).toBe(before.mm);
    await maker.page.getByText('Looks right', { exact: true }).waitFor();
  });

  test('a corner let go beside the card snaps onto it', async () => {
    const [truth] = (await sampleTruth(PHOTO)).cornersPx;
    const [x, y] = await onScreen(maker, truth);
    await drag(maker, await nearestCorner(maker, [x, y]), [x + 5, y - 4]);
    const farPx = async () => {
      const moved = await maker.page.locator('.drawing__card').getAttribute('points');
      const distances = (moved ?? '').split(' ').map((point) => {
        const [px, py] = point.split(',').map(Number);
        return Math.hypot(px - truth[0], py - truth[1]);
      });
      return Math.min(...distances);
    };
    await expect.poll(farPx).toBeLessThan(3);
    await maker.waitsForSizes();
  });

  test('the top edge follows the finger at once, and goes back to a clear edge within two of a finger’s sds', async () => {
    const before = await maker.reads('Height');
    const start = await silhouetteTop(maker);
    await drag(maker, 'Top edge', await above(maker, 'Top edge', 2 * FINGER_SD_CSS), async () => {
      await maker.page.locator('.magnifier').waitFor();
      await expect.poll(async () => start - (await silhouetteTop(maker))).toBeGreaterThan(15);
    });
    await maker.waitsForSizes();
    await expect.poll(async () => Math.abs((await silhouetteTop(maker)) - start)).toBeLessThan(6);
    const after = await maker.reads('Height');
    expect(Math.abs(after.mm - before.mm)).toBeLessThan(before.plusMinusMm);
  });

  test('Ctrl and Z takes back what a hand did, with Shift it is done again', async () => {
    const undo = maker.page.getByRole('button', { name: 'Undo' });
    const redo = maker.page.getByRole('button', { name: 'Redo' });
    await maker.page.keyboard.press('Control+z');
    await expect.poll(() => redo.isEnabled()).toBe(true);
    await maker.page.keyboard.press('Control+Shift+z');
    await expect.poll(() => redo.isEnabled()).toBe(false);
    expect(await undo.isEnabled()).toBe(true);
    await maker.waitsForSizes();
  });

  test('let go six of them beside the edge it is left where it was put, and asked about', async () => {
    const start = await silhouetteTop(maker);
    await drag(maker, 'Top edge', await above(maker, 'Top edge', 6 * FINGER_SD_CSS));
    await maker.page.getByText('What you placed lies beside a clear edge', { exact: false }).waitFor();
    expect(start - (await silhouetteTop(maker))).toBeGreaterThan(30);
    await maker.page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(async () => Math.abs((await silhouetteTop(maker)) - start)).toBeLessThan(6);
    await maker.waitsForSizes();
  });

  test('arrow keys move a point by one photo pixel, with Shift by ten', async () => {
    const handle = maker.page.getByRole('button', { name: 'Card corner, top left' });
    const start = await cardPoint(maker, 0);
    await handle.focus();
    await handle.press('Shift+ArrowUp');
    // seen as placed, before the engine lays it onto the edge again
    await expect.poll(async () => start[1] - (await cardPoint(maker, 0))[1]).toBeGreaterThan(8);
    await maker.waitsForSizes();
    await handle.press('ArrowRight');
    await maker.waitsForSizes();
  });

  test('a tape that the photo contradicts is asked about, here and on the plan, before anything is made of the two', async () => {
    await maker.goesTo('Photo');
    await maker.choosesPhoto(samplePhoto(PHOTO));
    await maker.waitsForSizes();
    await maker.page.getByText('Looks right', { exact: true }).waitFor();
    await maker.unfolds('Check it with a tape');
    // the truth is 79 mm across the base, 248 mm around
    await maker.page.getByLabel('Around the base').fill('16.5');
    await maker.page.getByText('Photo and tape differ', { exact: true }).waitFor();
    await maker.goesTo('Plan');
    const asked = maker.page.getByText('One of them is wrong', { exact: false });
    await asked.waitFor();
    await maker.page.getByRole('button', { name: 'Leave it out' }).click();
    await asked.waitFor({ state: 'detached' });
    await maker.goesTo('Sizes');
    await maker.page.getByText('Looks right', { exact: true }).waitFor();
  });

  test('the way the card lies can be said, and is used', async () => {
    await maker.unfolds('Put the drawing right');
    await maker.page.getByLabel('Container and card').selectOption('lying');
    await maker.page.locator('.check__busy').waitFor();
    await maker.page.locator('.check__busy').waitFor({ state: 'detached' });
    expect(await maker.page.getByLabel('Container and card').inputValue()).toBe('lying');
    await maker.page.getByRole('button', { name: 'Undo' }).click();
    await maker.waitsForSizes();
  });
});

test('on a phone two fingers zoom and one finger drags a point or the photo', async () => {
  const maker = await Maker.arrives(browser(), { hasTouch: true, isMobile: true });
  await maker.choosesPhoto(samplePhoto(PHOTO));
  await maker.waitsForSizes();
  const fingers = await maker.context.newCDPSession(maker.page);
  const touch = async (
    type: 'touchStart' | 'touchMove' | 'touchEnd',
    points: readonly (readonly [number, number])[],
  ) => {
    await fingers.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });
    // A finger takes its time; the page sees at most one place of it per picture.
    await maker.page.evaluate(() => new Promise((drawn) => requestAnimationFrame(drawn)));
  };
  const viewBox = async () =>
    ((await maker.page.locator('.photo-canvas__frame > svg').getAttribute('viewBox')) ?? '').split(' ').map(Number);

  const [, , widthBefore] = await viewBox();
  await touch('touchStart', [
    [150, 300],
    [220, 300],
  ]);
  for (let k = 1; k <= 8; k += 1) {
    await touch('touchMove', [
      [150 - 8 * k, 300],
      [220 + 8 * k, 300],
    ]);
  }
  await touch('touchEnd', []);
  const [xZoomed, , widthZoomed] = await viewBox();
  expect(widthBefore / widthZoomed).toBeGreaterThan(1.5);

  await touch('touchStart', [[60, 180]]);
  for (let k = 1; k <= 6; k += 1) await touch('touchMove', [[60 + 10 * k, 180]]);
  await touch('touchEnd', []);
  expect((await viewBox())[0]).toBeLessThan(xZoomed);

  await maker.page.getByRole('button', { name: 'Whole photo' }).click();
  const box = await maker.page.getByRole('button', { name: 'Card corner, top right' }).boundingBox();
  if (!box) throw new Error('no corner on screen');
  const [x, y] = [box.x + 22, box.y + 22];
  await touch('touchStart', [[x, y]]);
  for (let k = 1; k <= 6; k += 1) await touch('touchMove', [[x - 5 * k, y + 2 * k]]);
  await maker.page.locator('.magnifier').waitFor();
  await touch('touchEnd', []);
  await expect.poll(() => maker.page.getByRole('button', { name: 'Undo' }).isEnabled()).toBe(true);
  await maker.leaves();
});

test('either end of a lying container can be told to be its base, and undone', async () => {
  const maker = await Maker.arrives(browser(), { viewport: LAPTOP });
  await maker.choosesPhoto(samplePhoto('tumbler-lying-on-planks'));
  await maker.waitsForSizes();
  const widest = await maker.reads('Widest');
  const baseAt = async () => (await maker.page.locator('.base-name').boundingBox())?.x ?? 0;
  const before = await baseAt();
  await maker.page.getByRole('button', { name: 'The base is the other end' }).click();
  await expect.poll(async () => Math.abs((await baseAt()) - before)).toBeGreaterThan(50);
  await maker.waitsForSizes();
  expect((await maker.reads('Widest')).mm).toBeCloseTo(widest.mm, 0);
  await maker.page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(async () => Math.abs((await baseAt()) - before)).toBeLessThan(3);
  await maker.leaves();
});

test('a photo whose card cannot be found is repaired by hand', async () => {
  const maker = await Maker.arrives(browser(), { viewport: LAPTOP });
  const truth = await sampleTruth(PHOTO);
  await maker.page
    .getByTestId('photo-file')
    .setInputFiles({ name: 'p.jpg', mimeType: 'image/jpeg', buffer: await withHiddenCard(truth.cornersPx) });
  await maker.page.getByText('No bank card was found', { exact: false }).waitFor();
  await maker.unfolds('Put the drawing right');
  await maker.page.getByRole('button', { name: 'Place the card by hand' }).click();
  const placed: (readonly [number, number])[] = [];
  for (const cornerPx of truth.cornersPx) {
    const [x, y] = await onScreen(maker, cornerPx);
    await drag(maker, await nearestCorner(maker, [x, y], placed), [x, y]);
    placed.push([x, y]);
  }
  await maker.waitsForSizes();
  const { mm } = await maker.reads('Widest');
  // A hand on a covered card is good to a few per cent; the point is that there are sizes again.
  expect(Math.abs(mm / truth.maxDiameterMm - 1)).toBeLessThan(0.05);
  await maker.leaves();
});

describe('fingers on a phone put the drawing right, and the truth is inside the stated interval', () => {
  for (const [kind, name] of [
    ['clear', 'jar-standing-on-linen'],
    ['doubtful', 'hard/sport-bottle-standing-on-planks'],
  ]) {
    test(`on a ${kind} photo`, async () => {
      const maker = await Maker.arrives(browser(), { hasTouch: true, isMobile: true });
      const truth = await sampleTruth(name);
      await maker.choosesPhoto(samplePhoto(name));
      await maker.waitsForSizes();
      for (const handle of ['Top edge', 'Base edge']) {
        await fingerDrags(maker, handle, await nearestTrueEdge(maker, handle, truth.outlinePx));
      }
      await expectInside(maker, 'Widest', truth.maxDiameterMm);
      await expectInside(maker, 'Height', truth.heightMm);
      await maker.leaves();
    });
  }

  test('on a photo refused for want of a card, which a tap points out', async () => {
    const maker = await Maker.arrives(browser(), { hasTouch: true, isMobile: true });
    const truth = await sampleTruth(PHOTO);
    await maker.page
      .getByTestId('photo-file')
      .setInputFiles({ name: 'p.jpg', mimeType: 'image/jpeg', buffer: await withHiddenCard(truth.cornersPx) });
    await maker.page.locator('.refusal').getByRole('heading', { name: 'No card found' }).waitFor();
    const middle = [0, 1].map((k) => truth.cornersPx.reduce((sum, corner) => sum + corner[k] / 4, 0));
    const [x, y] = await onScreen(maker, [middle[0], middle[1]]);
    await maker.page.touchscreen.tap(x, y);
    await maker.page.getByRole('button', { name: 'This is the card' }).tap();
    for (const cornerPx of truth.cornersPx) {
      const at = await onScreen(maker, cornerPx);
      await fingerDrags(maker, await nearestCorner(maker, at), at);
    }
    await expectInside(maker, 'Widest', truth.maxDiameterMm);
    await expectInside(maker, 'Height', truth.heightMm);
    await maker.leaves();
  });
});

/** So many CSS px above the middle of a handle. */
async function above(maker: Maker, handle: string, byCss: number): Promise<readonly [number, number]> {
  const box = await maker.page.getByRole('button', { name: handle, exact: true }).boundingBox();
  if (!box) throw new Error(`${handle} is not on screen`);
  return [box.x + box.width / 2, box.y + box.height / 2 - byCss];
}

/** Takes a handle with one finger, moves it there and lets go; waits for what is measured then. */
async function fingerDrags(maker: Maker, handle: string, to: readonly [number, number]): Promise<void> {
  const box = await maker.page.getByRole('button', { name: handle, exact: true }).boundingBox();
  if (!box) throw new Error(`${handle} is not on screen`);
  const from = [box.x + box.width / 2, box.y + box.height / 2] as const;
  const fingers = await maker.context.newCDPSession(maker.page);
  const touch = async (type: 'touchStart' | 'touchMove' | 'touchEnd', at: readonly (readonly [number, number])[]) => {
    await fingers.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(([x, y], id) => ({ x, y, id })) });
    await maker.page.evaluate(() => new Promise((drawn) => requestAnimationFrame(drawn)));
  };
  await touch('touchStart', [from]);
  // at least far enough to be no tap
  const by = [to[0] - from[0], to[1] - from[1]];
  for (const share of [0.3, 0.6, 0.9])
    await touch('touchMove', [[from[0] + share * by[0], from[1] + 5 + share * by[1]]]);
  await touch('touchMove', [[to[0], to[1]]]);
  await touch('touchEnd', []);
  await fingers.detach();
  await maker.page
    .locator('.check__busy')
    .waitFor({ state: 'attached', timeout: 3000 })
    .catch(() => {});
  await maker.page.locator('.check__busy').waitFor({ state: 'detached' });
}

/** The place on screen where the true silhouette is nearest to a handle. */
async function nearestTrueEdge(
  maker: Maker,
  handle: string,
  outlinePx: readonly (readonly [number, number])[],
): Promise<readonly [number, number]> {
  const box = await maker.page.getByRole('button', { name: handle, exact: true }).boundingBox();
  if (!box) throw new Error(`${handle} is not on screen`);
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  const places = await Promise.all(outlinePx.filter((_, k) => k % 3 === 0).map((point) => onScreen(maker, point)));
  return places.reduce((a, b) => (Math.hypot(b[0] - x, b[1] - y) < Math.hypot(a[0] - x, a[1] - y) ? b : a));
}

async function expectInside(maker: Maker, size: 'Widest' | 'Height', trueMm: number): Promise<void> {
  const { mm, plusMinusMm } = await maker.reads(size);
  // shown to whole millimetres where the interval is wide
  expect(Math.abs(mm - trueMm)).toBeLessThanOrEqual(plusMinusMm + 0.5);
}

/** The sample with its card under a soft dark spot: nothing is left there that could be taken for a card's edge. */
async function withHiddenCard(cardPx: readonly (readonly [number, number])[]): Promise<Buffer> {
  const [cx, cy] = [0, 1].map((axis) => cardPx.reduce((sum, point) => sum + point[axis], 0) / 4);
  const spot = `<ellipse cx="${cx}" cy="${cy}" rx="600" ry="460" fill="#2b2622" filter="url(#soft)"/>`;
  const soft = '<filter id="soft"><feGaussianBlur stdDeviation="20"/></filter>';
  const cover = `<svg xmlns="http://www.w3.org/2000/svg" width="1512" height="2016">${soft}${spot}</svg>`;
  return sharp(samplePhoto(PHOTO))
    .composite([{ input: Buffer.from(cover) }])
    .jpeg()
    .toBuffer();
}

/** @param placed  where corners are already, which stay there */
async function nearestCorner(
  maker: Maker,
  [x, y]: readonly [number, number],
  placed: readonly (readonly [number, number])[] = [],
): Promise<string> {
  // while one is held the others are out of the way
  await expect.poll(() => maker.page.locator('.handle--card').count()).toBe(4);
  const handles = await maker.page.locator('.handle--card').all();
  const measured = await Promise.all(
    handles.map(async (handle) => {
      const box = await handle.boundingBox();
      const awayFrom = ([u, v]: readonly [number, number]) =>
        box ? Math.hypot(box.x + 22 - u, box.y + 22 - v) : Number.POSITIVE_INFINITY;
      const isPlaced = placed.some((at) => awayFrom(at) < 22);
      return { name: (await handle.getAttribute('aria-label')) ?? '', away: awayFrom([x, y]), isPlaced };
    }),
  );
  return measured.filter(({ isPlaced }) => !isPlaced).sort((a, b) => a.away - b.away)[0].name;
}

async function cardPoint(maker: Maker, k: number): Promise<readonly [number, number]> {
  const points = (await maker.page.locator('.drawing__card').getAttribute('points')) ?? '';
  const [x, y] = points.split(' ')[k].split(',').map(Number);
  return [x, y];
}

/** Uppermost place of the drawn container, photo px. */
async function silhouetteTop(maker: Maker): Promise<number> {
  const points = (await maker.page.locator('.drawing__outline').first().getAttribute('points')) ?? '';
  return Math.min(...points.split(' ').map((point) => Number(point.split(',')[1])));
}
