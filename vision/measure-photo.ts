import { OUTLINE_ERROR } from './calibration/numbers.ts';
import { chooseArrangement } from './container/choose-arrangement.ts';
import {
  evenly,
  type FindingSd,
  isKnown,
  isMeasurement,
  largest,
  spanningBoth,
  together,
  UNCERTAIN_RELATIVE_SD,
  withFindingError,
  withRelativeSd,
} from './container/finding-error.ts';
import {
  type ContainerFit,
  type FitOptions,
  fitContainer,
  guessedSolid,
  type PhotoSight,
} from './container/fit-container.ts';
import { fitWarnings, narrowingBelow } from './container/fit-warnings.ts';
import type { HandPlacement } from './container/hand-placement.ts';
import { sizeEstimate } from './container/size-estimate.ts';
import { type SolidInView, solidOf } from './container/solid-in-view.ts';
import { toMeasurement } from './container/to-measurement.ts';
import { focalPriorFromLens } from './geometry/focal-prior.ts';
import type { CornersPx, ImagePoint } from './geometry/frames.ts';
import { measureByHand, rememberLook } from './measure-by-hand.ts';
import {
  ARRANGEMENTS,
  type Arrangement,
  type DoubtfulStretch,
  type Measurement,
  type MeasureResult,
  ON_ONE_TABLE,
  type Problem,
  type ProblemCode,
  problem,
  type Stage,
} from './measurement.ts';
import type { CoarseSighting } from './network/coarse-sighting.ts';
import { type Look, lookAnyWayUp, lookTurned } from './network/look-any-way-up.ts';
import { cornersAbout, cornersSeen, sightingOfCard } from './network/look-at-card.ts';
import type { OutlineModel } from './network/outline-model.ts';
import type { Cv } from './opencv/cv.ts';
import { findOutlines } from './outline/find-outlines.ts';
import { lookAtTap } from './outline/look-at-tap.ts';
import { lookCloser } from './outline/look-closer.ts';
import { contourSeen } from './outline/mask-contour.ts';
import { maskShapes } from './outline/mask-shape.ts';
import type { OutlineEvidence } from './outline/outline-evidence.ts';
import { outlineFromPolygon } from './outline/outline-from-polygon.ts';
import type { BeforeHand } from './outline/refine-by-hand.ts';
import type { SightWithoutOutline } from './outline/refine-with-model.ts';
import { withFullRange } from './picture/full-range.ts';
import type { FocalPrior, Photo } from './picture/photo.ts';
import { photoTrouble } from './picture/photo-trouble.ts';
import { withLensOfContent } from './picture/screen-bars.ts';
import { cardInPhoto } from './reference/card-in-photo.ts';
import { findCoin } from './reference/find-coin.ts';
import { placeCard } from './reference/place-card.ts';
import { coinOfRim, placeCoin } from './reference/place-coin.ts';
import { type FlatReference, ID1_CARD } from './reference/reference.ts';
import { type RoundReference, squareAbout } from './reference/round-reference.ts';
import { snapCard } from './reference/snap-card.ts';
import type { CardSighting, OutlineSighting } from './sighting.ts';

/** What the maker may tell the engine; everything left out is found in the photo. */
export interface MeasureOptions {
  readonly arrangement?: Arrangement;
  /** A card, sheet or other rectangle, or a coin or disc, which can only lie on the container's table. */
  readonly reference?: FlatReference | RoundReference;
  /** A point on the coin or disc. */
  readonly referencePx?: ImagePoint;
  /** Points on its outermost edge, placed by hand: six or more, all round, in order. */
  readonly rimPx?: readonly ImagePoint[];
  /** 35 mm-equivalent focal length, overriding the photo's metadata. */
  readonly focal35Mm?: number;
  /** Of a container lying down: its base is the end nearer to this point. Default: the end that looks like it. */
  readonly baseNearPx?: ImagePoint;
  /** A point inside the container. */
  readonly tapPx?: ImagePoint;
  /** The card's corners, placed by hand; of a coin or disc those of the square about it. */
  readonly cornersPx?: CornersPx;
  /** Corners placed by hand jump onto the card's edges where they lie beside them. */
  readonly snapCorners?: boolean;
  /** The container's outline as a closed polygon, placed by hand. With `cornersPx` too, no pixel is looked at. */
  readonly outlinePx?: readonly ImagePoint[];
  /** Standard uncertainty of hand-placed points, px. Default: what a thumb on a zoomed photo does. */
  readonly placementSdPx?: number;
  /** Takes the picture to be the right way up and looks for the card once: quicker and less sure, for one picture of many. */
  readonly atAGlance?: boolean;
  /** What the maker moved of the solid that was drawn for her, in the order she did it. */
  readonly hand?: readonly HandPlacement[];
}

