import * as v from 'valibot';
import {
  checkGauge,
  FIBRES,
  type Gauge,
  gaugeFromSwatch,
  gaugeFromYarnCategory,
  type Yarn,
} from '../../sizing/gauge.ts';
import { type Refusal, RefusedInput } from '../../sizing/refusal.ts';
import { FABRIC_STITCHES } from '../../sizing/stitches.ts';
import { YARN_CATEGORIES } from '../../sizing/yarn-standards.ts';

const Typed = v.nullable(v.pipe(v.number(), v.finite()));

/**
 * What the maker typed about hand and yarn; null where nothing is typed. This is what is kept: the gauge is worked out
 * from it. Lengths in mm.
 */
export const GaugeEntrySchema = v.object({
  name: v.string(),
  source: v.picklist(['swatch', 'guess']),
  stitch: v.picklist(FABRIC_STITCHES),
  /** Weight category on the yarn band, 0 to 7. */
  category: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(YARN_CATEGORIES.length - 1)),
  hookMm: Typed,
  strands: v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(12)),
  /** One layer of fabric; left out by those kept before it was asked for. */
  thicknessMm: v.optional(Typed),
  swatch: v.object({
    stitches: Typed,
    widthMm: Typed,
    rounds: Typed,
    heightMm: Typed,
    /** Standard uncertainty of both lengths from a photo; a ruler's when left out. */
    sdMm: v.optional(v.pipe(v.number(), v.finite())),
  }),
  yarn: v.object({ metresPerBall: Typed, ballGrams: Typed, fibre: v.picklist(FIBRES), pricePerBall: Typed }),
  stitchesPerMinute: Typed,
  samples: v.object({
    twentyChainsMm: Typed,
    yarnInTenStitchesMm: Typed,
    yarnInTenCmOfCordMm: Typed,
    stitchesInTenCmOfCord: Typed,
    loopBarMm: Typed,
    loopChains: Typed,
  }),
});
export type GaugeEntry = v.InferOutput<typeof GaugeEntrySchema>;

/** Light cotton with a 4 mm hook in double crochet, as a guess, until the maker says otherwise. */
export const FIRST_GAUGE_ENTRY: GaugeEntry = {
  name: '',
  source: 'guess',
  stitch: 'dc',
  category: 3,
  hookMm: 4,
  strands: 1,
  swatch: { stitches: null, widthMm: 100, rounds: null, heightMm: 100 },
  yarn: { metresPerBall: null, ballGrams: 50, fibre: 'cotton', pricePerBall: null },
  stitchesPerMinute: null,
  samples: {
    twentyChainsMm: null,
    yarnInTenStitchesMm: null,
    yarnInTenCmOfCordMm: null,
    stitchesInTenCmOfCord: null,
    loopBarMm: null,
    loopChains: null,
  },
};

/** What was kept, as an entry; the first gauge when nothing, or nothing readable, was kept. */
export function gaugeEntryFrom(kept: unknown): GaugeEntry {
  return v.is(GaugeEntrySchema, kept) ? kept : FIRST_GAUGE_ENTRY;
}

export type GaugeResult =
  | { readonly outcome: 'gauge'; readonly gauge: Gauge }
  | { readonly outcome: 'incomplete' }
  | { readonly outcome: 'refused'; readonly reason: Refusal };

/** The gauge an entry describes, or what stands in the way. */
export function gaugeOf(entry: GaugeEntry): GaugeResult {
  try {
    const plain = entry.source === 'guess' ? guessOf(entry) : swatchOf(entry);
    if (!plain) return { outcome: 'incomplete' };
    const gauge = withSamples(plain, entry);
    checkGauge(gauge);
    return { outcome: 'gauge', gauge };
  } catch (thrown) {
    if (thrown instanceof RefusedInput) return { outcome: 'refused', reason: thrown.refusal };
    throw thrown;
  }
}

/** A gauge to plan with in any case: the entry's, or the guess from its yarn while the swatch is incomplete. */
export function usableGauge(entry: GaugeEntry): Gauge {
  for (const each of [entry, { ...entry, source: 'guess' } as const, FIRST_GAUGE_ENTRY]) {
    const result = gaugeOf(each);
    if (result.outcome === 'gauge') return result.gauge;
  }
  return gaugeFromYarnCategory(3);
}

function guessOf(entry: GaugeEntry): Gauge {
  return gaugeFromYarnCategory(entry.category, {
    stitch: entry.stitch,
    strands: entry.strands,
    ...(entry.hookMm === null ? {} : { hookMm: entry.hookMm }),
    yarn: yarnOf(entry),
  });
}

function swatchOf(entry: GaugeEntry): Gauge | null {
  const { stitches, widthMm, rounds, heightMm, sdMm } = entry.swatch;
  if (stitches === null || widthMm === null || rounds === null || heightMm === null) return null;
  const band = guessOf(entry).yarn;
  return gaugeFromSwatch({
    stitch: entry.stitch,
    stitches,
    widthMm,
    rounds,
    heightMm,
    sdMm,
    strands: entry.strands,
    hookMm: entry.hookMm,
    yarn: { ...band, ...yarnOf(entry) },
  });
}

function yarnOf({ yarn }: GaugeEntry): Partial<Yarn> {
  const { metresPerBall, ballGrams, fibre, pricePerBall } = yarn;
  return {
    fibre,
    pricePerBall,
    ...(ballGrams === null ? {} : { ballGrams }),
    ...(metresPerBall === null || ballGrams === null ? {} : { metresPer100g: (100 * metresPerBall) / ballGrams }),
  };
}

/** A ruler on a strand, a chain or a loop: common practice, no source. */
const SAMPLE_SD_MM = 1;
/** Yarn pulled out of a sample is springy: read to about 3 % (common practice, no source). */
const STRAND_RELATIVE_SD = 0.03;

function withSamples(gauge: Gauge, { samples, stitchesPerMinute }: GaugeEntry): Gauge {
  const { twentyChainsMm, yarnInTenStitchesMm, yarnInTenCmOfCordMm, stitchesInTenCmOfCord } = samples;
  const { loopBarMm, loopChains } = samples;
  const strand = (valueMm: number) => ({ value: valueMm, sd: valueMm * STRAND_RELATIVE_SD });
  return {
    ...gauge,
    stitchesPerMinute,
    chainLengthMm: twentyChainsMm === null ? null : { value: twentyChainsMm / 20, sd: SAMPLE_SD_MM / 20 },
    yarnPerStitchMm: yarnInTenStitchesMm === null ? null : strand(yarnInTenStitchesMm / 10),
    cordSample:
      yarnInTenCmOfCordMm === null || stitchesInTenCmOfCord === null
        ? null
        : {
            yarnPerLength: strand(yarnInTenCmOfCordMm / 100),
            stitchLengthMm: strand(100 / stitchesInTenCmOfCord),
          },
    meshSwatch:
      loopBarMm === null || loopChains === null
        ? null
        : { chains: loopChains, barMm: { value: loopBarMm, sd: SAMPLE_SD_MM } },
  };
}
