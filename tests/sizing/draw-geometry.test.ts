import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meridianAtHeight, meridianOf } from '../../sizing/body/meridian.ts';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import {
  type CarrierGeometry,
  carrierGeometry,
  centreLines,
  type DrawnStitch,
  YARN_OVER_STITCH,
} from '../../sizing/draw/carrier-geometry.ts';
import { catenary } from '../../sizing/draw/catenary.ts';
import { YARN_SHAPE_NAMES, YARN_SHAPES } from '../../sizing/draw/yarn-shapes.ts';
import { tallyRounds } from '../../sizing/forecast/tally.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { categoryStitchWidthMm, YARN_CATEGORIES } from '../../sizing/yarn-standards.ts';
import { choices, containers, gauges } from '../support/sizing-arbitraries.ts';

const SEED = 20_261_130;
/** Larger works only take longer to draw. */
const MOST_STITCHES = 6_000;

describe('the carrier drawn stitch for stitch', () => {
  it('has as many of each stitch in each round as the plan, all of them somewhere', () => {
    let drawn = 0;
    fc.assert(
      fc.property(containers, gauges, choices, (container, gauge, chosen) => {
        const result = planCarrier(container, gauge, chosen);
        if (result.outcome === 'refused' || stitchesOf(result.plan) > MOST_STITCHES) return;
        drawn++;
        const geometry = carrierGeometry(result.plan);
        for (const part of result.plan.parts) {
          for (const round of part.rounds) {
            const counted = { sc: 0, hdc: 0, dc: 0, tr: 0, ch: 0, 'sl st': 0, cord: 0 };
            for (const { stitch, counts } of inRound(geometry, round.number)) counted[stitch] += counts;
            expect(counted, `round ${round.number} (${part.name})`).toEqual(tallyRounds([round]));
          }
        }
        const lost = geometry.stitches.find(({ pieces }) => pieces.some((piece) => !isSomewhere(piece)));
        expect(lost).toBeUndefined();
      }),
      { endOnFailure: true, numRuns: 320, seed: SEED },
    );
    expect(drawn).toBeGreaterThan(200);
  }, 300_000);

  it('lies on the container: nothing inside it, and fabric no further off than it is thick or loose', () => {
    for (const [name, plan] of PLANS) {
      const meridian = meridianOf(plan.container);
      const { stitches, yarnDiameterMm } = carrierGeometry(plan);
      for (const { part, pieces, stitch } of stitches) {
        if (part === 'strap' || part === 'base') continue;
        for (const [x, y, z] of pieces.flatMap((piece) => centreLines(piece, 4).flat())) {
          const off = Math.hypot(x, y) - meridianAtHeight(meridian, z).rMm;
          expect(off, `${name}, ${stitch} of the ${part}`).toBeGreaterThan(-0.2 * yarnDiameterMm);
          expect(off, `${name}, ${stitch} of the ${part}`).toBeLessThan(3 * yarnDiameterMm + 0.13 * Math.hypot(x, y));
        }
      }
    }
  });

  it('reaches as high as the plan says, with the cells and band stitches evenly round', () => {
    for (const [name, plan] of PLANS) {
      const { stitches } = carrierGeometry(plan);
      const fabric = stitches.filter(({ part }) => part !== 'strap');
      const highest = Math.max(...fabric.flatMap(({ pieces }) => pieces.map(({ origin }) => origin[2])));
      if (plan.coverHeightMm) expect(Math.abs(highest - plan.coverHeightMm.value), name).toBeLessThan(6);
      const last =
        plan.parts
          .filter(({ name }) => name !== 'strap')
          .at(-1)
          ?.rounds.at(-1)?.number ?? 0;
      const tops = inRound({ stitches }, last).filter(({ stitch }) => !['sl st', 'ch'].includes(stitch));
      // a turning chain that counts as a stitch stands in one gap
      const gaps = gapsRound(tops)
        .sort((a, b) => a - b)
        .slice(0, plan.carrier === 'mat' ? -1 : undefined);
      expect(Math.max(...gaps) / Math.min(...gaps), name).toBeLessThan(1.2);
    }
  });

  it('puts a net’s posts on one another, and a loop’s catch in the middle of the loop below', () => {
    const post = carrierGeometry(planned('net', {}));
    const mesh = post.stitches.filter(({ part, stitch }) => part === 'mesh' && stitch === 'dc');
    const leans = mesh.map(({ pieces: [legs] }) => Math.hypot(legs.up[0], legs.up[1]) / Math.hypot(...legs.up));
    expect(Math.max(...leans)).toBeLessThan(0.2);
    const plan = planned('net', { mesh: { ...defaultChoices().mesh, kind: 'loop' } });
    const loops = carrierGeometry(plan);
    const [first, second] = plan.parts.find(({ name }) => name === 'mesh')?.rounds ?? [];
    const [below, above] = [first, second].map((round) => inRound(loops, round.number));
    const caught = above.filter(({ stitch }) => stitch === 'sc').map(({ pieces }) => pieces[0].origin);
    const chains = below.filter(({ stitch }) => stitch === 'ch').map(({ pieces }) => pieces[0].origin);
    for (const foot of caught) {
      const nearest = Math.min(...chains.map((at) => Math.hypot(...[0, 1, 2].map((k) => at[k] - foot[k]))));
      expect(nearest).toBeLessThan(plan.gauge.stitchWidthMm.value);
    }
  });

  it.each([
    ['tabs', 'single', 1],
    ['tabs', 'double', 2],
    ['under-base', 'single', 1],
    ['under-base', 'double', 2],
  ] as const)(
    'hangs the strap on %s, %s, from stitch 1 and the one opposite, as long as the plan makes it',
    (fastening, cord, pieces) => {
      const own = { ...defaultChoices().strap, style: 'shoulder', fastening, cord } as const;
      const plan = planned('net', { strap: own });
      const cords = carrierGeometry(plan).stitches.filter(({ stitch }) => stitch === 'cord');
      const lengthMm = cords.reduce((sum, { pieces: [piece] }) => sum + Math.hypot(...piece.along), 0) / pieces;
      // the drawn strap is stretched by its load, its ends overlap, and under the base it goes round the fabric
      expect(lengthMm / (plan.strap?.cordLengthMm ?? 0)).toBeCloseTo(1, 0.9);
      // where the cord leaves the carrier it stands at the right or the left, a double one a cord's width beside it
      const coverMm = plan.coverHeightMm?.value ?? 0;
      const leaving = cords.flatMap(({ pieces: [{ origin }] }) => (Math.abs(origin[2] - coverMm) < 15 ? [origin] : []));
      expect(leaving.length).toBeGreaterThan(4 * pieces);
      for (const [x, y] of leaving) {
        expect(Math.abs(y)).toBeLessThan(plan.gauge.stitchWidthMm.value);
        expect(Math.abs(x)).toBeGreaterThan(plan.container.maxDiameterMm.value / 2);
      }
    },
  );
});