/** What measuring needs besides the photo. Without the outline network the outline has to be placed. */
export interface Engine {
  readonly cv: Cv;
  readonly outlineModel: OutlineModel | null;
}

/** A thumb places a point to about this share of the photo's long side: 1.5 px of 2000. From memory, no source. */
const PLACEMENT_SHARE = 1.5 / 2000;
/** Errors of a placed outline are alike over about this share of the photo's long side. */
const PLACED_SPACING_SHARE = 10 / 2000;

/** Placed points lie in the photo or a little beside it; what lies further out than this many long sides is a mistake. */
const REACH = 3;

/** A result and the fit it comes from, null when there is none. */
export interface Measured {
  readonly result: MeasureResult;
  readonly fit: ContainerFit | null;
  /** Nothing when left out. */
  readonly findingSd?: FindingSd;
  /** What a hand can go on from; left out when not even the card is known. */
  readonly looked?: Looked;
}

/** What was seen in the photo before a hand put it right. */
export interface Looked {
  readonly sight: SightWithoutOutline;
  readonly coarse: CoarseSighting | undefined;
  readonly before: BeforeHand;
  /** Relative standard uncertainty because the card may lie another way. */
  readonly arrangementSd: number;
  /** What spoke for the outline; left out when it was placed, or no container fits it. */
  readonly evidence?: OutlineEvidence;
}

/**
 * Measures a round container beside a reference card or coin: photo -> card -> camera -> outline -> container.
 * @param onStage  called as each stage begins
 * @returns sizes with uncertainties, or a typed reason with the way out; never throws for what a photo may show
 */
export async function measurePhoto(
  engine: Engine,
  photo: Photo,
  options: MeasureOptions = {},
  onStage: (stage: Stage) => void = () => {},
): Promise<MeasureResult> {
  return measureAndFit(engine, photo, options, onStage).result;
}

/**
 * As measurePhoto, and able to follow a hand that moves placed points: several times quicker, but close to the fit it goes
 * on from, so that the place where the hand comes to rest is to be measured afresh.
 * @param from  the fit of this photo before the points moved
 */
export function measureAndFit(
  engine: Engine,
  taken: Photo,
  options: MeasureOptions,
  onStage: (stage: Stage) => void,
  from: ContainerFit | null = null,
): Measured {
  if (options.hand?.length) return measureByHand(engine, taken, { ...options, hand: options.hand }, onStage);
  const measured = measureWithoutHand(engine, taken, options, onStage, from);
  if (!from) rememberLook(taken, options, measured);
  return measured;
}

