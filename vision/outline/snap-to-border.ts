import type { ImagePoint } from '../geometry/frames.ts';
import { signedDistance } from '../geometry/polygon.ts';
import type { Picture } from '../picture/picture.ts';
import {
  type BorderSample,
  borderCosts,
  type ColourReader,
  GROUND_MARGIN,
  placeOffset,
  readProfiles,
} from './border-profiles.ts';
import { cheapestPath } from './cheapest-path.ts';
import { addMaskCosts, type MaskPreference } from './mask-costs.ts';
import { sampleColour } from './sample-colour.ts';

/** Where one piece of an expected outline really runs. */
export interface SnappedSample {
  /** Along the outward normal, photo px. */
  readonly offsetPx: number;
  /** 0..1: lead over other places; 0 where nothing can be seen. */
  readonly clarity: number;
  /** 0 (a sure border) to about 1.2 (none at all). */
  readonly cost: number;
  /** False behind the card and beyond the photo's border. */
  readonly visible: boolean;
}

export interface SnapSettings {
  /** How far the border may be from the expected outline, photo px. */
  readonly reachPx: number;
  /** Regions of the photo where the container's border cannot be seen: the card. */
  readonly hiddenPx: readonly (readonly ImagePoint[])[];
  readonly hiddenMarginPx: number;
  readonly maskPreference?: MaskPreference;
}

/** The reach is searched in this many steps each way. */
export const SNAP_TAPS = 9;
const TAPS = SNAP_TAPS;
const STEP_COST = 0.1;
const MOST_STEP = 3;
const STAY = 0.4;
const NEXT_TO = 2;
const CLEAR_LEAD = 0.2;
/** Costlier borders than this are as good as none; they count fully when cheaper by 0.4. */
const FAINT_COST = 0.9;

/**
 * Moves every sample of an expected outline along its normal to the most likely border; neighbours move alike.
 * @param samples  photo frame, in order round the outline, a few px apart
 */
export function snapToBorder(
  picture: Picture,
  samples: readonly BorderSample[],
  { reachPx, hiddenPx, hiddenMarginPx, maskPreference }: SnapSettings,
): SnappedSample[] {
  const stepPx = reachPx / TAPS;
  const read: ColourReader = (x, y, colour) => sampleColour(picture, [x, y], colour);
  const profiles = readProfiles(samples, TAPS + GROUND_MARGIN, stepPx, read);
  const places = 2 * TAPS + 1;
  const costs = borderCosts(profiles, TAPS);
  const visible = samples.map(
    ({ x, y }, i) =>
      profiles.inPicture[i] === 1 && !hiddenPx.some((polygon) => signedDistance(polygon, [x, y]) < hiddenMarginPx),
  );
  if (maskPreference) {
    const at = (i: number, k: number): ImagePoint => {
      const offset = placeOffset(k, TAPS) * stepPx;
      return [samples[i].x + offset * samples[i].normalX, samples[i].y + offset * samples[i].normalY];
    };
    addMaskCosts(costs, places, (i) => [at(i, 0), at(i, places - 1)], maskPreference);
  }
  for (let i = 0; i < samples.length; i++) {
    for (let k = 0; k < places; k++) {
      const at = i * places + k;
      costs[at] = (visible[i] ? costs[at] : 0) + STAY * (placeOffset(k, TAPS) / TAPS) ** 2;
    }
  }
  const path = cheapestPath(costs, samples.length, places, STEP_COST, MOST_STEP);
  return samples.map((_, i) => ({
    offsetPx: placeOffset(path[i], TAPS) * stepPx,
    clarity: visible[i] ? clarity(costs, i, places, path[i]) : 0,
    cost: costs[i * places + path[i]],
    visible: visible[i],
  }));
}

function clarity(costs: Float32Array, i: number, places: number, chosen: number): number {
  let rival = Number.POSITIVE_INFINITY;
  for (let k = 0; k < places; k++) {
    if (Math.abs(k - chosen) > NEXT_TO) rival = Math.min(rival, costs[i * places + k]);
  }
  const cost = costs[i * places + chosen];
  const strength = Math.min(Math.max((FAINT_COST - cost) / 0.4, 0), 1);
  return strength * Math.min(Math.max((rival - cost) / CLEAR_LEAD, 0), 1);
}
