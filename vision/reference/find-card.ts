import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import { contains, shareWithin } from '../geometry/polygon.ts';
import type { Cv } from '../opencv/cv.ts';
import type { FocalPrior, Photo } from '../picture/photo.ts';
import { photoFromWorking, type WorkingImage, workingFromPhoto, workingImage } from '../picture/working-image.ts';
import type { CardSighting } from '../sighting.ts';
import { borderEvidence } from './card-evidence.ts';
import { type EdgeField, edgeField } from './edge-field.ts';
import { expectedQuads, withOneCornerReplaced } from './expected-quads.ts';
import { joinCollinear } from './join-collinear.ts';
import { lineSegments } from './line-segments.ts';
import { quadCandidates } from './quad-candidates.ts';
import { isConvex, type LensGuess, lensGuess, type Quad, viewAsRectangle } from './rectangle-view.ts';
import type { FlatReference } from './reference.ts';
import {
  clockwise,
  FINE_ROUNDS,
  finishCard,
  QUICK_ROUNDS,
  type RefinedQuad,
  type RefinedSide,
  refineQuad,
  shapeSd,
} from './refine-card.ts';
import { selectSegments } from './select-segments.ts';
import { quadSupport, runOn, snapToEdges } from './side-support.ts';

export interface FindCardOptions {
  readonly focalPrior: FocalPrior;
  readonly reference: FlatReference;
  /** Somebody else's guess, for example a network's: one more candidate among those found here. */
  readonly hint?: { readonly cornersPx: CornersPx };
}

/** A quad that may be the reference, refined in the full-size photo. */
export interface CardCandidate {
  readonly card: CardSighting;
  /** Log-odds of being the reference card: true ones reach about 2 to 5. */
  readonly total: number;
  /** By how much `total` exceeds that of the best candidate elsewhere in the photo. */
  readonly lead: number;
  readonly evidence: CardEvidence;
  /** How far its farthest corner in sight is from the hint's, as a share of its width; infinite without a hint. */
  readonly offHint: number;
}

/** Each in 0..1 unless noted. */
export interface CardEvidence {
  /** Share of each side on which the edge is straight to half a px. */
  readonly straight: readonly number[];
  readonly contrast: readonly number[];
  /** −1..1 per corner: rounded as the reference's. */
  readonly corners: readonly number[];
  /** Share of each side along which the picture is burnt out. */
  readonly glare: readonly number[];
  /** The one corner before which a side is lost that is seen elsewhere, as under a finger; null when there is none or several. */
  readonly hiddenCorner: number | null;
  /** Step across the sides' prolongations beyond the corners, as a share of the step across the sides. */
  readonly runOn: number;
  /** Squared misfit of proportion, right angles and focal length, in standard deviations. */
  readonly shapeCost: number;
  readonly widthPx: number;
}

const ROUGH_KEPT = 300;
const SNAPPED_KEPT = 70;
const FINE_KEPT = 6;
const RETURNED = 4;
/** Two sides count as one below this distance, and as rivals for one place below the next; shares of the width. */
const SAME_SIDE = 0.006;
const TWIN_SIDE = 0.08;
/** A straighter side must not cost the proportions. */
const TWIN_COST = 2;
/** Difference in the straight share that noise does not make. */
const CLEARLY_STRAIGHTER = 0.15;
/** Difference in the roundness of the worse of two corners that chance does not make. */
const CLEARLY_MORE_ROUNDED = 0.3;
/** Width from which a rounded corner spans enough pixels (5 px radius) to be told from a sharp one. */
const CLEAR_WIDTH_PX = 140;
/** Log-odds of a rival that is not there. */
const NO_RIVAL = -10;
/** On a grid every quad has four perfect sides; what tells the card is that they end. */
const RUN_ON_WEIGHT = 0.3;
/** Cards show this much beyond their corners, by chance and by what else lies there. */
const USUAL_RUN_ON = 0.15;
/** Even white on white differs this much on most sides, a printed frame does not. */
const CLEAR_CONTRAST = 6;
const USUAL_CLEARNESS = 0.8;
/** Peaks of mere noise lie this straight on a third to half of a side; a side that does not do better is guessed. */
const NOISE_STRAIGHT = 0.5;
const SHAPE_SD_ROUGH = 0.05;
/** Cost beyond which a refined quad is no view of the reference at all. */
const LOOSE_SHAPE_COST = 60;
/** Beyond this it is another rectangle: as in choose-card.ts. */
const MAX_SHAPE_COST = 12;