function measureWithoutHand(
  engine: Engine,
  taken: Photo,
  options: MeasureOptions,
  onStage: (stage: Stage) => void,
  from: ContainerFit | null,
): Measured {
  const looksAtPixels = !(options.cornersPx && options.outlinePx);
  const photo = looksAtPixels ? withLensOfContent(withFullRange(taken)) : taken;
  const given = options.reference ?? ID1_CARD;
  const isRound = 'diameterMm' in given;
  const reference = isRound ? squareAbout(given) : given;
  const lens = options.focal35Mm ? { ...photo.lens, focal35Mm: options.focal35Mm } : photo.lens;
  const focalPrior = focalPriorFromLens(lens, photo.widthPx, photo.heightPx);

  const misplaced = misplacedPoints(options, photo, isRound);
  if (misplaced) return { result: refused(misplaced, null, null), fit: null };

  onStage('card');
  const sighted = coarseLook(engine, photo, options);
  const glance = sighted && isRound ? onTable(sighted.coarse) : sighted?.coarse;
  const find = isRound ? coinIn : cardIn;
  const card = find(engine.cv, photo, focalPrior, reference, options, sighted);
  if ('problem' in card) {
    const nothing = card.problem === 'no-card' || card.problem === 'no-round-reference';
    const problem = (nothing && photoTrouble(taken)) || card.problem;
    return { result: refusedForRepair(problem, options, glance), fit: null };
  }
  const { cornersPx } = card.card;
  const coarse = sighted && !isRound ? sightingOfCard(sighted.look, photo, sighted.coarse, cornersPx) : glance;
  const sight = {
    imageWidthPx: photo.widthPx,
    imageHeightPx: photo.heightPx,
    focalPrior,
    looksCropped: lens.looksCropped,
    reference,
    card: card.card,
    raisedChance: coarse?.onSomething,
  };

  onStage('outline');
  const hypotheses = options.outlinePx
    ? placedHypotheses(options.outlinePx, sight, options, from)
    : coarse
      ? foundHypotheses(engine.cv, photo, sight, options, coarse)
      : [];
  const unrecognised = !coarse && !options.outlinePx;
  const usable = hypotheses.filter(({ refusal }) => !refusal);
  if (usable.length === 0) {
    const [best] = hypotheses;
    const reason = unrecognised ? 'not-recognised' : (best?.refusal ?? 'no-container');
    const outlinePx = best ? pointsOf(best.sight.outline) : null;
    const looked = best && lookedAt(best, best.start ?? null, coarse, 0);
    const result = refused(reason, card.card.cornersPx, outlinePx, null, looked?.before.solid);
    return { result: reason === 'two-containers' ? withCandidates(result, coarse) : result, fit: null, looked };
  }

  onStage('container');
  const baseNearPx = options.baseNearPx ?? (coarse && recognisedBase(coarse));
  const scores = options.outlinePx ? undefined : coarse?.arrangementScores;
  const endIsTold = options.baseNearPx !== undefined;
  return bestMeasurement(usable, { following: from !== null, baseNearPx, endIsTold }, scores, coarse);
}

/** A refusal with the outlines of the things that may be meant. */
function withCandidates(result: MeasureResult, coarse: CoarseSighting | undefined): MeasureResult {
  if (result.outcome !== 'refused' || !coarse) return result;
  const candidatesPx = maskShapes(coarse.bodyMask)
    .slice(0, MOST_CANDIDATES)
    .map(({ centrePx, alongPx, spreadPx }) => ellipseAbout(centrePx, alongPx, spreadPx));
  return { ...result, found: { ...result.found, candidatesPx } };
}
const MOST_CANDIDATES = 4;
/** A uniform ellipse reaches two standard deviations. */
const REACH_SDS = 2;

function ellipseAbout(
  [x, y]: ImagePoint,
  [dx, dy]: readonly [number, number],
  [along, across]: readonly [number, number],
): ImagePoint[] {
  return Array.from({ length: 48 }, (_, k) => {
    const a = REACH_SDS * along * Math.cos((k / 24) * Math.PI);
    const b = REACH_SDS * across * Math.sin((k / 24) * Math.PI);
    return [x + a * dx - b * dy, y + a * dy + b * dx];
  });
}

/** Where a hand may go on from; undefined when no container can be drawn at all. */
function lookedAt(
  { arrangement, sight, evidence }: Hypothesis,
  fit: ContainerFit | null,
  coarse: CoarseSighting | undefined,
  arrangementSd: number,
): Looked | undefined {
  fit?.model.stateAt(fit.solution.parameters);
  const solid = fit ? solidOf(fit.state, fit.model.curve) : guessedSolid(sight, arrangement);
  if (!solid) return undefined;
  const { outline, ...rest } = sight;
  return { sight: rest, coarse, before: { arrangement, outline, solid, fit }, arrangementSd, evidence };
}

/** What was placed or said that can be neither card nor container, whatever the photo shows. */
function misplacedPoints(
  { cornersPx, outlinePx, arrangement }: MeasureOptions,
  { widthPx, heightPx }: Photo,
  isRound: boolean,
): ProblemCode | null {
  if (isRound && arrangement && !ON_ONE_TABLE.includes(arrangement)) return 'round-not-on-table';
  const reachPx = REACH * Math.max(widthPx, heightPx);
  const isWithinReach = ([xPx, yPx]: ImagePoint) => Math.abs(xPx) < reachPx && Math.abs(yPx) < reachPx;
  if (cornersPx && !cornersPx.every(isWithinReach)) return isRound ? 'no-round-reference' : 'no-card';
  if (!outlinePx) return null;
  const [first, ...others] = outlinePx;
  const hasExtent = others.length >= 2 && others.some(([x, y]) => x !== first[0] || y !== first[1]);
  return hasExtent && outlinePx.every(isWithinReach) ? null : 'no-container';
}

