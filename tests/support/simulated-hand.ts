import type { HandPlacement, PlacedFeature } from '../../vision/container/hand-placement.ts';
import {
  handlesOf,
  isSameHandle,
  placementOf,
  pulled,
  type SolidHandle,
} from '../../vision/container/solid-handles.ts';
import type { SolidInView } from '../../vision/container/solid-in-view.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { signedDistance } from '../../vision/geometry/polygon.ts';
import type { MeasureOptions } from '../../vision/measure-photo.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import { overlap } from '../../web/commands/accuracy-score.ts';
import type { Truth } from '../../web/commands/truth.ts';
import type { SeededRandom } from './seeded-random.ts';

/** A phone in the hand: CSS px that the whole photo is shown in. */
const SCREEN_CSS = [390, 520] as const;
const LARGEST_ZOOM = 4;
/** What a finger is off when it is let go, across and along, each; and what an eye sees that ought to be moved. */
const FINGER_SD_CSS = 3;
const SEEN_CSS = 4;
export const MOST_DRAGS = 6;
/** What overlaps the true silhouette by less than this is another thing. */
const SAME_THING = 0.3;

export interface HandWork {
  readonly options: MeasureOptions;
  readonly result: MeasureResult;
  /** Taps, answers, corners and handles, one each. */
  readonly moves: number;
}

type Measure = (options: MeasureOptions) => MeasureResult;

/** A maker who sees the true edges and puts the drawing right, one move after the other, with the error of a finger. */
export class SimulatedHand {
  private readonly scale: number;

  constructor(
    private readonly truth: Truth,
    private readonly random: SeededRandom,
    private readonly measure: Measure,
  ) {
    const { imageWidthPx, imageHeightPx } = truth;
    this.scale = Math.min(SCREEN_CSS[0] / imageWidthPx, SCREEN_CSS[1] / imageHeightPx);
  }

  /** Puts right what she sees to be off by more than 4 CSS px at her zoom. */
  putRight(found: MeasureResult, atMost = MOST_DRAGS): HandWork {
    let work: HandWork = { options: {}, result: found, moves: 0 };
    const again = (options: MeasureOptions, moves = 1) => {
      work = { options, result: this.measure(options), moves: work.moves + moves };
    };
    const { truth } = this;
    if (work.result.outcome === 'refused' && !work.result.found.cornersPx && truth.cornersPx) {
      const cornersPx = this.corners(truth.cornersPx);
      again({ ...work.options, cornersPx, placementSdPx: this.fingerPx(2), snapCorners: true }, 4);
    }
    if (truth.insidePx && !this.isSameThing(work.result)) again({ ...work.options, tapPx: truth.insidePx });
    if (work.result.outcome === 'refused' && ASKED.includes(work.result.reason.code)) {
      again({ ...work.options, arrangement: truth.arrangement });
    }
    while (work.moves < atMost) {
      const zoom = this.random.uniform(1, LARGEST_ZOOM);
      const handles = [...this.offHandles(work.result)].sort((a, b) => Math.abs(b.offPx) - Math.abs(a.offPx));
      // a refused drawing that is right has to be touched for the program to know
      const off = handles.find(({ offPx }) => Math.abs(offPx) * this.scale * zoom > SEEN_CSS);
      const isRefused = work.result.outcome === 'refused' && handles.length > 0;
      const farthest = off ?? (isRefused ? this.random.pick(handles) : undefined);
      if (!farthest) break;
      again({ ...work.options, hand: this.moved(work, farthest, zoom) });
    }
    return work;
  }

  /** Whether she would leave everything as it is. */
  isRight(result: MeasureResult): boolean {
    if (result.outcome === 'refused') return false;
    return this.offHandles(result).every(({ offPx }) => Math.abs(offPx) * this.scale * LARGEST_ZOOM < 2 * SEEN_CSS);
  }

