import { outlineErrorSd } from '../calibration/fit-outline-error.ts';
import { OUTLINE_ERROR } from '../calibration/numbers.ts';
import { wallAt } from '../container/container-sizes.ts';
import { UNCERTAIN_RELATIVE_SD } from '../container/finding-error.ts';
import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import { longSideOf, shareWithin } from '../geometry/polygon.ts';
import type { ProblemCode } from '../measurement.ts';
import type { CoarseSighting } from '../network/coarse-sighting.ts';
import type { Photo } from '../picture/photo.ts';
import { REACH as MASK_REACH, maskBorder } from './mask-doubt.ts';
import { maskShapes } from './mask-shape.ts';
import type { ModelRefinement } from './refine-with-model.ts';
import type { SnappedSample } from './snap-to-border.ts';

/** What speaks for an outline, apart from how well sizes follow from it. */
export interface OutlineEvidence {
  /** Share of the pieces not hidden by card or frame where a clear border was found at the fitted outline. */
  readonly supported: number;
  /** Share of the whole outline that neither the card nor the frame hides. */
  readonly visible: number;
  /** Mean strength of the border along the visible pieces, 0..1. */
  readonly contrast: number;
  /** Root mean square of the located edges' distance from the fitted solid of revolution, as a share of its long side. */
  readonly roundnessError: number;
  /** Diameter of the base against the widest of the lowest third, of a container that stands on it; 1 of one that lies. */
  readonly footing: number;
  /** As `supported`, of the pieces at the base. */
  readonly footSeen: number;
  /** Share of the card's face that lies inside the outline. */
  readonly cardOverlap: number;
  /** Share of the outline beyond the photo's border. */
  readonly beyondFrame: number;
  /** How the coarse mask bears the edges out; null without one. */
  readonly mask: MaskEvidence | null;
  /** Size of the next largest thing that might be a container, against this one; 0 once one is tapped. */
  readonly rivalSize: number;
}

/** Both are means over that twentieth of the visible outline where they are largest, as shares of its long side. */
export interface MaskEvidence {
  /** How far the mask's border lies beside the edges. */
  readonly stray: number;
  /** Width of the band in which the mask cannot tell container from background. */
  readonly fade: number;
}

export interface OutlineVerdict {
  /** Standard uncertainty of the sizes, as a share of them, because the outline may be another thing's for a stretch. */
  readonly relativeSd: number;
  /** Why nothing should be measured from it; null when it may be. */
  readonly refusal: ProblemCode | null;
  readonly warnings: readonly ProblemCode[];
}

export function outlineEvidence(
  refined: ModelRefinement,
  { widthPx, heightPx }: Pick<Photo, 'widthPx' | 'heightPx'>,
  cardPx: CornersPx,
  coarse: CoarseSighting | undefined,
  tapped: boolean,
): OutlineEvidence {
  const { samples, snapped } = refined;
  const polygon = samples.map(({ x, y }): ImagePoint => [x, y]);
  const longSidePx = longSideOf(polygon);
  const visible = snapped.filter((piece) => piece.visible);
  const isClear = ({ clarity, offsetPx }: SnappedSample) =>
    clarity >= CLEAR && Math.abs(offsetPx) < NEAR_SHARE * longSidePx;
  const clear = visible.filter(isClear);
  const footMm = FOOT_SHARE * refined.fit.state.heightMm;
  const foot = snapped.filter((piece, i) => piece.visible && samples[i].zMm < footMm);
  const strength = visible.reduce((sum, piece) => sum + Math.max(1 - piece.cost, 0), 0);
  const beyond = samples.filter(({ x, y }) => x < 2 || y < 2 || x > widthPx - 3 || y > heightPx - 3);
  return {
    mask: coarse ? maskEvidence(refined, coarse.bodyMask, longSidePx) : null,
    supported: clear.length / Math.max(visible.length, 1),
    visible: visible.length / Math.max(samples.length, 1),
    contrast: strength / Math.max(visible.length, 1),
    roundnessError: refined.residualPx / longSidePx,
    footing: footing(refined),
    footSeen: foot.filter(isClear).length / Math.max(foot.length, 1),
    cardOverlap: shareWithin(cardPx, polygon),
    beyondFrame: beyond.length / Math.max(samples.length, 1),
    rivalSize: coarse && !tapped ? rivalSize(coarse) : 0,
  };
}