/** What the network sees in the photo, and the way up in which it looks at it. */
interface Sighted {
  readonly look: Look;
  readonly coarse: CoarseSighting;
}

/** Skipped when card and outline are placed, since then no pixel is looked at. */
function coarseLook(
  { outlineModel }: Engine,
  photo: Photo,
  { cornersPx, outlinePx, tapPx, atAGlance }: MeasureOptions,
): Sighted | undefined {
  if (!outlineModel || (cornersPx && outlinePx)) return undefined;
  if (atAGlance) {
    const look = lookTurned(outlineModel, 0);
    return { look, coarse: lookCloser(outlineModel.cv, look, photo, look(photo, tapPx), tapPx) };
  }
  const { look, seen } = lookAnyWayUp(outlineModel, photo, tapPx);
  const tapped = tapPx ? lookAtTap(look, photo, tapPx, seen) : seen;
  return { look, coarse: outlinePx ? tapped : lookCloser(outlineModel.cv, look, photo, tapped, tapPx) };
}

/** Without a card there is nothing to measure by, but a first guess at corners and outline is easier to move than to place. */
function refusedForRepair(
  code: ProblemCode,
  { tapPx, outlinePx }: MeasureOptions,
  coarse: CoarseSighting | undefined,
): MeasureResult {
  const outline = outlinePx ?? (coarse ? contourSeen(coarse.bodyMask, tapPx) : null);
  return refused(code, null, outline, cornerHint(coarse)?.cornersPx);
}

function cardIn(
  cv: Cv,
  photo: Photo,
  focalPrior: FocalPrior,
  reference: FlatReference,
  options: MeasureOptions,
  sighted: Sighted | undefined,
): { readonly card: CardSighting } | { readonly problem: ProblemCode } {
  if (!options.cornersPx) {
    const hint = cornerHint(sighted?.coarse);
    const lookForCard = (at: CornersPx) => (sighted ? cornersAbout(sighted.look, photo, at) : null);
    const known = { focalPrior, reference, hint };
    return cardInPhoto(cv, photo, known, sighted && !options.atAGlance ? lookForCard : undefined);
  }
  const { widthPx, heightPx } = photo;
  const sdPx = options.placementSdPx ?? PLACEMENT_SHARE * Math.max(widthPx, heightPx);
  const card = placeCard(options.cornersPx, { widthPx, heightPx, focalPrior, reference, sdPx });
  if (!card) return { problem: 'no-card' };
  return {
    card: options.snapCorners && photo.rgba.length > 0 ? snapCard(photo, card, sdPx, { focalPrior, reference }) : card,
  };
}

/** As cardIn, for a coin or disc. */
function coinIn(
  cv: Cv,
  photo: Photo,
  focalPrior: FocalPrior,
  reference: FlatReference,
  { cornersPx, rimPx, placementSdPx, referencePx }: MeasureOptions,
  sighted: Sighted | undefined,
): { readonly card: CardSighting } | { readonly problem: ProblemCode } {
  const { widthPx, heightPx } = photo;
  const view = { reference, focalPrior, widthPx, heightPx };
  const sdPx = placementSdPx ?? PLACEMENT_SHARE * Math.max(widthPx, heightPx);
  const coin = rimPx
    ? coinOfRim(rimPx, view, sdPx)
    : cornersPx
      ? placeCoin(cornersPx, view, sdPx)
      : findCoin(cv, photo, view, { nearPx: referencePx, bodyMask: sighted?.coarse.bodyMask });
  return coin ? { card: coin } : { problem: 'no-round-reference' };
}

/** The network knows cards only; beside a coin the container stands or lies. */
function onTable(coarse: CoarseSighting): CoarseSighting {
  const { standing, lying } = coarse.arrangementScores;
  const both = standing + lying;
  const arrangementScores = { standing: standing / both, lying: lying / both, 'card-on-front': 0, 'card-leaning': 0 };
  return { ...coarse, arrangementScores };
}

function cornerHint(coarse: CoarseSighting | undefined): { readonly cornersPx: CornersPx } | undefined {
  const cornersPx = coarse && cornersSeen(coarse);
  return cornersPx ? { cornersPx } : undefined;
}