/** Quads that may be the reference card, best first; empty when nothing in the photo looks like one. */
export function findCards(cv: Cv, photo: Photo, options: FindCardOptions): CardCandidate[] {
  const image = workingImage(cv, photo);
  const lens = lensGuess(options.focalPrior, image.widthPx, image.heightPx, 1 / image.photoPerWorkingPx[0]);
  const expected = expectedCards(photo, image, lens, options);
  if (expected[0] && isPlainlyCard(expected[0])) return finished(photo, expected, options);
  const rough = roughQuads(image, edgeField(image), lens, options);
  const quick = rough.map((quad) => examine(photo, quad, options, QUICK_ROUNDS)).filter((e) => e !== null);
  const best = distinct(quick.sort((a, b) => b.total - a.total)).slice(0, FINE_KEPT);
  const examined = best.map((e) => examine(photo, e.refined.quad, options, FINE_ROUNDS) ?? e);
  const fine = options.hint && expected.length > 0 ? examined.map(believing(photo, options.hint)) : examined;
  return finished(photo, bestFirst([...expected, ...fine]), options);
}

/**
 * Log-odds of being a card, its proportions left aside, above which a rectangle is covered: odds of 1 to 7, since
 * covering once too often beside the container costs next to nothing. True cards have 2 and more (tests/vision/reference/card-like-places.test.ts).
 */
const CARD_LIKE = -2;
/**
 * Nearly every container shows a rectangle of its own (a label, rim and walls); a second card wholly before one is in
 * hardly one photo of fifty: a judgement, ln 50 more are asked for there. True cards keep theirs (same tests).
 */
const CARD_LIKE_ON_CONTAINER = CARD_LIKE + Math.log(50);
/** More cards than anybody lays beside a container. */
const MOST_CARDS = 8;

/** From this share of its area on, a place lies on the container: what hangs over the edge by a strip is the wall's edge, too. */
const MOSTLY = 0.75;

/** A place that may be a card. */
export interface CardLike {
  readonly cornersPx: CornersPx;
  /** Of being a card, its proportions left aside. */
  readonly logOdds: number;
}

/** Those of the places that are covered in a photo whose container has this outline; null when it is not known. */
export function placesToCover(places: readonly CardLike[], outlinePx: readonly ImagePoint[] | null): CornersPx[] {
  const isOnContainer = ({ cornersPx }: CardLike) => outlinePx !== null && shareWithin(cornersPx, outlinePx) > MOSTLY;
  return places
    .filter((place) => place.logOdds >= (isOnContainer(place) ? CARD_LIKE_ON_CONTAINER : CARD_LIKE))
    .map(({ cornersPx }) => cornersPx);
}

/**
 * Every place in the photo that may be a card, whatever else was found in it: for covering, not for measuring.
 * @param known  places that are known already and not looked at again
 */
