import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Estimate } from '../../vision/estimate.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { type Engine, measurePhoto } from '../../vision/measure-photo.ts';
import type { MeasureResult, ProblemCode } from '../../vision/measurement.ts';
import { resultFaults } from '../support/fuzz-decoders.ts';
import { HEIGHT_PX, type TabletopScene, viewTabletop, WIDTH_PX } from '../support/tabletop-scene.ts';

/** Placed by hand no pixel is looked at, so no engine is needed. */
const NO_ENGINE = { cv: null, outlineModel: null } as unknown as Engine;
const PHONE_MM = 26;
const PHONE_PX = (PHONE_MM * Math.hypot(WIDTH_PX, HEIGHT_PX)) / 43.2666;
/** Errors beyond this many sds are garbage; with exact points one would expect less than one. */
const GARBAGE_SD = 5;
const SEEDED = { seed: 9, endOnFailure: true };

const ordinary = {
  baseRadiusMm: fc.double({ min: 25, max: 45, noNaN: true }),
  topRadiusMm: fc.double({ min: 25, max: 45, noNaN: true }),
  heightMm: fc.double({ min: 60, max: 220, noNaN: true }),
  cardXMm: fc.double({ min: 90, max: 120, noNaN: true }),
  cardYMm: fc.double({ min: -60, max: 40, noNaN: true }),
  cardTurnRad: fc.double({ min: -0.5, max: 0.5, noNaN: true }),
  elevationRad: fc.double({ min: 0.4, max: 0.9, noNaN: true }),
  distanceMm: fc.double({ min: 400, max: 700, noNaN: true }),
  focalPx: fc.constant(PHONE_PX),
};

/**
 * Scenes and points that are hard or impossible, measured or refused as they should be.
 * @param runs  random scenes of each kind
 */
export function describeDegenerateScenes(runs: number): void {
  describe('placed points of a scene seen badly: measured within the error bars or refused with a reason', () => {
    const range = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    it.each<[string, Partial<Record<keyof TabletopScene, fc.Arbitrary<number>>>]>([
      ['ordinary', {}],
      ['card seen edge-on', { elevationRad: range(-0.1, 0.3) }],
      ['from nearly straight above', { elevationRad: range(1.2, 1.45) }],
      ['camera among the things, some behind it', { distanceMm: range(0, 250) }],
      ['from far away', { distanceMm: range(1000, 20_000) }],
      ['container of almost no size', { baseRadiusMm: range(0, 5), topRadiusMm: range(0, 5), heightMm: range(0, 10) }],
      ['low container', { heightMm: range(30, 50) }],
      ['needle', { baseRadiusMm: range(0, 0.5), topRadiusMm: range(0, 0.5) }],
      ['card far away', { cardXMm: range(500, 5000) }],
    ])('%s', async (_name, changed) => {
      await fc.assert(
        fc.asyncProperty(fc.record({ ...ordinary, ...changed }), async (scene) => {
          const { cornersPx, outlinePx } = viewTabletop(scene);
          expectSound(await measure(cornersPx, outlinePx, PHONE_MM), scene);
        }),
        { ...SEEDED, numRuns: runs },
      );
    });

    it('a lens longer than any, as the file says or does not say: never a wrong size without a warning', async () => {
      const zoomed = fc.record({ zoom: range(1, 1000), scene: fc.record(ordinary), told: fc.boolean() });
      await fc.assert(
        fc.asyncProperty(zoomed, async ({ zoom, scene: near, told }) => {
          const scene = { ...near, focalPx: near.focalPx * zoom, distanceMm: near.distanceMm * zoom };
          const { cornersPx, outlinePx } = viewTabletop(scene);
          const result = await measure(cornersPx, outlinePx, told ? PHONE_MM * zoom : null);
          if (result.outcome === 'measured' && result.warnings.length > 0) expect(resultFaults(result)).toEqual([]);
          else expectSound(result, scene);
        }),
        { ...SEEDED, numRuns: runs },
      );
    });
  });

  it('a coaster is refused, most often as flat, not measured as a container that lies', async () => {
    const codes: string[] = [];
    const thin = fc.record({ ...ordinary, heightMm: fc.constantFrom(0, 2, 5) });
    for (const scene of fc.sample(thin, { seed: 4, numRuns: Math.ceil((2 * runs) / 3) })) {
      const { cornersPx, outlinePx } = viewTabletop(scene);
      const result = await measure(cornersPx, outlinePx, PHONE_MM);
      expect(result.outcome).toBe('refused');
      if (result.outcome === 'refused') codes.push(result.reason.code);
    }
    expect(codes.filter((code) => code === 'too-flat').length).toBeGreaterThan(codes.length / 2);
  });

  describe('points that no camera can have seen', () => {
    const anything = fc.oneof(
      { weight: 6, arbitrary: fc.double({ min: -500, max: 4500, noNaN: true }) },
      { weight: 1, arbitrary: fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, -1e300, 1e300, 0) },
    );
    const point = fc.tuple(anything, anything);
    const corners = fc.oneof(
      fc.tuple(point, point, point, point),
      point.map((p): CornersPx => [p, p, p, p]),
      fc.tuple(point, point).map(([a, b]): CornersPx => [a, between(a, b, 0.3), between(a, b, 0.6), b]),
    );
    const outline = fc.oneof(
      fc.array(point, { maxLength: 40 }),
      point.map((p) => [p, p, p, p]),
      fc.tuple(point, point).map(([a, b]) => [a, between(a, b, 0.5), b]),
    );

    it('are refused with a reason, whatever they are', async () => {
      await fc.assert(
        fc.asyncProperty(corners, outline, async (cornersPx, outlinePx) => {
          const result = await measure(cornersPx, outlinePx, PHONE_MM);
          expect(result.outcome).toBe('refused');
          expect(resultFaults(result)).toEqual([]);
        }),
        { ...SEEDED, numRuns: 12 * runs },
      );
    });

    it('beside points that are right: a good card does not save a nonsense outline, nor the other way round', async () => {
      await fc.assert(
        fc.asyncProperty(fc.record(ordinary), corners, outline, async (scene, wrongCorners, wrongOutline) => {
          const { cornersPx, outlinePx } = viewTabletop(scene);
          for (const result of [
            await measure(wrongCorners, outlinePx, PHONE_MM),
            await measure(cornersPx, wrongOutline, PHONE_MM),
          ]) {
            expect(resultFaults(result)).toEqual([]);
            if (result.outcome === 'measured') expect(result.warnings.map(({ code }) => code)).not.toEqual([]);
          }
        }),
        { ...SEEDED, numRuns: 2 * runs },
      );
    });

    it.each([Number.NaN, Number.POSITIVE_INFINITY, 0, -26, 1e-300, 1e300])(
      'a focal length of %f mm does not get through',
      async (focal35Mm) => {
        await fc.assert(
          fc.asyncProperty(fc.record(ordinary), async (scene) => {
            const { cornersPx, outlinePx } = viewTabletop(scene);
            expectSound(await measure(cornersPx, outlinePx, focal35Mm), scene);
          }),
          { ...SEEDED, numRuns: Math.ceil(runs / 6) },
        );
      },
    );
  });
}