/** An end of the axis is known when it is likelier to be there than anywhere else. */
const KNOWN_END = 0.5;

/** Where the network sees the base, when it can tell the ends apart. */
function recognisedBase({ axisPx: { base, top } }: CoarseSighting): ImagePoint | undefined {
  return Math.min(base.confidence, top.confidence) > KNOWN_END ? base.atPx : undefined;
}

/** One way the card may lie, with the outline seen if it lies so. */
interface Hypothesis {
  readonly arrangement: Arrangement;
  readonly sight: PhotoSight;
  /** A fit to go on from. */
  readonly start?: ContainerFit;
  /** Why nothing should be measured from this outline. */
  readonly refusal?: ProblemCode | null;
  readonly warnings?: readonly ProblemCode[];
  readonly doubt?: DoubtfulStretch;
  /** Because the outline may not be the container's; a placed one is. */
  readonly findingSd?: FindingSd;
  readonly evidence?: OutlineEvidence;
}

/** Outlines found in the pixels, at most one for every way the card may lie. */
function foundHypotheses(
  cv: Cv,
  photo: Photo,
  sight: SightWithoutOutline,
  { arrangement, tapPx }: MeasureOptions,
  coarse: CoarseSighting,
): Hypothesis[] {
  const { card, focalPrior, reference, raisedChance } = sight;
  const found = findOutlines(cv, photo, { card, focalPrior, reference, arrangement, tapPx, coarse, raisedChance });
  return found.map(({ arrangement, outline, fit, verdict, doubt, evidence }) => ({
    arrangement,
    evidence,
    sight: { ...sight, outline },
    start: fit,
    refusal: verdict.refusal,
    warnings: verdict.warnings,
    doubt,
    findingSd: verdict.findingSd,
  }));
}

/** The outline the maker placed, once for every way the card may lie. */
function placedHypotheses(
  outlinePx: readonly ImagePoint[],
  sight: SightWithoutOutline,
  options: MeasureOptions,
  from: ContainerFit | null,
): Hypothesis[] {
  const { imageWidthPx, imageHeightPx } = sight;
  const longSidePx = Math.max(imageWidthPx, imageHeightPx);
  const possible = sight.card.rim ? ON_ONE_TABLE : ARRANGEMENTS;
  return (options.arrangement ? [options.arrangement] : possible).map((arrangement) => ({
    arrangement,
    start: from ?? undefined,
    sight: {
      ...sight,
      outline: outlineFromPolygon(outlinePx, {
        imageWidthPx,
        imageHeightPx,
        sdPx: options.placementSdPx ?? PLACEMENT_SHARE * longSidePx,
        spacingPx: PLACED_SPACING_SHARE * longSidePx,
        cardInFrontPx: hidesContainer(arrangement) ? sight.card.cornersPx : undefined,
      }),
    },
  }));
}

function hidesContainer(arrangement: Arrangement): boolean {
  return arrangement === 'card-on-front' || arrangement === 'card-leaning';
}