export function cardLikePlaces(
  cv: Cv,
  photo: Photo,
  options: Omit<FindCardOptions, 'hint'>,
  known: readonly CornersPx[] = [],
): CardLike[] {
  const image = workingImage(cv, photo);
  const field = edgeField(image);
  const lens = lensGuess(options.focalPrior, image.widthPx, image.heightPx, 1 / image.photoPerWorkingPx[0]);
  const quads = allQuads(image, field, lens, options);
  const places: CardLike[] = [];
  const taken = [...known];
  const isElsewhere = (middle: ImagePoint) => !taken.some((place) => contains(place, middle));
  // The best supported crowd about one card; what is left of them once that is known may lie on another.
  for (let before = -1; before < places.length && places.length < MOST_CARDS; ) {
    before = places.length;
    const elsewhere = quads.filter((quad) => isElsewhere(photoFromWorking(image, ...middleOf(quad))));
    const examined = bestSupported(elsewhere, { image, field, lens }, options)
      .map((quad) => examine(photo, quad, options, QUICK_ROUNDS))
      .filter((e) => e !== null)
      .sort((a, b) => looks(b) - looks(a));
    for (const quick of distinct(examined).slice(0, FINE_KEPT)) {
      if (looks(quick) < CARD_LIKE || !isElsewhere(middleOf(quick.refined.quad))) continue;
      const fine = examine(photo, quick.refined.quad, options, FINE_ROUNDS) ?? quick;
      if (looks(fine) < CARD_LIKE) continue;
      const cornersPx = cornersOfQuad(fine.refined.quad);
      places.push({ cornersPx, logOdds: looks(fine) });
      taken.push(cornersPx);
    }
  }
  return places;
}

function cornersOfQuad(quad: Quad): CornersPx {
  return [
    [quad[0], quad[1]],
    [quad[2], quad[3]],
    [quad[4], quad[5]],
    [quad[6], quad[7]],
  ];
}

function middleOf(quad: Quad): [number, number] {
  return [(quad[0] + quad[2] + quad[4] + quad[6]) / 4, (quad[1] + quad[3] + quad[5] + quad[7]) / 4];
}

/** Candidates in full-size px: the best supported, moved onto their edges, without repeats. */
function roughQuads(image: WorkingImage, field: EdgeField, lens: LensGuess, options: FindCardOptions): Quad[] {
  return bestSupported(allQuads(image, field, lens, options), { image, field, lens }, options);
}

function allQuads(image: WorkingImage, field: EdgeField, lens: LensGuess, options: FindCardOptions): readonly Quad[] {
  const segments = joinCollinear(selectSegments(lineSegments(field), image.widthPx, image.heightPx));
  return quadCandidates(segments, image.widthPx, image.heightPx, lens, options.reference);
}

interface Seen {
  readonly image: WorkingImage;
  readonly field: EdgeField;
  readonly lens: LensGuess;
}

function bestSupported(quads: readonly Quad[], { image, field, lens }: Seen, options: FindCardOptions): Quad[] {
  const score = (quad: Quad, samples: number): number => {
    const view = viewAsRectangle(quad, lens, options.reference, SHAPE_SD_ROUGH);
    if (!view) return Number.NEGATIVE_INFINITY;
    return quadSupport(field, quad, samples, 1) - RUN_ON_WEIGHT * runOn(field, quad) - 0.003 * view.cost;
  };
  const rough = topBy(quads, (quad) => score(quad, 16), ROUGH_KEPT);
  const snapped = rough.map((quad) => snapToEdges(field, quad, 4.5, 1.5) ?? quad).filter(isConvex);
  const ranked = topBy(snapped, (quad) => score(quad, 30), snapped.length);
  const kept: Quad[] = [];
  for (const quad of ranked) {
    const full = toPhoto(image, quad);
    const tolerance = 4 * image.photoPerWorkingPx[0];
    if (kept.every((other) => cornerDistance(other, full) > tolerance)) kept.push(full);
    if (kept.length === SNAPPED_KEPT) break;
  }
  return kept;
}

const EXPECTED_KEPT = 12;
/** What gives up one of the hint's corners for the proportions must at least have them: √2 standard deviations. */
const REPLACED_SHAPE_COST = 2;
const EXPECTED_FINE = 3;
/** Another rectangle at the hinted place must look better than the card by this much in log-odds, its shape left aside. */
const OTHER_LEAD = 0.5;

/**
 * What a hint, the lines beside it and the card's proportions suggest, best first; none when another rectangle is there.
 * Where that is not plainly the card, one corner of the hint may be off: a finger on it hides where it is.
 */
