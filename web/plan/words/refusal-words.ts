import type { Allowed, Field, FieldOrSd, Inconsistency, Refusal } from '../../../sizing/refusal.ts';
import type { Voice } from './voice.ts';

type RefusalOf<C extends Refusal['code']> = Extract<Refusal, { readonly code: C }>;
type InconsistencyOf<W extends Inconsistency['why']> = Extract<Inconsistency, { readonly why: W }>;

/** A sentence for every way in which a plan can be refused, and a maker's name for every number. */
export interface RefusalWords {
  readonly fields: { readonly [F in Field]: string };
  readonly uncertaintyOf: (field: string) => string;
  readonly outOfRange: (field: string, value: string, allowed: string) => string;
  readonly range: (from: string, to: string) => string;
  readonly whole: (from: string, to: string) => string;
  readonly oneOf: (options: string) => string;
  /** A length that is in range when it is read in cm. */
  readonly didYouMean: (mm: string, cm: string) => string;
  readonly inconsistent: { readonly [W in Inconsistency['why']]: (how: InconsistencyOf<W>, voice: Voice) => string };
  readonly tooCoarse: {
    readonly base: (widthMm: string, heightMm: string, targetMm: string) => string;
    readonly net: (stitches: number) => string;
  };
  readonly stitchRatio: string;
  readonly perTen: (fewest: string, most: string) => string;
  readonly cellsTooSmall: (fits: number) => string;
  readonly unlikely: (measured: string, expected: string) => string;
  readonly perhaps: { readonly [P in RefusalOf<'unlikely-reading'>['perhaps']]: string };
}

/** Why there is no plan, in a maker's words, with the way out. */
export function refusalText(refusal: Refusal, words: RefusalWords, voice: Voice): string {
  switch (refusal.code) {
    case 'out-of-range':
      return outOfRangeText(refusal, words, voice);
    case 'inconsistent': {
      const say = words.inconsistent[refusal.why] as (how: Inconsistency, voice: Voice) => string;
      return say(refusal, voice);
    }
    case 'too-coarse':
      return refusal.why === 'net'
        ? words.tooCoarse.net(refusal.stitches)
        : words.tooCoarse.base(
            voice.number(refusal.value, 1),
            voice.number(refusal.roundHeightMm, 1),
            voice.length(refusal.targetMm),
          );
    case 'cells-too-small':
      return words.cellsTooSmall(refusal.fits);
    case 'unlikely-reading':
      return `${words.unlikely(voice.length(refusal.value), voice.length(refusal.expectedMm))} ${words.perhaps[refusal.perhaps]}`;
  }
}

/** What is allowed, without the rest of the sentence. */
export function allowedText(allowed: Allowed, words: RefusalWords, voice: Voice): string {
  if (allowed.kind === 'one-of') return words.oneOf(allowed.options.join(', '));
  if (allowed.kind === 'whole') return words.whole(voice.number(allowed.min), voice.number(allowed.max));
  const unit = allowed.unit === '' ? '' : ` ${allowed.unit}`;
  return words.range(short(allowed.min, voice), `${short(allowed.max, voice)}${unit}`);
}

function outOfRangeText({ field, value, allowed }: RefusalOf<'out-of-range'>, words: RefusalWords, voice: Voice) {
  if (field === 'gauge.roundHeightMm / gauge.stitchWidthMm') return words.stitchRatio;
  // Makers count stitches; nobody measures one.
  if (field === 'gauge.stitchWidthMm' && allowed.kind === 'range') {
    return words.perTen(short(100 / allowed.max, voice), short(100 / allowed.min, voice));
  }
  const unit = allowed.kind === 'range' && allowed.unit !== '' ? ` ${allowed.unit}` : '';
  const said = typeof value === 'number' ? `${short(value, voice)}${unit}` : `"${value}"`;
  const text = words.outOfRange(fieldText(field, words), said, allowedText(allowed, words, voice));
  const tenTimes = typeof value === 'number' && allowed.kind === 'range' && allowed.unit === 'mm' ? value * 10 : 0;
  const inCm = allowed.kind === 'range' && tenTimes >= allowed.min && tenTimes <= allowed.max;
  return inCm
    ? `${text} ${words.didYouMean(`${short(tenTimes, voice)} mm`, `${short(value as number, voice)} cm`)}`
    : text;
}

function fieldText(field: FieldOrSd, words: RefusalWords): string {
  if (field.endsWith('.sd')) return words.uncertaintyOf(words.fields[field.slice(0, -3) as Field]);
  return words.fields[field as Field];
}

/** Two decimals at most, none where there are none. */
function short(value: number, voice: Voice): string {
  if (!Number.isFinite(value)) return String(value);
  const rounded = Math.round(value * 100) / 100;
  return voice.number(rounded, Number.isInteger(rounded) ? 0 : Number.isInteger(rounded * 10) ? 1 : 2);
}
