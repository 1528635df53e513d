import type { CornersPx, ImagePoint } from '../frames.ts';
import type { ProblemCode } from '../measurement.ts';
import { cardOverlap } from '../model/choose-arrangement.ts';
import { wallAt } from '../model/container-sizes.ts';
import type { CoarseSighting } from '../outline-model/coarse-sighting.ts';
import type { Photo } from '../photo.ts';
import { REACH as FARTHEST, maskBorder } from './mask-doubt.ts';
import { maskAt, maskShapes } from './mask-shape.ts';
import { contains, longSideOf } from './polygon.ts';
import type { ExpectedSample, ModelRefinement } from './refine-with-model.ts';
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
  /** Overlap (intersection over union) with the coarse mask where the card hides nothing; null without one. */
  readonly maskAgreement: number | null;
  /** Diameter of the base against the widest, of a container that stands on it; 1 of one that lies. */
  readonly footing: number;
  /** Share of the card's face that lies inside the outline. */
  readonly cardOverlap: number;
  /** Share of the outline beyond the photo's border. */
  readonly beyondFrame: number;
  /** As `supported`, of the pieces that sizes come from: the widest part of the wall, the edges of top and base. */
  readonly supportedAt: { readonly widest: number; readonly top: number; readonly base: number };
  /** How far the coarse mask ends beside the edges, mean over the one of these parts where it is most; share of the long side. */
  readonly contradiction: number;
  /** Size of the next largest thing that might be a container, against this one; 0 once one is tapped. */
  readonly rivalSize: number;
}

export interface OutlineVerdict {
  /** 0..1: chance that the outline is right to a percent or two. */
  readonly quality: number;
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
  const [widest, top, base] = Object.values(decisiveParts(refined)).map((belongs) =>
    samples
      .map((sample, i) => [sample, snapped[i]] as const)
      .filter(([{ zMm }, piece]) => piece.visible && belongs(zMm)),
  );
  const supported = (part: typeof widest) =>
    part.filter(([, piece]) => isClear(piece)).length / Math.max(part.length, 1);
  const strength = visible.reduce((sum, piece) => sum + Math.max(1 - piece.cost, 0), 0);
  const beyond = samples.filter(({ x, y }) => x < 2 || y < 2 || x > widthPx - 3 || y > heightPx - 3);
  return {
    supportedAt: { widest: supported(widest), top: supported(top), base: supported(base) },
    contradiction: coarse
      ? Math.max(...[widest, top, base].map((part) => Math.abs(maskBeside(part, coarse.bodyMask, longSidePx))))
      : 0,
    supported: clear.length / Math.max(visible.length, 1),
    visible: visible.length / Math.max(samples.length, 1),
    contrast: strength / Math.max(visible.length, 1),
    roundnessError: refined.residualPx / longSidePx,
    maskAgreement: coarse ? maskOverlap(coarse, polygon, cardPx) : null,
    footing: footing(refined),
    cardOverlap: cardOverlap(cardPx, polygon),
    beyondFrame: beyond.length / Math.max(samples.length, 1),
    rivalSize: coarse && !tapped ? rivalSize(coarse) : 0,
  };
}

const CLEAR = 0.25;
const NEAR_SHARE = 0.006;

/** Reads the evidence. The limits were set on generated pictures and photos of the development set. */
export function judgeOutline(evidence: OutlineEvidence, coarse: CoarseSighting | undefined): OutlineVerdict {
  const warnings: ProblemCode[] = [];
  const quality = qualityOf(evidence);
  const refusal = refusalOf(evidence, coarse);
  if (quality < 0.8) warnings.push('outline-uncertain');
  if (evidence.roundnessError > 0.006 || (coarse && coarse.round < 0.5)) warnings.push('maybe-not-round');
  return { quality, refusal, warnings };
}

/** Relative size error of outlines that everything speaks for. */
const LEAST_ERROR = 0.005;
/** As good as masks and contrast get. */
const BEST_MASK = 0.99;
const BEST_CONTRAST = 0.9;
/** Without a mask an outline is no better than with one that agrees only so far. */
const UNKNOWN_MASK = 0.95;

/**
 * Relative standard deviation of the sizes to expect from what the outline's pieces show. Weights: maximum likelihood
 * (errors after Student) over 183 generated pictures that the network had not seen, then stretched so that 95 % intervals
 * hold alike for little and for much doubt (92–94 % on those pictures).
 */
function expectedError({ supportedAt: { widest, top, base }, contrast, maskAgreement }: OutlineEvidence): number {
  const doubt =
    16.5 * Math.max(BEST_MASK - (maskAgreement ?? UNKNOWN_MASK), 0) +
    1.35 * (1 - widest) +
    2.4 * (1 - top) +
    1.35 * (1 - base) +
    0.6 * Math.max(BEST_CONTRAST - contrast, 0);
  return LEAST_ERROR * Math.exp(doubt);
}

