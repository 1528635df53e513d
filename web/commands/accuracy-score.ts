import type { Estimate } from '../../vision/estimate.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { ARRANGEMENTS, type Arrangement } from '../../vision/measurement.ts';
import type { MeasureLine } from './measure-line.ts';
import type { Truth } from './truth.ts';

/** Errors of one kind of size over many photos. Shares (coverage95) are 0..1. */
export interface SizeScore {
  readonly n: number;
  readonly medianAbsPct: number | null;
  readonly p90AbsPct: number | null;
  readonly worstAbsPct: number | null;
  readonly medianAbsMm: number | null;
  readonly coverage95: number | null;
  /** Half of the 95 % interval, % of the measured size. */
  readonly halfWidthMedianPct: number | null;
  /** Share of the measured sizes that are off by over 3 % and outside their interval, %. */
  readonly silentWrongPct: number | null;
}

export interface GroupScore {
  readonly photos: number;
  readonly measured: number;
  readonly refused: number;
  /** Photos that ought to be refused (no card, not round, cut off), and how many were. Their sizes are not scored. */
  readonly negatives: { readonly photos: number; readonly refused: number };
  readonly widestDiameter: SizeScore;
  readonly baseDiameter: SizeScore;
  readonly height: SizeScore;
  /** Share of the measured photos of which some size is silently wrong, %. */
  readonly anySilentWrongPct: number | null;
  /** Mean corner error as % of the card's long side, over photos whose card was found at all. */
  readonly cardCorners: { readonly found: number; readonly medianPct: number | null; readonly worstPct: number | null };
  /** Share of the measured photos whose arrangement was found right, 0..1. */
  readonly arrangementRight: number | null;
  /** Median overlap (intersection over union) of the outline with the true one. */
  readonly outlineIou: number | null;
  readonly medianMs: number | null;
}

export interface PhotoScore {
  readonly photo: string;
  readonly outcome: MeasureLine['outcome'];
  readonly reason: string | null;
  readonly arrangement: Arrangement | null;
  readonly trueArrangement: Arrangement;
  readonly shouldRefuse: boolean;
  readonly widestDiameter: SizeError | null;
  readonly baseDiameter: SizeError | null;
  readonly height: SizeError | null;
  readonly cardCornersPct: number | null;
  readonly outlineIou: number | null;
  readonly elapsedMs: number;
}

export interface SizeError {
  readonly errorMm: number;
  readonly errorPct: number;
  readonly inside95: boolean;
  readonly halfWidthPct: number;
}

export interface AccuracyReport extends GroupScore {
  readonly byArrangement: Partial<Record<Arrangement, GroupScore>>;
  readonly perPhoto: readonly PhotoScore[];
}

/** Corners farther from the truth than this belong to something else than the card. */
const SAME_CARD_PCT = 5;

export function scoreAll(lines: readonly MeasureLine[], truths: readonly Truth[]): AccuracyReport {
  const perPhoto = lines.map((line, k) => scorePhoto(line, truths[k]));
  const byArrangement: Partial<Record<Arrangement, GroupScore>> = {};
  for (const arrangement of ARRANGEMENTS) {
    const group = perPhoto.filter((photo) => photo.trueArrangement === arrangement);
    if (group.length > 0) byArrangement[arrangement] = scoreGroup(group);
  }
  return { ...scoreGroup(perPhoto), byArrangement, perPhoto };
}

function scorePhoto(line: MeasureLine, truth: Truth): PhotoScore {
  return {
    photo: line.photo,
    outcome: line.outcome,
    reason: line.reason?.code ?? null,
    arrangement: line.arrangement,
    trueArrangement: truth.arrangement,
    shouldRefuse: truth.shouldRefuse,
    widestDiameter: sizeError(line.maxDiameterMm, truth.maxDiameterMm),
    baseDiameter: sizeError(line.baseDiameterMm, truth.baseDiameterMm),
    height: sizeError(line.heightMm, truth.heightMm),
    cardCornersPct:
      line.card.cornersPx && truth.cornersPx ? cornerErrorPct(line.card.cornersPx, truth.cornersPx) : null,
    outlineIou: line.outlinePx.length > 2 && truth.outlinePx ? overlap(line.outlinePx, truth.outlinePx) : null,
    elapsedMs: line.elapsedMs,
  };
}

export function sizeError(measured: Estimate | null, trueMm: number): SizeError | null {
  if (!measured) return null;
  const errorMm = measured.value - trueMm;
  return {
    errorMm,
    errorPct: (100 * errorMm) / trueMm,
    inside95: measured.low95 <= trueMm && trueMm <= measured.high95,
    halfWidthPct: (50 * (measured.high95 - measured.low95)) / measured.value,
  };
}