function measure(cornersPx: CornersPx, outlinePx: readonly ImagePoint[], focal35Mm: number | null) {
  const lens = { focal35Mm, looksCropped: false };
  const photo = { widthPx: WIDTH_PX, heightPx: HEIGHT_PX, rgba: new Uint8Array(0), lens };
  return measurePhoto(NO_ENGINE, photo, { cornersPx, outlinePx, placementSdPx: 1 });
}

/** What a result says of itself when its sizes may be another container's. */
const DOUBTS: readonly ProblemCode[] = ['arrangement-uncertain', 'maybe-not-round'];

/** Every number finite, every refusal with a reason, and every size right within its own error bar unless it is doubted. */
function expectSound(result: MeasureResult, scene: TabletopScene): void {
  expect(resultFaults(result)).toEqual([]);
  if (result.outcome === 'refused' || result.warnings.some(({ code }) => DOUBTS.includes(code))) return;
  const { maxDiameterMm, baseDiameterMm, heightMm } = result.measurement;
  const errors = {
    maxDiameter: errorInSd(maxDiameterMm, 2 * Math.max(scene.baseRadiusMm, scene.topRadiusMm)),
    baseDiameter: baseDiameterMm ? errorInSd(baseDiameterMm, 2 * scene.baseRadiusMm) : 0,
    height: errorInSd(heightMm, scene.heightMm),
  };
  const garbage = Object.entries(errors).filter(([, error]) => !(Math.abs(error) < GARBAGE_SD));
  expect(garbage).toEqual([]);
}

function errorInSd({ value, sd }: Estimate, truth: number): number {
  return (value - truth) / sd;
}

function between([ax, ay]: ImagePoint, [bx, by]: ImagePoint, share: number): ImagePoint {
  return [ax + share * (bx - ax), ay + share * (by - ay)];
}