it('draws a flat strap as wide as its rows, column beside column', () => {
  const own = { ...defaultChoices().strap, style: 'shoulder', fastening: 'tabs', cord: 'flat' } as const;
  const plan = planned('net', { strap: own });
  const strip = carrierGeometry(plan).stitches.filter(
    ({ part, pieces: [piece] }) => part === 'strap' && piece.shape === 'cord',
  );
  const { across = 0, stitches = 0 } = plan.strap ?? {};
  expect(across).toBeGreaterThanOrEqual(4);
  // Halfway along, at the top of the arch, its columns lie side by side across it.
  const middle = strip
    .filter((_, index) => index % stitches === Math.floor(stitches / 2))
    .map(({ pieces }) => pieces[0].origin);
  expect(middle).toHaveLength(across);
  const [first, second, last] = [middle[0], middle[1], middle[across - 1]];
  const apart = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
  expect(apart(first, last) / apart(first, second)).toBeCloseTo(across - 1, 3);
  expect(apart(first, second)).toBeGreaterThan(0.5 * plan.gauge.stitchWidthMm.value);
});

describe('the hanging line', () => {
  it.each([
    [2, 2 * Math.sinh(1), Math.cosh(1) - 1],
    [4, 4 * Math.sinh(1), 2 * (Math.cosh(1) - 1)],
    [2, 2 * Math.sinh(5) * 0.2, 0.2 * (Math.cosh(5) - 1)],
  ])('span %f and length %f drop by %f: y = a cosh(x/a), closed form of 1691', (spanMm, lengthMm, dropMm) => {
    const line = catenary(spanMm, lengthMm, 4001);
    expect(Math.max(...line.map((point) => point.dropMm))).toBeCloseTo(dropMm, 9);
    expect(line[0].xMm).toBeCloseTo(-spanMm / 2, 9);
    const steps = line.slice(1).map((point, k) => Math.hypot(point.xMm - line[k].xMm, point.dropMm - line[k].dropMm));
    expect(steps.reduce((a, b) => a + b)).toBeCloseTo(lengthMm, 4);
  });

  it('is straight when it is as short as its span', () => {
    expect(catenary(10, 9, 3).map(({ xMm, dropMm }) => [xMm, dropMm])).toEqual([
      [-5, 0],
      [0, 0],
      [5, 0],
    ]);
  });
});