/** Lets every hypothesis fit the model and keeps the one the photo supports. */
function bestMeasurement(
  hypotheses: readonly Hypothesis[],
  told: Pick<FitOptions, 'following' | 'baseNearPx'> & { readonly endIsTold: boolean },
  scores: CoarseSighting['arrangementScores'] | undefined,
  coarse: CoarseSighting | undefined,
): Measured {
  const fits: ContainerFit[] = [];
  const drawn = new Map<Hypothesis, ContainerFit>();
  const unusable = new Map<ContainerFit, ProblemCode>();
  let failure: ProblemCode = 'fit-failed';
  for (const hypothesis of hypotheses) {
    const { arrangement, sight, start } = hypothesis;
    const result = fitContainer(sight, { ...told, arrangement, start });
    const toDraw = result.ok ? result.fit : (result.unusable ?? result.torn ?? start);
    if (toDraw) drawn.set(hypothesis, toDraw);
    if (result.ok) fits.push(result.fit);
    else failure = result.reason;
    if (!result.ok && result.unusable) unusable.set(result.unusable, result.reason);
  }
  const choice = chooseArrangement([...fits, ...unusable.keys()], (arrangement) => scores?.[arrangement] ?? 1);
  const { card, outline } = hypotheses[0].sight;
  // What could be flat is flat: lying containers of odd shapes explain a disc as well as the disc itself.
  const tooFlat = [...unusable.values()].includes('too-flat') ? 'too-flat' : null;
  const open = choice?.isOpen ? 'stands-or-lies' : null;
  const reason = tooFlat ?? open ?? (choice ? unusable.get(choice.fit) : failure);
  if (!choice || reason) {
    const best = hypotheses.find(({ arrangement }) => arrangement === choice?.fit.arrangement) ?? hypotheses[0];
    const looked = lookedAt(best, drawn.get(best) ?? null, coarse, choice?.relativeSd ?? 0);
    const code = reason ?? failure;
    return { result: refused(code, card.cornersPx, pointsOf(outline), null, looked?.before.solid), fit: null, looked };
  }
  const chosen = hypotheses.find(({ arrangement }) => arrangement === choice.fit.arrangement);
  const looked = chosen && lookedAt(chosen, choice.fit, coarse, choice.relativeSd);
  const outlineSd = chosen?.findingSd ?? evenly(0);
  const findingSd = together(outlineSd, evenly(choice.relativeSd));
  const fitSdFactor = chosen?.evidence ? OUTLINE_ERROR.fitSdFactor : 1;
  const sizes = soundSizes(choice.fit, { findingSd, fitSdFactor }, told.endIsTold);
  if (!sizes) {
    const code = choice.relativeSd > largest(outlineSd) ? 'which-arrangement' : 'too-uncertain';
    const seen = pointsOf(chosen?.sight.outline ?? outline);
    return { result: refused(code, card.cornersPx, seen, null, looked?.before.solid), fit: null, looked };
  }
  const warnings: Problem[] = [...fitWarnings(choice.fit), ...(chosen?.warnings ?? []).map(problem)];
  if (!choice.certain) warnings.push(problem('arrangement-uncertain'));
  warnings.push(...sizes.warnings);
  const isDoubtful = warnings.some(({ code }) => code === 'outline-uncertain');
  const measurement = { ...sizes.measurement, ...(isDoubtful && chosen?.doubt && { doubt: chosen.doubt }) };
  return { result: { outcome: 'measured', measurement, warnings }, fit: choice.fit, findingSd, looked };
}

/**
 * The sizes of a fit as they are told; null when they are too uncertain to be called measured.
 * @param doubt  because the outline or the way the card lies may be another, and how much more uncertain than it says a fit
 *   to its points is
 * @param endIsTold  whether somebody said which end of a container lying down is its base
 */
export function soundSizes(
  fit: ContainerFit,
  { findingSd, fitSdFactor }: { readonly findingSd: FindingSd; readonly fitSdFactor: number },
  endIsTold: boolean,
): { readonly measurement: Measurement; readonly warnings: readonly Problem[] } | null {
  const sizes = withFindingError(toMeasurement(fit), findingSd, fitSdFactor);
  if (!isMeasurement(sizes)) return null;
  const { baseDiameterMm: seenBase } = sizes;
  const otherEnd = fit.arrangement === 'lying' && !endIsTold ? sizeEstimate(fit, 'topDiameterMm') : null;
  const isOpen = seenBase && otherEnd && Math.abs(otherEnd.value / seenBase.value - 1) > UNCERTAIN_RELATIVE_SD;
  const hidden = fit.arrangement === 'lying' ? 0 : narrowingBelow(fit);
  const base = isOpen ? spanningBoth(seenBase, otherEnd) : seenBase && withRelativeSd(seenBase, hidden);
  const baseDiameterMm = base && isKnown(base) ? base : null;
  const warnings = isOpen ? [problem('which-end-is-base')] : [];
  if (base && !baseDiameterMm && !isOpen) warnings.push(problem('base-not-visible'));
  return { measurement: { ...sizes, baseDiameterMm }, warnings };
}

function pointsOf({ points }: OutlineSighting): ImagePoint[] {
  return points.map(({ xPx, yPx }) => [xPx, yPx]);
}

function refused(
  code: ProblemCode,
  cornersPx: CornersPx | null,
  outlinePx: readonly ImagePoint[] | null,
  cornersGuessPx: CornersPx | null = null,
  solid: SolidInView | null = null,
): MeasureResult {
  const found = { cornersPx, outlinePx, cornersGuessPx, solid };
  return { outcome: 'refused', reason: problem(code), found, warnings: [] };
}
