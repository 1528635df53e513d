import { OUTLINE_ERROR } from './calibration/numbers.ts';
import { evenly, together } from './container/finding-error.ts';
import type { ContainerFit } from './container/fit-container.ts';
import { fitRefusal, fitWarnings } from './container/fit-warnings.ts';
import type { HandFeature, HandPlacement } from './container/hand-placement.ts';
import { handWarnings } from './container/hand-warnings.ts';
import { solidOf } from './container/solid-in-view.ts';
import {
  type Engine,
  type Looked,
  type Measured,
  type MeasureOptions,
  measureAndFit,
  soundSizes,
} from './measure-photo.ts';
import { type MeasureResult, type Problem, type ProblemCode, problem, type Stage } from './measurement.ts';
import type { Cv } from './opencv/cv.ts';
import { doubtfulStretch } from './outline/doubtful-stretch.ts';
import { FINE_LONG_SIDE, MASK_TOLERANCE_SHARE, WORKING_LONG_SIDE } from './outline/find-outlines.ts';
import { footing, judgeOutline, LEAST_FOOTING, outlineEvidence } from './outline/outline-evidence.ts';
import {
  fitByHand,
  type HandRefinement,
  leavesEdgesBehind,
  type MaskHint,
  refineByHand,
} from './outline/refine-by-hand.ts';
import type { NoFit, Surroundings } from './outline/refine-with-model.ts';
import { withFullRange } from './picture/full-range.ts';
import type { Photo } from './picture/photo.ts';
import { type Picture, shrinkPhotoTo } from './picture/picture.ts';

/** What stands however well a hand follows the outline. */
const FINAL: readonly ProblemCode[] = ['not-round', 'container-cut-off', 'too-flat'];

/** The last look at a photo without a hand: every drag goes on from there, so that only the hand's part is done again. */
const looks = new WeakMap<Photo, { readonly question: string; readonly measured: Measured }>();

/** Keeps what was seen in a photo for the hand that may follow, as long as the photo itself is kept. */
export function rememberLook(photo: Photo, options: MeasureOptions, measured: Measured): void {
  looks.set(photo, { question: JSON.stringify(options), measured });
}

/** The photo as it is looked at, with its shrunk copies. */
interface Looking {
  readonly photo: Photo;
  readonly pictures: readonly Picture[];
}
const prepared = new WeakMap<Photo, Looking>();

/**
 * Measures a photo in which a hand has moved some of the solid that was drawn over it, found or refused. Her placements
 * are observations beside the edges; nothing is believed merely because she touched it.
 */
export function measureByHand(
  engine: Engine,
  taken: Photo,
  options: MeasureOptions & { readonly hand: readonly HandPlacement[] },
  onStage: (stage: Stage) => void,
): Measured {
  const { hand, ...others } = options;
  const measured = lookOnce(engine, taken, others, onStage);
  const { looked } = measured;
  if (!looked) return measured;
  onStage('container');
  const { sight, coarse, before } = looked;
  if (others.outlinePx || taken.rgba.length === 0) {
    return { ...withoutPixels(fitByHand(sight, before, hand), measured, looked, hand), looked };
  }
  const { photo, pictures } = prepare(engine.cv, taken);
  const around: Surroundings = {
    photo,
    pictures,
    hiddenPx: [sight.card.cornersPx],
    hiddenMarginPx: 0.006 * Math.max(photo.widthPx, photo.heightPx),
  };
  const network: MaskHint | null = coarse ? { mask: coarse.bodyMask, toleranceShare: MASK_TOLERANCE_SHARE } : null;
  const onward = refineByHand(around, sight, before, hand, network);
  const refined = isPinched(onward, hand) ? unpinched(onward, around, looked, hand, network) : onward;
  if ('reason' in refined) return { result: refusedByHand(looked, refined.reason, null), fit: null, looked };
  const after = measurementOf(refined, looked, photo, hand);
  if (!wasClear(measured) || !leavesEdgesBehind(before, hand, refined.fit)) return { ...after, looked };
  return { ...after, result: warned(after.result, 'hand-against-edges'), looked };
}

/** Whether the outline was sure before any hand came. */
function wasClear({ result }: Measured): boolean {
  return result.outcome === 'measured' && result.warnings.every(({ code }) => code !== 'outline-uncertain');
}

function warned(result: MeasureResult, code: ProblemCode): MeasureResult {
  return { ...result, warnings: distinct([...result.warnings, problem(code)]) };
}

/** Where the photo is gone, or stays as it is while something else is moved. */
function withoutPixels(
  fit: ContainerFit | null,
  measured: Measured,
  looked: Looked,
  hand: readonly HandPlacement[],
): Pick<Measured, 'result' | 'fit' | 'findingSd'> {
  const refusal = fit ? fitRefusal(fit) : 'fit-failed';
  const findingSd = measured.findingSd ?? evenly(0);
  const sizes =
    fit && !refusal && soundSizes(fit, { findingSd, fitSdFactor: OUTLINE_ERROR.fitSdFactor }, hand.some(isBase));
  if (!sizes) return { result: refusedByHand(looked, refusal ?? 'too-uncertain', null), fit: null };
  const warnings = [...fitWarnings(fit), ...handWarnings(fit, hand).map(problem), ...sizes.warnings];
  const measurement = { ...sizes.measurement, placedByHand: placedFeatures(hand) };
  return { result: { outcome: 'measured', measurement, warnings: distinct(warnings) }, fit, findingSd };
}

