import { existsSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import type { Browser, JSHandle, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import type { PhotoView } from '../../vision/measurement.ts';
import { bundled, launchDrawingChromium } from '../../web/commands/in-chromium.ts';
import { samplePhoto } from './maker.ts';

type InPage = typeof import('./carrier-view-page.ts');

let browser: Browser;
let page: Page;
let drawing: JSHandle<InPage>;

beforeAll(async () => {
  const code = await bundled('tests/browser/carrier-view-page.ts', 'carrierViewPage');
  browser = await launchDrawingChromium();
  page = await browser.newPage();
  await page.setContent('<!doctype html>');
  await page.addScriptTag({ content: code });
  drawing = await page.evaluateHandle(() => (window as unknown as { carrierViewPage: InPage }).carrierViewPage);
});
afterAll(() => browser?.close());

/**
 * Pictures looked at and found good, by the same software renderer. A picture may differ from its golden one as the eye
 * sees it, on cells of 4 x 4 px in CIE L*a*b* (ΔE 1976): by 1 on the mean (a difference of 2.3 is just seen, Mahy 1994),
 * and by 10 in one cell of a hundred.
 */
const MEAN_DIFFERENCE = 1;
const HUNDREDTH_DIFFERENCE = 10;
const SIZE = [360, 480] as const;

describe('the picture of a carrier', () => {
  for (const [name, plan, colour] of pictures()) {
    it(`of a ${name} looks as its golden one`, async () => {
      const url = await drawing.evaluate(
        ({ stageText }, [plan, colour, size]) => stageText(plan, colour, size, { background: '#f6f1e7' }),
        [plan, colour, SIZE] as const,
      );
      const drawn = Buffer.from(url?.split(',')[1] ?? '', 'base64');
      const golden = new URL(`./files/carrier/${name.replaceAll(' ', '-')}.png`, import.meta.url);
      if (process.env.NEW_GOLDEN || !existsSync(golden)) {
        await mkdir(new URL('./', golden), { recursive: true });
        await writeFile(golden, await sharp(drawn).png({ palette: true, quality: 95 }).toBuffer());
        if (!process.env.NEW_GOLDEN) expect.fail('there was no golden picture: look at the new one, then run again');
      }
      const differences = await seenDifferences(drawn, await readFile(golden));
      expect(differences.mean).toBeLessThan(MEAN_DIFFERENCE);
      expect(differences.hundredth).toBeLessThan(HUNDREDTH_DIFFERENCE);
    });
  }

  it('leaves nothing on the graphics card when a hundred plans were opened', async () => {
    const plans = pictures().map(([, plan]) => plan);
    const left = await drawing.evaluate(({ openMany }, plans) => openMany(plans, 100), plans);
    expect(left).toMatchObject({ geometries: 0, textures: 0, programs: 0 });
    // no more at a time than one carrier needs: a shape or two for each kind of stitch, twice, and its container
    expect(left.inUse).toBeLessThan(30);
  });
});

describe('drawn through the true camera of a photo', () => {
  it.each([
    'jar-standing-on-linen',
    'tumbler-standing-on-dark-desk',
    'steel-flask-standing-on-white-desk',
    'tumbler-lying-on-planks',
    'flask-card-held-in-front',
  ])('the bare container of %s lies on the photo’s own outline within 3 px of 12 megapixels', async (name) => {
    const truth = JSON.parse(await readFile(samplePhoto(name).replace('.jpg', '.json'), 'utf8'));
    const outline: [number, number][] = truth.container.outline_px[0];
    const [xs, ys] = [0, 1].map((axis) => outline.map((point) => point[axis]));
    const [leftPx, topPx] = [Math.floor(Math.min(...xs)) - 30, Math.floor(Math.min(...ys)) - 30];
    const [widthPx, heightPx] = [Math.ceil(Math.max(...xs)) + 30 - leftPx, Math.ceil(Math.max(...ys)) + 30 - topPx];
    const section = sectionOf(truth.container.profile_mm);
    const container: Container = { ...containerFromTape({ diameterMm: 70, heightMm: 150 }), material: 'ceramic' };
    const url = await drawing.evaluate(({ bareContainer }, args) => bareContainer(...args), [
      trueView(truth),
      container,
      section,
      { leftPx, topPx, widthPx, heightPx },
    ] as Parameters<InPage['bareContainer']>);
    const raw = sharp(Buffer.from(url.split(',')[1], 'base64'))
      .ensureAlpha()
      .raw();
    const { data } = await raw.toBuffer({ resolveWithObject: true });
    const isDrawn = (x: number, y: number) => data[4 * (Math.round(y) * widthPx + Math.round(x)) + 3] > 250;
    const per12Mp = 4000 / Math.max(truth.image.width, truth.image.height);
    const offs = edgePoints(isDrawn, widthPx, heightPx).map(
      ([x, y]) => distanceToPolygon(x + leftPx, y + topPx, outline) * per12Mp,
    );
    expect(offs.length).toBeGreaterThan(500);
    // half a pixel of the drawing itself and the 0.3 px to which the truth's outline is good are in it
    expect(Math.max(...offs)).toBeLessThan(3);
  });
});

function pictures(): readonly (readonly [string, Plan, string])[] {
  const net = defaultChoices('net');
  const loops: Choices = { ...net, mesh: { ...net.mesh, kind: 'loop' } };
  const wrist: Choices = { ...net, strap: { ...net.strap, style: 'wrist' } };
  const tumbler = { ...containerFromTape({ diameterMm: 58, heightMm: 130, topDiameterMm: 84 }), material: 'ceramic' };
  return [
    ['net', planned(containerFromTape({ diameterMm: 72, heightMm: 200 }), net), '#2f6f5e'],
    ['loop net', planned(containerFromTape({ diameterMm: 72, heightMm: 200 }), loops), '#d2552b'],
    ['sleeve', planned(containerFromTape({ diameterMm: 80, heightMm: 110 }), defaultChoices('sleeve')), '#c9a86a'],
    ['mat', planned(containerFromTape({ diameterMm: 80, heightMm: 110 }), defaultChoices('mat')), '#6b2f4a'],
    ['tapered tumbler', planned(tumbler as Container, defaultChoices('sleeve')), '#3b4a6b'],
    ['shouldered bottle', planned(bottle(), wrist), '#ece6d8'],
  ];
}

function planned(container: Container, choices: Choices): Plan {
  const result = planCarrier(container, defaultGauge(choices.carrier === 'sleeve' ? 'sc' : 'dc'), choices);
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

/** A bottle of our own making: 74 mm wide, shoulder at 150 mm, neck of 29 mm. */
function bottle(): Container {
  const wall = [
    [0, 36],
    [4, 37],
    [140, 37],
    [160, 36],
    [175, 31],
    [190, 22],
    [200, 16],
    [210, 14.5],
    [240, 14.5],
  ];
  return {
    ...containerFromTape({ diameterMm: 74, heightMm: 240, shoulderZMm: 150 }),
    profile: wall.map(([zMm, radiusMm]) => ({ zMm, radiusMm, sdMm: 0.3 })),
  };
}

async function seenDifferences(a: Buffer, b: Buffer): Promise<{ readonly mean: number; readonly hundredth: number }> {
  const [one, other] = await Promise.all(
    [a, b].map((picture) =>
      sharp(picture)
        .removeAlpha()
        .resize(SIZE[0] / 4, SIZE[1] / 4, { kernel: 'linear' })
        .toColourspace('lab')
        .raw({ depth: 'float' })
        .toBuffer(),
    ),
  );
  const [p, q] = [one, other].map(({ buffer, byteOffset, length }) => new Float32Array(buffer, byteOffset, length / 4));
  const differences = Array.from({ length: p.length / 3 }, (_, k) =>
    Math.hypot(p[3 * k] - q[3 * k], p[3 * k + 1] - q[3 * k + 1], p[3 * k + 2] - q[3 * k + 2]),
  ).sort((x, y) => x - y);
  const mean = differences.reduce((sum, each) => sum + each, 0) / differences.length;
  return { mean, hundredth: differences[Math.floor(differences.length * 0.99)] };
}

/** Radius and height up the wall from the truth's profile, whose points are (z, r). */
function sectionOf(profile: readonly (readonly [number, number])[]): [number, number][] {
  return profile.map(([zMm, rMm]) => [rMm, zMm]);
}

interface TrueCamera {
  readonly container: { readonly pose_container_to_world: number[][] };
  readonly camera: {
    readonly fx: number;
    readonly cx: number;
    readonly cy: number;
    readonly k1: number;
    readonly R_world_to_cam: number[][];
    readonly t_world_to_cam_mm: number[];
  };
}

/** cameraFromContainer = cameraFromWorld · worldFromContainer. */
function trueView({ camera, container }: TrueCamera): PhotoView {
  const [R, P] = [camera.R_world_to_cam, container.pose_container_to_world];
  const row = (i: number, j: number) => R[i][0] * P[0][j] + R[i][1] * P[1][j] + R[i][2] * P[2][j];
  const at = [0, 1, 2];
  const shift = (i: number) => row(i, 3) + camera.t_world_to_cam_mm[i];
  return {
    camera: { focalPx: camera.fx, centreXPx: camera.cx, centreYPx: camera.cy, k1: camera.k1 },
    cameraFromContainer: {
      rotation: at.flatMap((i) => at.map((j) => row(i, j))),
      translationMm: [shift(0), shift(1), shift(2)],
    },
  };
}

/** Where drawn and not drawn meet, between the middles of neighbouring pixels. */
function edgePoints(isDrawn: (x: number, y: number) => boolean, width: number, height: number): [number, number][] {
  const points: [number, number][] = [];
  for (let y = 0; y + 1 < height; y++) {
    for (let x = 0; x + 1 < width; x++) {
      if (isDrawn(x, y) !== isDrawn(x + 1, y)) points.push([x + 0.5, y]);
      if (isDrawn(x, y) !== isDrawn(x, y + 1)) points.push([x, y + 0.5]);
    }
  }
  return points;
}

function distanceToPolygon(x: number, y: number, polygon: readonly (readonly [number, number])[]): number {
  let least = Number.POSITIVE_INFINITY;
  polygon.forEach(([ax, ay], i) => {
    const [bx, by] = polygon[(i + 1) % polygon.length];
    const length = (bx - ax) ** 2 + (by - ay) ** 2;
    const share = Math.min(Math.max(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length, 0), 1);
    least = Math.min(least, Math.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay)));
  });
  return least;
}