/** Of an outline that is surely wrong, root mean square: model/finding-error.ts. However doubtful, none is worse than most. */
const WRONG_ERROR = 0.07;
const MOST_DOUBT = 0.85;

function qualityOf(evidence: OutlineEvidence): number {
  return 1 - Math.min(expectedError(evidence) / WRONG_ERROR, MOST_DOUBT) ** 2;
}

function refusalOf(evidence: OutlineEvidence, coarse: CoarseSighting | undefined): ProblemCode | null {
  if (coarse && coarse.containerPresent < 0.3) return 'no-container';
  if (evidence.beyondFrame > 0.03 || (coarse && coarse.cutByFrame > 0.8)) return 'container-cut-off';
  if (evidence.rivalSize > 0.35) return 'two-containers';
  if (coarse && coarse.round < 0.15) return 'not-round';
  if (evidence.roundnessError > 0.02) return 'not-round';
  if (evidence.footing < LEAST_FOOTING) return 'fit-failed';
  if (expectedError(evidence) > MOST_ERROR || evidence.contradiction > MOST_CONTRADICTION) return 'fit-failed';
  return null;
}

/** With worse odds than these a wrong number is likelier than the maker is served by; the outline is offered for repair. */
const MOST_ERROR = 0.055;
/** Nothing stands on less (common practice, no source): the outline follows something else down there. */
const LEAST_FOOTING = 0.4;
/** Where mask and edges differ by more over a whole part, one of them follows something else: a label, a shadow. */
const MOST_CONTRADICTION = 0.012;

/** Of the height, from either end; of the largest radius. */
const END_ZONE = 0.02;
const WIDEST_ZONE = 0.02;

/** For each part that sizes come from, whether a piece of the outline at that height belongs to it. */
function decisiveParts({ fit: { model, state, solution }, samples }: ModelRefinement) {
  const wall = (zMm: number) => wallAt(model, solution.parameters, zMm);
  const widestMm = Math.max(...samples.map(({ zMm }) => wall(zMm)));
  return {
    widest: (zMm: number) => wall(zMm) > (1 - WIDEST_ZONE) * widestMm,
    top: (zMm: number) => zMm > (1 - END_ZONE) * state.heightMm,
    base: (zMm: number) => zMm < END_ZONE * state.heightMm,
  };
}

function footing({ fit: { model, state, solution, arrangement } }: ModelRefinement): number {
  if (arrangement === 'lying') return 1;
  const heights = Array.from({ length: 41 }, (_, k) => (k / 40) * state.heightMm);
  const radii = heights.map((zMm) => wallAt(model, solution.parameters, zMm));
  return radii[0] / Math.max(...radii);
}

/** How far beside the edges the mask's border is looked for, as a share of the outline's long side. */
const MASK_REACH = 0.01;

/** Signed mean distance along the outline's normal from the edges to the mask's border, over the pieces given. */
function maskBeside(
  pieces: readonly (readonly [ExpectedSample, SnappedSample])[],
  mask: CoarseSighting['bodyMask'],
  longSidePx: number,
): number {
  const preference = { mask, tolerancePx: MASK_REACH * longSidePx };
  const distances = pieces.map(([{ x, y, normalX, normalY }, { offsetPx }]) => {
    const edge = { x: x + offsetPx * normalX, y: y + offsetPx * normalY, normalX, normalY };
    return (maskBorder(edge, preference) ?? FARTHEST * preference.tolerancePx) / longSidePx;
  });
  return distances.reduce((a, b) => a + b, 0) / Math.max(distances.length, 1);
}

function rivalSize({ bodyMask }: CoarseSighting): number {
  const [first, second] = maskShapes(bodyMask);
  return first && second ? second.areaPx / first.areaPx : 0;
}

function maskOverlap({ bodyMask }: CoarseSighting, polygon: readonly ImagePoint[], cardPx: CornersPx): number {
  const { widthCells, heightCells, originPx, pxPerCell } = bodyMask;
  let [both, either] = [0, 0];
  for (let row = 0; row < heightCells; row++) {
    for (let column = 0; column < widthCells; column++) {
      const at: ImagePoint = [originPx[0] + column * pxPerCell[0], originPx[1] + row * pxPerCell[1]];
      if (contains(cardPx, at)) continue;
      const inMask = maskAt(bodyMask, at) >= 0.5;
      const inOutline = contains(polygon, at);
      if (inMask && inOutline) both++;
      if (inMask || inOutline) either++;
    }
  }
  return both / Math.max(either, 1);
}
