import fc from 'fast-check';
import {
  type Choices,
  defaultChoices,
  MESH_KINDS,
  STRAP_CORDS,
  STRAP_FASTENINGS,
  STRAP_STYLES,
  TOP_WAYS,
} from '../../sizing/choices.ts';
import { type Container, MATERIALS } from '../../sizing/container.ts';
import { defaultGauge, FIBRES, type Gauge } from '../../sizing/gauge.ts';
import { FABRIC_STITCHES, type FabricStitch, STITCH_FACTS } from '../../sizing/stitches.ts';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

/** Shares of the radius at five heights: straight, tapered either way, waisted, bellied, shouldered and necked. */
const shapes = fc.oneof(
  fc.constant([1, 1, 1, 1, 1]),
  real(0.5, 1.6).map((top) => [1, 1 + (top - 1) / 4, 1 + (top - 1) / 2, 1 + (3 * (top - 1)) / 4, top]),
  real(0.6, 1).map((waist) => [1, (1 + waist) / 2, waist, (1 + waist) / 2, 1]),
  real(1, 1.4).map((belly) => [1, (1 + belly) / 2, belly, (1 + belly) / 2, 0.9]),
  real(0.2, 0.8).map((neck) => [1, 1, 1, (1 + neck) / 2, neck]),
);

export const containers: fc.Arbitrary<Container> = fc
  .record({
    diameterMm: real(18, 300),
    slimness: real(0.4, 5),
    shape: shapes,
    points: fc.integer({ min: 5, max: 120 }),
    relativeSd: real(0, 0.03),
    edgeShare: fc.option(real(0, 0.25), { nil: null }),
    shoulderShare: fc.option(real(0.3, 0.95), { nil: null }),
    material: fc.option(fc.constantFrom(...MATERIALS), { nil: null }),
  })
  .map(({ diameterMm, slimness, shape, points, relativeSd, edgeShare, shoulderShare, material }) => {
    const heightMm = Math.min(690, Math.max(12, diameterMm * slimness));
    const profile = Array.from({ length: points }, (_, index) => {
      const share = index / (points - 1);
      const radiusMm = (diameterMm / 2) * shareAt(shape, share);
      return { zMm: share * heightMm, radiusMm, sdMm: radiusMm * relativeSd };
    });
    const maxMm = 2 * Math.max(...profile.map((point) => point.radiusMm));
    return {
      heightMm: { value: heightMm, sd: heightMm * relativeSd },
      maxDiameterMm: { value: Math.min(400, maxMm), sd: maxMm * relativeSd },
      baseDiameterMm: { value: diameterMm, sd: diameterMm * relativeSd },
      profile: profile.map((point) => ({ ...point, radiusMm: Math.min(200, point.radiusMm) })),
      baseEdgeRadiusMm: edgeShare === null ? null : { value: edgeShare * diameterMm, sd: 1 },
      shoulderZMm: shoulderShare === null ? null : { value: shoulderShare * heightMm, sd: 2 },
      material,
    };
  });

export const gauges: fc.Arbitrary<Gauge> = fc
  .record({
    stitch: fc.constantFrom<FabricStitch>(...FABRIC_STITCHES),
    widthMm: real(1.5, 16),
    ratio: real(0.7, 1.4),
    relativeSd: real(0, 0.2),
    correlation: real(-0.3, 0.95),
    strands: fc.integer({ min: 1, max: 4 }),
    metresPer100g: real(20, 800),
    fibre: fc.constantFrom(...FIBRES),
    chainShare: fc.option(real(0.6, 1.5), { nil: null }),
    stitchesPerMinute: fc.option(real(8, 60), { nil: null }),
  })
  .map(({ stitch, widthMm, ratio, relativeSd, correlation, strands, metresPer100g, fibre, ...own }) => {
    const heightMm = widthMm * STITCH_FACTS[stitch].heightOverWidth * ratio;
    return {
      ...defaultGauge(stitch),
      origin: 'measured' as const,
      stitchWidthMm: { value: widthMm, sd: widthMm * relativeSd },
      roundHeightMm: { value: heightMm, sd: heightMm * relativeSd },
      correlation,
      strands,
      yarn: { metresPer100g, ballGrams: 50, fibre, pricePerBall: 3.5 },
      chainLengthMm: own.chainShare === null ? null : { value: widthMm * own.chainShare, sd: widthMm * 0.02 },
      stitchesPerMinute: own.stitchesPerMinute,
    };
  });

export const choices: fc.Arbitrary<Choices> = fc
  .record({
    carrier: fc.constantFrom('net', 'net', 'sleeve', 'mat'),
    baseCandidate: fc.integer({ min: 0, max: 2 }),
    easeRatio: real(-0.1, 0.08),
    plainWallRounds: fc.integer({ min: 0, max: 5 }),
    meshKind: fc.constantFrom(...MESH_KINDS),
    chains: fc.option(fc.integer({ min: 1, max: 8 }), { nil: null }),
    skip: fc.integer({ min: 1, max: 4 }),
    postStitch: fc.constantFrom<FabricStitch>(...FABRIC_STITCHES),
    mostHoleMm: fc.option(real(6, 40), { nil: null, freq: 3 }),
    bandRounds: fc.integer({ min: 1, max: 4 }),
    perSpace: fc.option(fc.integer({ min: 1, max: 5 }), { nil: null }),
    top: fc.constantFrom(...TOP_WAYS),
    colours: fc.constantFrom(1, 1, 2, 3, 4),
    stripeRounds: fc.integer({ min: 1, max: 6 }),
    strap: fc.constantFrom(...STRAP_STYLES),
    fastening: fc.constantFrom(...STRAP_FASTENINGS),
    cord: fc.constantFrom(...STRAP_CORDS),
    hourlyRate: fc.option(real(0, 60), { nil: null }),
  })
  .map((drawn) => ({
    ...defaultChoices(drawn.carrier as Choices['carrier']),
    baseCandidate: drawn.baseCandidate,
    easeRatio: drawn.easeRatio,
    plainWallRounds: drawn.plainWallRounds,
    mesh: {
      kind: drawn.meshKind,
      chains: drawn.chains,
      skip: drawn.skip,
      postStitch: drawn.postStitch,
      mostHoleMm: drawn.mostHoleMm,
    },
    band: { rounds: drawn.bandRounds, stitchesPerSpace: drawn.perSpace },
    top: drawn.top,
    stripes: { colours: drawn.colours, rounds: drawn.stripeRounds },
    strap: {
      style: drawn.strap,
      fastening: drawn.fastening,
      cord: drawn.cord,
      lengthMm: null,
      wearerAroundMm: null,
    },
    hourlyRate: drawn.hourlyRate,
  }));

function shareAt(shape: readonly number[], share: number): number {
  const at = share * (shape.length - 1);
  const low = Math.min(shape.length - 2, Math.floor(at));
  return shape[low] + (at - low) * (shape[low + 1] - shape[low]);
}