function expectedCards(photo: Photo, image: WorkingImage, lens: LensGuess, options: FindCardOptions): Examined[] {
  if (!options.hint) return [];
  const believe = believing(photo, options.hint);
  const hint = clockwise(options.hint.cornersPx.map((corner) => workingFromPhoto(image, corner)));
  const cardsNear = (guesses: readonly Quad[]): Examined[] => {
    const quads = expectedQuads(image, guesses, lens, options.reference, EXPECTED_KEPT);
    return examineExpected(
      photo,
      quads.map((quad) => toPhoto(image, quad)),
      options,
    );
  };
  const near = bestFirst(cardsNear([hint]).map(believe));
  if (near[0] && isPlainlyCard(near[0])) return near;
  const replaced = cardsNear(withOneCornerReplaced(hint, lens, options.reference))
    .filter((e) => e.evidence.shapeCost < REPLACED_SHAPE_COST)
    .map((e) => (e.evidence.hiddenCorner === null ? e : believe(e)));
  return bestFirst([...near, ...replaced]);
}

/** The best of the quads in full detail; none when another rectangle is seen best there. */
function examineExpected(photo: Photo, quads: readonly Quad[], options: FindCardOptions): Examined[] {
  const quick = quads
    .map((quad) => examine(photo, quad, options, QUICK_ROUNDS, Number.POSITIVE_INFINITY))
    .filter((e) => e !== null)
    .sort((a, b) => b.total - a.total);
  if (quick.length === 0) return [];
  const other = quick.find((e) => e.evidence.shapeCost > MAX_SHAPE_COST && looks(e) > looks(quick[0]) + OTHER_LEAD);
  if (other) return [];
  const best = distinct(quick).slice(0, EXPECTED_FINE);
  return best.map((e) => examine(photo, e.refined.quad, options, FINE_ROUNDS) ?? e);
}

function bestFirst(examined: readonly Examined[]): Examined[] {
  return straightestFirst(distinct([...examined].sort((a, b) => b.total - a.total)));
}

/**
 * Log-odds for being just where the network expects the card, given only to what has its proportions, and what each per
 * cent of the picture's long side takes away that the farthest corner in sight is off. From 170 generated pictures with a card and
 * 240 without one; checked on real rectangles that are no bank cards.
 */
const HINT_BONUS = 3.5;
const HINT_BONUS_PER_PCT = 0.7;
const HINT_SHAPE_COST = 6;

function believing(photo: Photo, hint: { readonly cornersPx: CornersPx }): (e: Examined) => Examined {
  const hinted = clockwise(hint.cornersPx);
  const pctPx = Math.max(photo.widthPx, photo.heightPx) / 100;
  return (e) => {
    if (e.evidence.shapeCost > HINT_SHAPE_COST) return e;
    const offPct = cornerDistance(e.refined.quad, hinted, e.evidence.hiddenCorner) / pctPx;
    return { ...e, total: e.total + Math.max(0, HINT_BONUS - HINT_BONUS_PER_PCT * offPct) };
  };
}

/** So clearly the card that nothing else in the photo need be looked at. */
function isPlainlyCard({ total, evidence: { shapeCost } }: Examined): boolean {
  return total > PLAIN_TOTAL && shapeCost < HINT_SHAPE_COST;
}
const PLAIN_TOTAL = 4.5;

interface Examined {
  readonly refined: RefinedQuad;
  readonly total: number;
  readonly evidence: CardEvidence;
}

function examine(
  photo: Photo,
  start: Quad,
  options: FindCardOptions,
  rounds: typeof QUICK_ROUNDS,
  maxShapeCost = LOOSE_SHAPE_COST,
): Examined | null {
  const refined = refineQuad(photo, start, options, rounds);
  const { quad, sides } = refined;
  if (!isConvex(quad)) return null;
  const lens = lensGuess(options.focalPrior, photo.widthPx, photo.heightPx, 1);
  const view = viewAsRectangle(quad, lens, options.reference, shapeSd(quad));
  if (!view || view.cost > maxShapeCost) return null;
  const { contrast, corners, glare, runOn: beyond } = borderEvidence(photo, quad, view.longSide, options.reference);
  const straight = sides.map((side) => side.fit.straight);
  const length = (k: number): number =>
    Math.hypot(quad[(2 * k + 2) % 8] - quad[2 * k], quad[(2 * k + 3) % 8] - quad[2 * k + 1]);
  const evidence: CardEvidence = {
    straight,
    contrast,
    corners,
    glare,
    hiddenCorner: hiddenCorner(sides, corners),
    runOn: beyond,
    shapeCost: view.cost,
    widthPx: (length(view.longSide) + length(view.longSide + 2)) / 2,
  };
  return { refined, total: logOdds(evidence), evidence };
}

