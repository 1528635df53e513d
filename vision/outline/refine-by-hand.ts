import { type ContainerFit, fitContainer } from '../container/fit-container.ts';
import { type HandPlacement, handPoints, isLeftOut, isSpokenFor } from '../container/hand-placement.ts';
import { type SolidInView, silhouetteOf, solidOf } from '../container/solid-in-view.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { longSideOf } from '../geometry/polygon.ts';
import type { Arrangement } from '../measurement.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import type { OutlinePoint, OutlineSighting } from '../sighting.ts';
import { type LedSample, maskByHand } from './mask-by-hand.ts';
import type { MaskPreference } from './mask-costs.ts';
import {
  located,
  type ModelRefinement,
  type NoFit,
  type SightWithoutOutline,
  type Surroundings,
  snapped,
} from './refine-with-model.ts';

/** Where the hand begins: what was found, or at least guessed. */
export interface BeforeHand {
  readonly arrangement: Arrangement;
  readonly outline: OutlineSighting;
  /** What is drawn on the photo. */
  readonly solid: SolidInView;
  /** The fit that explains the outline; null when none did. */
  readonly fit: ContainerFit | null;
}

/** What the network saw, where it is there at all. */
export interface MaskHint {
  readonly mask: CoarseMask;
  readonly toleranceShare: number;
}

export interface HandRefinement extends ModelRefinement {
  /** The mask as the hand left it; null without one. */
  readonly maskPreference: MaskPreference | null;
}

/** The first search beside what the hand led to: share of the long side, and all that a hand does not leave behind on purpose. */
const FIRST_REACH_SHARE = 0.012;
/** A hand this many of its sds from an edge has missed it once in 370 times: up to there the edge is meant, beyond it is asked about. */
const REACH_SDS = 3;
const SILHOUETTE_PIECES = 160;
const FEWEST_POINTS = 12;

/**
 * The outline and the solid after a hand has moved some of it: fitted to her points and to what was found elsewhere, then
 * looked for anew in the pixels beside the solid she led to, so that a hand near a clear edge ends on the edge.
 */
export function refineByHand(
  around: Surroundings,
  sight: SightWithoutOutline,
  before: BeforeHand,
  hand: readonly HandPlacement[],
  network: MaskHint | null,
): HandRefinement | NoFit {
  const points = handPoints(hand);
  const fitTo = fitterWith(sight, before.arrangement, points);
  const first = fitByHand(sight, before, hand);
  if (!first) return { reason: 'fit-failed' };

  const solid = solidOf(first.state, first.model.curve);
  const led = ledSamples(solid, hand);
  const longSidePx = longSideOf(led.map(({ x, y }): ImagePoint => [x, y]));
  const handSdPx = Math.max(0, ...points.map(({ sdPx }) => sdPx));
  const maskPreference = network && {
    mask: maskByHand(network.mask, led, handSdPx),
    tolerancePx: network.toleranceShare * longSidePx,
  };
  const surroundings: Surroundings = { ...around, maskPreference: maskPreference ?? undefined };
  const withoutLeftOut = (outline: OutlineSighting): OutlineSighting => ({
    ...outline,
    points: outline.points.filter((point) => !isLeftOut(hand, point)),
  });

  const reachPx = Math.max(FIRST_REACH_SHARE * longSidePx, REACH_SDS * handSdPx);
  const rough = { polygonPx: led.map(({ x, y }): ImagePoint => [x, y]), points: [] };
  const beside = withoutLeftOut(snapped(surroundings, first, rough, { reachPx, longSidePx }));
  const second = (beside.points.length >= FEWEST_POINTS && fitTo(beside, first)) || first;
  const last = located(surroundings, second, rough, longSidePx);
  const outline = withoutLeftOut(last.outline);
  const fit = (outline.points.length >= FEWEST_POINTS && fitTo(outline, second)) || second;
  // a hand is in the fit already: no second opinion to hold against it
  return { ...last, fit, roughFit: fit, outline, maskPreference };
}

/** The solid fitted to a hand's points and to what was found where no hand has spoken, no pixel looked at; null when none fits. */
export function fitByHand(
  sight: SightWithoutOutline,
  before: BeforeHand,
  hand: readonly HandPlacement[],
): ContainerFit | null {
  const fitTo = fitterWith(sight, before.arrangement, handPoints(hand));
  const released = { ...before.outline, points: elsewhere(before, hand) };
  return fitTo(released, before.fit) ?? (before.fit && fitTo(before.outline, null));
}

/** Fits however badly the photo is explained: what is wrong with it is said in the end. */
function fitterWith(sight: SightWithoutOutline, arrangement: Arrangement, hand: readonly OutlinePoint[]) {
  return (outline: OutlineSighting, start: ContainerFit | null): ContainerFit | null => {
    const result = fitContainer({ ...sight, outline, hand }, { arrangement, start: start ?? undefined });
    return result.ok ? result.fit : (result.unusable ?? result.torn ?? null);
  };
}

/** What was found where no hand has spoken. */
function elsewhere({ outline, solid }: BeforeHand, hand: readonly HandPlacement[]): OutlineSighting['points'] {
  const led = ledSamples(solid, hand);
  return outline.points.filter((point) => !isLeftOut(hand, point) && !nearestOf(led, point)?.isSpokenFor);
}

/** Whether a hand has moved the solid well away from the edges that were found in its stretches. */
export function leavesEdgesBehind(
  { outline, solid }: BeforeHand,
  hand: readonly HandPlacement[],
  fit: ContainerFit,
): boolean {
  const led = ledSamples(solid, hand);
  fit.model.stateAt(fit.solution.parameters);
  const now = ledSamples(solidOf(fit.state, fit.model.curve), hand);
  const handSdPx = Math.max(0, ...handPoints(hand).map(({ sdPx }) => sdPx));
  const away = outline.points
    .filter((point) => !isLeftOut(hand, point) && nearestOf(led, point)?.isSpokenFor)
    .map((point) => {
      const nearest = nearestOf(now, point);
      return nearest ? Math.hypot(nearest.x - point.xPx, nearest.y - point.yPx) : 0;
    })
    .sort((a, b) => a - b);
  return away.length > 0 && away[away.length >> 1] > REACH_SDS * handSdPx;
}

function nearestOf(samples: readonly LedSample[], { xPx, yPx }: Pick<OutlinePoint, 'xPx' | 'yPx'>): LedSample | null {
  let nearest: LedSample | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const sample of samples) {
    const away = Math.hypot(sample.x - xPx, sample.y - yPx);
    if (away < least) [least, nearest] = [away, sample];
  }
  return nearest;
}

function ledSamples(solid: SolidInView, hand: readonly HandPlacement[]): LedSample[] {
  const heightMm = solid.profile[solid.profile.length - 1].zMm;
  const coarse = silhouetteOf(solid, 8);
  const step = Math.max(1, Math.floor(coarse.length / SILHOUETTE_PIECES));
  return coarse
    .filter((_, k) => k % step === 0)
    .map(({ xPx, yPx, normalX, normalY, zMm, side }) => ({
      x: xPx,
      y: yPx,
      normalX,
      normalY,
      isSpokenFor: isSpokenFor(hand, { xPx, yPx, share: zMm / heightMm, side }),
    }));
}
