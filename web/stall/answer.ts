import type { Container } from '../../sizing/container.ts';
import { TAPE_AROUND_SD_MM } from '../sizes/tape-check.ts';
import type { FinishedCarrier } from './finished-carrier.ts';
import { type StockFit, stockFit } from './which-fits.ts';

/**
 * What a finished carrier is worth for the container in front of us, in the order it is offered:
 * `fits` (and how it sits), `try-on` when its own size leaves it open, `measure-once` when the container's does,
 * `nearly` with what would have to give, `no`.
 */
export type Verdict = 'fits' | 'try-on' | 'measure-once' | 'nearly' | 'no';
export type Sits = 'snug' | 'easy' | 'a-little-loose';

export interface StallAnswer {
  readonly verdict: Verdict;
  readonly sits: Sits;
  readonly fit: StockFit;
  /** Girths at the widest place that it fits for sure, in mm; null when there are none, or no hope that it fits. */
  readonly fitsAroundMm: readonly [number, number] | null;
}

/** Offered as fitting from nine times out of ten on; below one in five it is not worth a trial. */
export const SURE = 0.9;
const WORTH_A_TRIAL = 0.2;

/** A container this much beyond what a carrier holds is only just too large or too small for it. */
const NEARLY_SHARE = 0.06;

/** The outer fifths of what it holds are felt: common practice, no source. */
const FELT_SHARE = 0.2;

/** Girths are told to the half centimetre; of a bottle's range a twenty-fifth is finer than that. */
const GIRTH_STEPS = 25;

export function stallAnswer(carrier: FinishedCarrier, container: Container): StallAnswer {
  const fit = stockFit(carrier, container);
  const fitsAroundMm = fit.probability < WORTH_A_TRIAL ? null : surelyFitsAround(carrier, container);
  return {
    verdict: verdictOf(carrier, container, fit, fitsAroundMm),
    sits: sitsOn(carrier, container),
    fit,
    fitsAroundMm,
  };
}

function verdictOf(
  carrier: FinishedCarrier,
  container: Container,
  fit: StockFit,
  fitsAroundMm: readonly [number, number] | null,
): Verdict {
  if (fit.probability >= SURE) return 'fits';
  if (fit.risk === 'tips' || fit.risk === 'covers') return Math.abs(fit.wider) < NEARLY_SHARE ? 'nearly' : 'no';
  if (fit.probability >= WORTH_A_TRIAL) return tapeWouldTell(container, fitsAroundMm) ? 'measure-once' : 'try-on';
  return beyondHold(carrier, container) < NEARLY_SHARE ? 'nearly' : 'no';
}

/** A narrower range of sure girths than a centimetre is no answer that a tape could give. */
const WORTH_TELLING_MM = 10;

/** True when the container may well be of a girth that fits for sure, and is known worse than a tape would tell. */
function tapeWouldTell({ maxDiameterMm: { value, sd } }: Container, around: readonly [number, number] | null): boolean {
  if (around === null || around[1] - around[0] < WORTH_TELLING_MM) return false;
  if (Math.PI * sd <= 2 * TAPE_AROUND_SD_MM) return false;
  return Math.PI * (value - 2 * sd) < around[1] && Math.PI * (value + 2 * sd) > around[0];
}

/** The girths at which the same container, measured with a tape, fits for sure. */
function surelyFitsAround(carrier: FinishedCarrier, container: Container): readonly [number, number] | null {
  const [low, high] = carrier.holds.map((factor) => factor * carrier.madeFor.widestMm);
  const fitting = Array.from(
    { length: GIRTH_STEPS + 1 },
    (_, step) => low + ((high - low) * step) / GIRTH_STEPS,
  ).filter((acrossMm) => stockFit(carrier, taped(container, acrossMm)).probability >= SURE);
  return fitting.length === 0 ? null : [Math.PI * fitting[0], Math.PI * fitting[fitting.length - 1]];
}

/** The container with its girth read off a tape; its shape stays. */
function taped(container: Container, acrossMm: number): Container {
  const factor = acrossMm / container.maxDiameterMm.value;
  const sd = TAPE_AROUND_SD_MM / Math.PI;
  return {
    ...container,
    maxDiameterMm: { value: acrossMm, sd },
    baseDiameterMm: { value: container.baseDiameterMm.value * factor, sd },
  };
}

/** Where between the smallest and the largest it holds the container lies. */
function sitsOn(carrier: FinishedCarrier, container: Container): Sits {
  const [low, high] = carrier.holds.map(Math.log);
  const at = (Math.log(container.maxDiameterMm.value / carrier.madeFor.widestMm) - low) / (high - low);
  if (at > 1 - FELT_SHARE) return 'snug';
  return at < FELT_SHARE ? 'a-little-loose' : 'easy';
}

/** How far the container lies outside of what the carrier holds, as a share; 0 within. */
function beyondHold(carrier: FinishedCarrier, container: Container): number {
  const factor = container.maxDiameterMm.value / carrier.madeFor.widestMm;
  return Math.max(0, factor / carrier.holds[1] - 1, carrier.holds[0] / factor - 1);
}

const ORDER: readonly Verdict[] = ['fits', 'measure-once', 'try-on', 'nearly', 'no'];

export interface Answered<T> {
  readonly item: T;
  readonly answer: StallAnswer;
}

/** All pieces with their answers: what fits first, the likeliest of each first. */
export function stallAnswers<T extends { readonly carrier: FinishedCarrier }>(
  items: readonly T[],
  container: Container,
): Answered<T>[] {
  return items
    .map((item) => ({ item, answer: stallAnswer(item.carrier, container) }))
    .sort(
      (a, b) =>
        ORDER.indexOf(a.answer.verdict) - ORDER.indexOf(b.answer.verdict) ||
        b.answer.fit.probability - a.answer.fit.probability,
    );
}