/** Share of a side's last quarter below which it is lost there, and above which it is seen. */
const LOST_END = 0.5;
const SEEN_END = 0.6;
/** Fingers on corners are rarer than corners. */
const HIDDEN_CORNER_ODDS = 1;

/** @param corners  roundness; a rectangle that is too long for what lies there loses an end, too, but has a sharp corner beside it */
function hiddenCorner(sides: readonly RefinedSide[], corners: readonly number[]): number | null {
  const ends = [0, 1, 2, 3].map((k) => [sides[(k + 3) % 4].fit.straightEnds[1], sides[k].fit.straightEnds[0]]);
  const hidden = ends.findIndex(([before, after]) => Math.min(before, after) < LOST_END);
  const othersSeen = ends.every((shares, k) => k === hidden || (Math.min(...shares) > SEEN_END && corners[k] > 0));
  return hidden >= 0 && othersSeen ? hidden : null;
}

/**
 * Log-odds that a quad is the card rather than another rectangle: logistic regression over candidates from renders and
 * real photos with random exposure, blur, noise, compression, hue, crop and scale, checked by leaving each photo out
 * in turn; weights rounded. The rounded corners tell most: labels, books and tiles have sharp ones. A hidden corner
 * tells nothing.
 */
function logOdds({
  straight,
  contrast,
  corners,
  hiddenCorner,
  runOn: beyond,
  shapeCost,
  widthPx,
}: CardEvidence): number {
  // corners a few pixels across say little
  const trust = Math.min(1, widthPx / CLEAR_WIDTH_PX);
  const rounded = corners
    .filter((_, k) => k !== hiddenCorner)
    .map((c) => Math.max(-0.5, Math.min(0.5, c)) * trust)
    .sort((a, b) => a - b);
  return (
    -4.5 +
    3 * mean(straight) -
    8 * Math.max(0, NOISE_STRAIGHT - Math.min(...straight)) +
    7.5 * mean(rounded) +
    5.5 * rounded[1] -
    5 * Math.max(0, beyond - USUAL_RUN_ON) -
    (hiddenCorner === null ? 0 : HIDDEN_CORNER_ODDS) -
    6 * Math.max(0, USUAL_CLEARNESS - mean(contrast.map((c) => Math.min(1, c / CLEAR_CONTRAST)))) -
    shapePenalty(shapeCost)
  );
}

function shapePenalty(shapeCost: number): number {
  return 1.2 * Math.sqrt(Math.min(shapeCost, 20));
}

/** Log-odds without what the proportions say. */
function looks({ total, evidence }: Examined): number {
  return total + shapePenalty(evidence.shapeCost);
}

function finished(photo: Photo, sorted: readonly Examined[], options: FindCardOptions): CardCandidate[] {
  const hinted = options.hint && clockwise(options.hint.cornersPx);
  return sorted.slice(0, RETURNED).map(({ refined, total, evidence }, k) => {
    const rival = sorted.find((other, j) => j !== k && differ(other, refined.quad, 0.02 * evidence.widthPx));
    const score = 1 / (1 + Math.exp(-total));
    return {
      card: finishCard(photo, refined, options, score),
      total,
      lead: total - (rival?.total ?? NO_RIVAL),
      evidence,
      offHint: hinted
        ? cornerDistance(refined.quad, hinted, evidence.hiddenCorner) / evidence.widthPx
        : Number.POSITIVE_INFINITY,
    };
  });
}