describe('yarn', () => {
  it('is as thick for its stitch as wraps per inch and stitches on 4 in say (Craft Yarn Council, 2018)', () => {
    const ratios = YARN_CATEGORIES.slice(1, 7).map((category) => {
      const [few, many] = category.wrapsPerInch;
      return 25.4 / ((few + many) / 2) / categoryStitchWidthMm(category);
    });
    for (const ratio of ratios) expect(Math.abs(ratio / YARN_OVER_STITCH - 1)).toBeLessThan(0.15);
    expect(ratios.reduce((a, b) => a + b) / ratios.length).toBeCloseTo(YARN_OVER_STITCH, 1.7);
  });

  it('has a shape for every stitch, of runs long enough to bend', () => {
    for (const name of YARN_SHAPE_NAMES) {
      expect(YARN_SHAPES[name].length).toBeGreaterThan(0);
      expect(YARN_SHAPES[name].every((run) => run.length >= 4)).toBe(true);
    }
  });
});

const PLANS: readonly (readonly [string, Plan])[] = [
  ['net', planned('net', {})],
  ['loop net', planned('net', { mesh: { ...defaultChoices().mesh, kind: 'loop' } })],
  ['sleeve', planned('sleeve', {})],
  ['mat', planned('mat', {})],
];

function planned(carrier: Choices['carrier'], own: Partial<Choices>): Plan {
  const container = containerFromTape({ diameterMm: 72, heightMm: 170 });
  const result = planCarrier(container, defaultGauge('dc'), { ...defaultChoices(carrier), ...own });
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

function inRound({ stitches }: Pick<CarrierGeometry, 'stitches'>, number: number) {
  type Counted = DrawnStitch & { readonly stitch: Exclude<DrawnStitch['stitch'], 'ring'> };
  return stitches.filter((each): each is Counted => each.round === number && each.stitch !== 'ring');
}

function stitchesOf(plan: Plan): number {
  const tally = tallyRounds(plan.parts.flatMap((part) => part.rounds));
  return Object.values(tally).reduce((a, b) => a + b);
}

function isSomewhere(piece: DrawnStitch['pieces'][number]): boolean {
  return [piece.origin, piece.along, piece.up, piece.out].flat().every(Number.isFinite);
}

function gapsRound(stitches: readonly DrawnStitch[]): number[] {
  const angles = stitches
    .map(({ pieces }) => pieces[pieces.length - 1].origin)
    .map(([x, y]) => Math.atan2(y, x))
    .sort((a, b) => a - b);
  return angles.map((angle, k) => (k === 0 ? angle - angles[angles.length - 1] + 2 * Math.PI : angle - angles[k - 1]));
}
