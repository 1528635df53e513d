import { outlineErrorSd } from '../calibration/fit-outline-error.ts';
import { OUTLINE_ERROR } from '../calibration/numbers.ts';
import { forEachSize, type MeasuredSize, wallAt } from '../container/container-sizes.ts';
import { type FindingSd, largest, UNCERTAIN_RELATIVE_SD } from '../container/finding-error.ts';
import { sizeOf } from '../container/size-estimate.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { longSideOf } from '../geometry/polygon.ts';
import type { ProblemCode } from '../measurement.ts';
import type { CoarseSighting } from '../network/coarse-sighting.ts';
import type { Photo } from '../picture/photo.ts';
import { maskShapes } from './mask-shape.ts';
import type { ModelRefinement } from './refine-with-model.ts';
import type { SnappedSample } from './snap-to-border.ts';

/** What speaks for an outline, apart from how well sizes follow from it. */
export interface OutlineEvidence {
  /** Share of the pieces not hidden by card or frame where a clear border was found at the fitted outline. */
  readonly supported: number;
  /** By how much each size differs from that of the rough outline it began with, natural logarithm. */
  readonly gap: Readonly<Record<MeasuredSize, number>>;
  /** Root mean square of the located edges' distance from the fitted solid of revolution, as a share of its long side. */
  readonly roundnessError: number;
  /** Diameter of the base against the widest of the lowest third, of a container that stands on it; 1 of one that lies. */
  readonly footing: number;
  /** As `supported`, of the pieces at the base. */
  readonly footSeen: number;
  /** Share of the outline beyond the photo's border. */
  readonly beyondFrame: number;
  /** Size of the next largest thing that might be a container, against this one; 0 once one is tapped. */
  readonly rivalSize: number;
}

export interface OutlineVerdict {
  /** Because the outline may be another thing's for a stretch. */
  readonly findingSd: FindingSd;
  /** Why nothing should be measured from it; null when it may be. */
  readonly refusal: ProblemCode | null;
  readonly warnings: readonly ProblemCode[];
}

export function outlineEvidence(
  refined: ModelRefinement,
  { widthPx, heightPx }: Pick<Photo, 'widthPx' | 'heightPx'>,
  coarse: CoarseSighting | undefined,
  tapped: boolean,
): OutlineEvidence {
  const { samples, snapped } = refined;
  const longSidePx = longSideOf(samples.map(({ x, y }): ImagePoint => [x, y]));
  const visible = snapped.filter((piece) => piece.visible);
  const isClear = ({ clarity, offsetPx }: SnappedSample) =>
    clarity >= CLEAR && Math.abs(offsetPx) < NEAR_SHARE * longSidePx;
  const clear = visible.filter(isClear);
  const footMm = FOOT_SHARE * refined.fit.state.heightMm;
  const foot = snapped.filter((piece, i) => piece.visible && samples[i].zMm < footMm);
  const beyond = samples.filter(({ x, y }) => x < 2 || y < 2 || x > widthPx - 3 || y > heightPx - 3);
  return {
    supported: clear.length / Math.max(visible.length, 1),
    gap: gapsOf(refined),
    roundnessError: refined.residualPx / longSidePx,
    footing: footing(refined),
    footSeen: foot.filter(isClear).length / Math.max(foot.length, 1),
    beyondFrame: beyond.length / Math.max(samples.length, 1),
    rivalSize: coarse && !tapped ? rivalSize(coarse) : 0,
  };
}

function gapsOf({ fit, roughFit }: ModelRefinement): OutlineEvidence['gap'] {
  return forEachSize((size) => Math.abs(Math.log(sizeOf(fit, size) / sizeOf(roughFit, size))));
}

const CLEAR = 0.25;
const NEAR_SHARE = 0.006;
/** Of the height, from below. */
const FOOT_SHARE = 0.02;

/** Reads the evidence. The limits were set on generated pictures and photos of the development set. */
export function judgeOutline(evidence: OutlineEvidence, coarse: CoarseSighting | undefined): OutlineVerdict {
  const warnings: ProblemCode[] = [];
  const { supported, gap } = evidence;
  const findingSd = forEachSize((size) => outlineErrorSd({ supported, gap: gap[size] }, OUTLINE_ERROR));
  if (largest(findingSd) > UNCERTAIN_RELATIVE_SD) warnings.push('outline-uncertain');
  if (evidence.roundnessError > 0.006 || (coarse && coarse.round < 0.5)) warnings.push('maybe-not-round');
  return { findingSd, refusal: refusalOf(evidence, coarse), warnings };
}

function refusalOf(evidence: OutlineEvidence, coarse: CoarseSighting | undefined): ProblemCode | null {
  if (coarse && coarse.containerPresent < 0.3) return 'no-container';
  if (evidence.beyondFrame > 0.03 || (coarse && coarse.cutByFrame > 0.8)) return 'container-cut-off';
  if (evidence.rivalSize > 0.35) return 'two-containers';
  if (coarse && coarse.round < 0.15) return 'not-round';
  if (evidence.roundnessError > 0.02) return 'not-round';
  const leastFooting = evidence.footSeen < MOSTLY ? LEAST_UNSEEN_FOOTING : LEAST_FOOTING;
  return evidence.footing < leastFooting ? 'fit-failed' : null;
}

/** Nothing narrows to less within the lowest third (common practice, no source): the outline follows something else there. */
export const LEAST_FOOTING = 0.65;
/** A foot narrower than the wall above has to be seen to be believed. */
const LEAST_UNSEEN_FOOTING = 0.85;
const MOSTLY = 0.5;

/** Diameter of the foot against the widest of the lowest third; 1 of a container that lies. */
export function footing({ fit: { model, state, solution, arrangement } }: ModelRefinement): number {
  if (arrangement === 'lying') return 1;
  const radii = Array.from({ length: 15 }, (_, k) => wallAt(model, solution.parameters, (k / 42) * state.heightMm));
  return radii[0] / Math.max(...radii);
}

function rivalSize({ bodyMask }: CoarseSighting): number {
  const [first, second] = maskShapes(bodyMask);
  return first && second ? second.areaPx / first.areaPx : 0;
}