function differ(a: Examined, quad: Quad, tolerancePx: number): boolean {
  return cornerDistance(a.refined.quad, quad) > tolerancePx;
}

/**
 * Beside a card's border often runs a shadow or a stripe. Of two quads that differ in one side only, the one whose two
 * corners there are clearly more rounded is right, for a stripe printed beside a faint border has none; else the one
 * whose side is clearly straighter, which inherits the other's odds.
 */
function straightestFirst(sorted: readonly Examined[]): Examined[] {
  const [leader, ...others] = sorted;
  if (!leader) return [];
  for (const other of others) {
    const gained = gainedInOneSide(leader, other);
    if (!gained || other.evidence.shapeCost > leader.evidence.shapeCost + TWIN_COST) continue;
    const isRounder = gained.rounded > CLEARLY_MORE_ROUNDED;
    const isStraighter = gained.straight > CLEARLY_STRAIGHTER && gained.rounded > -CLEARLY_MORE_ROUNDED;
    if (!isRounder && !isStraighter) continue;
    const total = isRounder ? other.total : Math.max(leader.total, other.total);
    return [{ ...other, total }, ...others.filter((e) => e !== other), leader];
  }
  return [...sorted];
}

/** By how much b's side is straighter, and the worse of its two corners is more rounded, where a and b differ in just one; null when they do not. */
function gainedInOneSide(a: Examined, b: Examined): { straight: number; rounded: number } | null {
  const tolerancePx = SAME_SIDE * a.evidence.widthPx;
  const p = a.refined.quad;
  const q = b.refined.quad;
  const roundedAt = ({ corners }: CardEvidence, side: number): number =>
    Math.min(corners[side], corners[(side + 1) % 4]);
  for (let shift = 0; shift < 4; shift++) {
    const distance = (k: number): number => {
      const j = (k + shift) % 4;
      return Math.hypot(p[2 * k] - q[2 * j], p[2 * k + 1] - q[2 * j + 1]);
    };
    for (let k = 0; k < 4; k++) {
      const same = distance((k + 2) % 4) < tolerancePx && distance((k + 3) % 4) < tolerancePx;
      const near = Math.max(distance(k), distance((k + 1) % 4)) < TWIN_SIDE * a.evidence.widthPx;
      if (!same || !near) continue;
      const j = (k + shift) % 4;
      return {
        straight: b.evidence.straight[j] - a.evidence.straight[k],
        rounded: roundedAt(b.evidence, j) - roundedAt(a.evidence, k),
      };
    }
  }
  return null;
}

/** Best first; of quads that coincide within 1 % of their size only the best. */
function distinct(sorted: readonly Examined[]): Examined[] {
  const kept: Examined[] = [];
  for (const e of sorted) {
    if (kept.every((other) => differ(other, e.refined.quad, 0.01 * e.evidence.widthPx))) kept.push(e);
  }
  return kept;
}

/** Largest distance between corresponding corners, whichever corner either quad starts with; one of a's may be left out. */
function cornerDistance(a: Quad, b: Quad, leftOut: number | null = null): number {
  let best = Number.POSITIVE_INFINITY;
  for (let shift = 0; shift < 8; shift += 2) {
    let worst = 0;
    for (let k = 0; k < 8; k += 2) {
      if (k / 2 === leftOut) continue;
      const j = (k + shift) % 8;
      worst = Math.max(worst, Math.hypot(a[k] - b[j], a[k + 1] - b[j + 1]));
    }
    best = Math.min(best, worst);
  }
  return best;
}

function toPhoto(image: WorkingImage, quad: Quad): Quad {
  const full = new Float64Array(8);
  for (let k = 0; k < 8; k += 2) full.set(photoFromWorking(image, quad[k], quad[k + 1]), k);
  return full;
}

function topBy<T>(items: readonly T[], score: (item: T) => number, count: number): T[] {
  return items
    .map((item) => ({ item, score: score(item) }))
    .sort((a, b) => b.score - a.score)
    .slice(0, count)
    .map(({ item }) => item);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}