function scoreGroup(photos: readonly PhotoScore[]): GroupScore {
  const isRefused = (photo: PhotoScore) => photo.outcome === 'refused';
  const negatives = photos.filter((photo) => photo.shouldRefuse);
  const measured = photos.filter((photo) => !photo.shouldRefuse && !isRefused(photo));
  const corners = photos.flatMap((photo) =>
    photo.cardCornersPct !== null && photo.cardCornersPct < SAME_CARD_PCT ? [photo.cardCornersPct] : [],
  );
  const right = measured.filter((photo) => photo.arrangement === photo.trueArrangement).length;
  return {
    photos: photos.length,
    measured: photos.filter((photo) => !isRefused(photo)).length,
    refused: photos.filter(isRefused).length,
    negatives: { photos: negatives.length, refused: negatives.filter(isRefused).length },
    widestDiameter: scoreSizes(measured.map((photo) => photo.widestDiameter)),
    baseDiameter: scoreSizes(measured.map((photo) => photo.baseDiameter)),
    height: scoreSizes(measured.map((photo) => photo.height)),
    anySilentWrongPct: sharePct(measured, (photo) => sizesOf(photo).some(isSilentlyWrong)),
    cardCorners: { found: corners.length, medianPct: quantile(corners, 0.5), worstPct: quantile(corners, 1) },
    arrangementRight: measured.length > 0 ? right / measured.length : null,
    outlineIou: quantile(
      measured.flatMap((photo) => photo.outlineIou ?? []),
      0.5,
    ),
    medianMs: quantile(
      photos.map((photo) => photo.elapsedMs),
      0.5,
    ),
  };
}

export function scoreSizes(errors: readonly (SizeError | null)[]): SizeScore {
  const known = errors.filter((error) => error !== null);
  const pct = known.map((error) => Math.abs(error.errorPct));
  return {
    n: known.length,
    medianAbsPct: quantile(pct, 0.5),
    p90AbsPct: quantile(pct, 0.9),
    worstAbsPct: quantile(pct, 1),
    medianAbsMm: quantile(
      known.map((error) => Math.abs(error.errorMm)),
      0.5,
    ),
    coverage95: known.length > 0 ? known.filter((error) => error.inside95).length / known.length : null,
    halfWidthMedianPct: quantile(
      known.map((error) => error.halfWidthPct),
      0.5,
    ),
    silentWrongPct: sharePct(known, isSilentlyWrong),
  };
}

/** A size that is off by more than this and says otherwise is silently wrong. */
const WRONG_PCT = 3;

export function isSilentlyWrong({ errorPct, inside95 }: SizeError): boolean {
  return !inside95 && Math.abs(errorPct) > WRONG_PCT;
}

function sizesOf({ widestDiameter, baseDiameter, height }: PhotoScore): SizeError[] {
  return [widestDiameter, baseDiameter, height].filter((size) => size !== null);
}

function sharePct<T>(all: readonly T[], is: (one: T) => boolean): number | null {
  return all.length > 0 ? (100 * all.filter(is).length) / all.length : null;
}

/** Quantile by linear interpolation between order statistics; null for an empty list. */
export function quantile(values: readonly number[], share: number): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const position = share * (sorted.length - 1);
  const below = Math.floor(position);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
}

/** Mean distance of the corners, as % of the longest true side; the order may start at any corner. */
export function cornerErrorPct(found: CornersPx, truth: CornersPx): number {
  const sides = truth.map(([x, y], k) => Math.hypot(truth[(k + 1) % 4][0] - x, truth[(k + 1) % 4][1] - y));
  const errors = [0, 1, 2, 3].map(
    (shift) =>
      found.reduce(
        (sum, [x, y], k) => sum + Math.hypot(truth[(k + shift) % 4][0] - x, truth[(k + shift) % 4][1] - y),
        0,
      ) / 4,
  );
  return (100 * Math.min(...errors)) / Math.max(...sides);
}

/** Intersection over union of two polygons, on a grid of about 400 rows. */
export function overlap(a: readonly ImagePoint[], b: readonly ImagePoint[]): number {
  const ys = [...a, ...b].map(([, y]) => y);
  const top = Math.min(...ys);
  const step = (Math.max(...ys) - top) / 400;
  if (!(step > 0)) return 0;
  let inBoth = 0;
  let inEither = 0;
  for (let row = 0; row < 400; row += 1) {
    const y = top + (row + 0.5) * step;
    const spansA = spansAt(a, y);
    const spansB = spansAt(b, y);
    const both = spansA.reduce(
      (sum, [l, r]) => sum + spansB.reduce((s, [ll, rr]) => s + Math.max(0, Math.min(r, rr) - Math.max(l, ll)), 0),
      0,
    );
    inBoth += both;
    inEither += length(spansA) + length(spansB) - both;
  }
  return inEither > 0 ? inBoth / inEither : 0;
}

type Span = readonly [left: number, right: number];

function spansAt(polygon: readonly ImagePoint[], y: number): Span[] {
  const crossings: number[] = [];
  polygon.forEach(([x1, y1], k) => {
    const [x2, y2] = polygon[(k + 1) % polygon.length];
    if (y1 <= y !== y2 <= y) crossings.push(x1 + ((y - y1) / (y2 - y1)) * (x2 - x1));
  });
  crossings.sort((p, q) => p - q);
  return Array.from({ length: crossings.length >> 1 }, (_, k): Span => [crossings[2 * k], crossings[2 * k + 1]]);
}

function length(spans: readonly Span[]): number {
  return spans.reduce((sum, [left, right]) => sum + right - left, 0);
}