function isBase({ feature }: HandPlacement): boolean {
  return feature === 'base-edge';
}

function placedFeatures(hand: readonly HandPlacement[]): HandFeature[] {
  return [...new Set(hand.flatMap(({ feature }) => (feature === 'left-out' ? [] : [feature])))];
}

function measurementOf(
  refined: HandRefinement,
  looked: Looked,
  photo: Photo,
  hand: readonly HandPlacement[],
): Pick<Measured, 'result' | 'fit' | 'findingSd'> {
  const { fit, maskPreference } = refined;
  const { coarse, arrangementSd } = looked;
  const seen = coarse && maskPreference ? { ...coarse, bodyMask: maskPreference.mask } : undefined;
  const evidence = outlineEvidence(refined, photo, seen, true);
  const verdict = judgeOutline(evidence, seen);
  const refusal =
    fitRefusal(fit) ??
    (isPinched(refined, hand) ? 'fit-failed' : null) ??
    (verdict.refusal && FINAL.includes(verdict.refusal) ? verdict.refusal : null);
  if (refusal) return { result: refusedByHand(looked, refusal, refined), fit: null };
  const findingSd = together(verdict.findingSd, evenly(arrangementSd));
  const sizes = soundSizes(fit, { findingSd, fitSdFactor: OUTLINE_ERROR.fitSdFactor }, hand.some(isBase));
  if (!sizes) return { result: refusedByHand(looked, 'too-uncertain', refined), fit: null };
  const measurement = {
    ...sizes.measurement,
    placedByHand: placedFeatures(hand),
  };
  const isDoubtful = verdict.warnings.includes('outline-uncertain');
  const doubt = isDoubtful ? doubtfulStretch(refined, maskPreference?.mask ?? null) : null;
  const codes = [...verdict.warnings, ...handWarnings(fit, hand)];
  const warnings: Problem[] = [...fitWarnings(fit), ...codes.map(problem), ...sizes.warnings];
  const told = doubt ? { ...measurement, doubt } : measurement;
  return { result: { outcome: 'measured', measurement: told, warnings: distinct(warnings) }, fit, findingSd };
}

/** A foot far narrower than the wall above, which nobody has put there, follows something else. */
function isPinched(refined: HandRefinement | NoFit, hand: readonly HandPlacement[]): boolean {
  return !('reason' in refined) && footing(refined) < LEAST_FOOTING && !isFootPlaced(hand);
}

/** The same with a fit from scratch, when that keeps its foot. */
function unpinched(
  pinched: HandRefinement | NoFit,
  around: Surroundings,
  { sight, before }: Looked,
  hand: readonly HandPlacement[],
  network: MaskHint | null,
): HandRefinement | NoFit {
  const fresh = refineByHand(around, sight, { ...before, fit: null }, hand, network);
  return 'reason' in fresh || isPinched(fresh, hand) ? pinched : fresh;
}

/** Both corners of the foot were put in their place. */
function isFootPlaced(hand: readonly HandPlacement[]): boolean {
  return ([-1, 1] as const).every((side) =>
    hand.some((each) => each.feature === 'wall' && each.side === side && each.share < FOOT_SHARE),
  );
}
const FOOT_SHARE = 0.2;

function distinct(warnings: readonly Problem[]): readonly Problem[] {
  return warnings.filter(({ code }, k) => warnings.findIndex((other) => other.code === code) === k);
}

function refusedByHand({ sight, before }: Looked, code: ProblemCode, refined: HandRefinement | null): MeasureResult {
  const fit = refined?.fit ?? null;
  fit?.model.stateAt(fit.solution.parameters);
  const outline = refined?.outline ?? before.outline;
  return {
    outcome: 'refused',
    reason: problem(code),
    found: {
      cornersPx: sight.card.cornersPx,
      outlinePx: outline.points.map(({ xPx, yPx }) => [xPx, yPx] as const),
      solid: fit ? solidOf(fit.state, fit.model.curve) : before.solid,
    },
    warnings: [],
  };
}

function lookOnce(engine: Engine, photo: Photo, options: MeasureOptions, onStage: (stage: Stage) => void): Measured {
  const last = looks.get(photo);
  return last?.question === JSON.stringify(options) ? last.measured : measureAndFit(engine, photo, options, onStage);
}

function prepare(cv: Cv, taken: Photo): Looking {
  const known = prepared.get(taken);
  if (known) return known;
  const photo = withFullRange(taken);
  const longSide = Math.max(photo.widthPx, photo.heightPx);
  const pictures = shrinkPhotoTo(cv, photo, [longSide / FINE_LONG_SIDE, longSide / WORKING_LONG_SIDE]);
  prepared.set(taken, { photo, pictures });
  return { photo, pictures };
}