  /** Takes two handles that were right and sets them down again. */
  nudge(found: MeasureResult): HandWork {
    let work: HandWork = { options: {}, result: found, moves: 0 };
    for (let k = 0; k < 2; k += 1) {
      const handles = this.offHandles(work.result);
      if (handles.length === 0) break;
      const zoom = this.random.uniform(1, LARGEST_ZOOM);
      const options = { ...work.options, hand: this.moved(work, this.random.pick(handles), zoom) };
      work = { options, result: this.measure(options), moves: work.moves + 1 };
    }
    return work;
  }

  private fingerPx(zoom: number): number {
    return FINGER_SD_CSS / (this.scale * zoom);
  }

  private corners(corners: CornersPx): CornersPx {
    const [a, b, c, d] = corners.map((corner) => this.dropped(corner, 2));
    return [a, b, c, d];
  }

  private dropped([x, y]: ImagePoint, zoom: number): ImagePoint {
    const sd = this.fingerPx(zoom);
    return [x + this.random.normal(sd), y + this.random.normal(sd)];
  }

  private moved({ options, result }: HandWork, { handle, toPx }: OffHandle, zoom: number): readonly HandPlacement[] {
    const solid = solidOfResult(result) as SolidInView;
    const atPx = this.dropped(toPx, zoom);
    const placed = placementOf(handle, pulled(solid, handle, atPx), atPx, this.fingerPx(zoom));
    return [...without(options.hand ?? [], placed), placed];
  }

  private isSameThing(result: MeasureResult): boolean {
    const outline = result.outcome === 'measured' ? result.measurement.outlinePx : result.found.outlinePx;
    return !!outline && outline.length > 2 && overlap(outline, this.truth.outlinePx ?? []) > SAME_THING;
  }

  /** Handles where she can see the true edge, with how far out along the handle's normal it is. */
  private offHandles(result: MeasureResult): readonly OffHandle[] {
    const { outlinePx, cornersPx, arrangement } = this.truth;
    const solid = solidOfResult(result);
    if (!solid || !outlinePx) return [];
    const shoulder = result.outcome === 'measured' ? result.measurement.features.shoulderZMm : null;
    const inFront = arrangement === 'card-on-front' || arrangement === 'card-leaning';
    return handlesOf(solid, shoulder?.value ?? null)
      .filter(({ feature }) => feature !== 'tilt' && feature !== 'shoulder')
      .flatMap((handle) => {
        const toPx = crossing(outlinePx, handle);
        if (!toPx || (inFront && cornersPx && signedDistance(cornersPx, toPx) < 0)) return [];
        const [dx, dy] = [toPx[0] - handle.atPx[0], toPx[1] - handle.atPx[1]];
        return [{ handle, toPx, offPx: dx * handle.normal[0] + dy * handle.normal[1] }];
      });
  }
}

const ASKED: readonly string[] = ['which-arrangement', 'stands-or-lies'];

interface OffHandle {
  readonly handle: SolidHandle;
  readonly toPx: ImagePoint;
  readonly offPx: number;
}

export function solidOfResult(result: MeasureResult): SolidInView | null {
  if (result.outcome === 'refused') return result.found.solid ?? null;
  const { view, profile } = result.measurement;
  return view && { view, profile };
}

function without(hand: readonly HandPlacement[], placed: PlacedFeature): HandPlacement[] {
  return hand.filter((other) => other.feature === 'left-out' || !isSameHandle(other, placed));
}

/** Where the line across the edge at a handle meets the true silhouette, nearest to the handle. */
function crossing(polygon: readonly ImagePoint[], { atPx: [x, y], normal: [nx, ny] }: SolidHandle): ImagePoint | null {
  let least = Number.POSITIVE_INFINITY;
  polygon.forEach(([ax, ay], k) => {
    const [bx, by] = polygon[(k + 1) % polygon.length];
    const a = (ax - x) * ny - (ay - y) * nx;
    const b = (bx - x) * ny - (by - y) * nx;
    if (a <= 0 === b <= 0) return;
    const share = a / (a - b);
    const t = (ax + share * (bx - ax) - x) * nx + (ay + share * (by - ay) - y) * ny;
    if (Math.abs(t) < Math.abs(least)) least = t;
  });
  return Number.isFinite(least) ? [x + least * nx, y + least * ny] : null;
}