const CLEAR = 0.25;
const NEAR_SHARE = 0.006;
/** Of the height, from below. */
const FOOT_SHARE = 0.02;

/** Reads the evidence. The limits were set on generated pictures and photos of the development set. */
export function judgeOutline(evidence: OutlineEvidence, coarse: CoarseSighting | undefined): OutlineVerdict {
  const warnings: ProblemCode[] = [];
  const error = expectedError(evidence);
  const refusal = refusalOf(evidence, coarse);
  if (error > UNCERTAIN_RELATIVE_SD) warnings.push('outline-uncertain');
  if (evidence.roundnessError > 0.006 || (coarse && coarse.round < 0.5)) warnings.push('maybe-not-round');
  return { relativeSd: error, refusal, warnings };
}

/** Without a mask an outline is no better than with one like this. */
const UNKNOWN_MASK: MaskEvidence = { stray: 0.02, fade: 0.04 };

/** Relative standard deviation of the sizes to expect from what the outline's pieces show. */
function expectedError({ mask, contrast }: OutlineEvidence): number {
  return outlineErrorSd({ ...(mask ?? UNKNOWN_MASK), contrast }, OUTLINE_ERROR);
}

function refusalOf(evidence: OutlineEvidence, coarse: CoarseSighting | undefined): ProblemCode | null {
  if (coarse && coarse.containerPresent < 0.3) return 'no-container';
  if (evidence.beyondFrame > 0.03 || (coarse && coarse.cutByFrame > 0.8)) return 'container-cut-off';
  if (evidence.rivalSize > 0.35) return 'two-containers';
  if (coarse && coarse.round < 0.15) return 'not-round';
  if (evidence.roundnessError > 0.02) return 'not-round';
  const leastFooting = evidence.footSeen < MOSTLY ? LEAST_UNSEEN_FOOTING : LEAST_FOOTING;
  if (evidence.footing < leastFooting || expectedError(evidence) > MOST_ERROR) return 'fit-failed';
  return null;
}

/** With worse odds than these a wrong number is likelier than the maker is served by; the outline is offered for repair. */
const MOST_ERROR = 0.08;
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

/** The mask's border is looked for so far beside the edges, share of the long side; not found, it is taken to be there. */
const FARTHEST = 0.05;
const STRETCHES = 20;

function maskEvidence(
  { samples, snapped }: ModelRefinement,
  mask: CoarseSighting['bodyMask'],
  longSidePx: number,
): MaskEvidence {
  const preference = { mask, tolerancePx: (FARTHEST / MASK_REACH) * longSidePx };
  const strays: number[] = [];
  const fades: number[] = [];
  samples.forEach(({ x, y, normalX, normalY }, i) => {
    const { visible, offsetPx } = snapped[i];
    if (!visible) return;
    const edge = { x: x + offsetPx * normalX, y: y + offsetPx * normalY, normalX, normalY };
    const border = (level: number) => maskBorder(edge, preference, level);
    const farthestPx = FARTHEST * longSidePx;
    strays.push((border(0.5) ?? farthestPx) / longSidePx);
    fades.push(((border(0.2) ?? farthestPx) - (border(0.8) ?? -farthestPx)) / longSidePx);
  });
  return { stray: largestMean(strays), fade: largestMean(fades) };
}

/** The mean of largest size over one stretch of a closed line. */
function largestMean(values: readonly number[]): number {
  const count = Math.max(Math.round(values.length / STRETCHES), 1);
  const means = values.map((_, i) => {
    let sum = 0;
    for (let k = 0; k < count; k++) sum += values[(i + k) % values.length];
    return Math.abs(sum / count);
  });
  return Math.max(0, ...means);
}

function rivalSize({ bodyMask }: CoarseSighting): number {
  const [first, second] = maskShapes(bodyMask);
  return first && second ? second.areaPx / first.areaPx : 0;
}
