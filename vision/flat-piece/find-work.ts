import type { ImagePoint } from '../geometry/frames.ts';
import type { Photo } from '../picture/photo.ts';
import { type CoarsePicture, coarsePicture, photoFromCoarse, polygonMask } from './coarse-picture.ts';
import { type ColourModel, type Darkness, type LogColour, learnColours, shadowsTakenForYarn } from './colour-model.ts';
import { dilate, distanceTo, erode, fillHoles, maskOf, open, regions, touchesFrame } from './mask.ts';
import type { SeenReference } from './seen-reference.ts';
import { distanceFromTable } from './table-colours.ts';

/** Yarn against table, under three beliefs about dark rims: what they may do to the edge shows in the difference. */
export interface WorkColours {
  readonly likely: ColourModel;
  /** Every dark rim is yarn; every dark rim is shadow. */
  readonly extremes: readonly [ColourModel, ColourModel];
}

/** The piece of work as first found: good to a few mm. */
export interface FoundWork {
  /** Pixels of its region next to the table, photo px, in no order. */
  readonly borderPx: readonly ImagePoint[];
  readonly colours: WorkColours;
  /** Most shadows on this table have the colour of the yarn: grey yarn on a white table. */
  readonly isLikeShadow: boolean;
  /** False when the yarn is hardly unlike the table. */
  readonly standsOut: boolean;
  readonly cutByFrame: boolean;
}

/** Anything narrower than this is yarn, a hook or a scrap, mm. */
const LEAST_WIDTH_MM = 14;
/** Smallest piece worth measuring, as a square of this side, mm. */
const LEAST_SIDE_MM = 20;
/** How far around the work the table's colours are learned, mm. */
const SURROUNDINGS_MM = 45;
/** A shadow of work a few mm thick seldom reaches farther, mm. */
const SHADOW_REACH_MM = 12;
/** A shadow lies on half of the ground next to the work when the lamp is low, on none when it is high. */
const LIKELY: Darkness = { shadowShare: 0.4, undersideShare: 0.3 };
const ALL_YARN: Darkness = { shadowShare: 0.02, undersideShare: 0.5 };
const ALL_SHADOW: Darkness = { shadowShare: 0.9, undersideShare: 0 };
/** Squared distance from the table's colours, in standard deviations, that is no longer table; the second for yarn like it. */
const UNLIKE_TABLE = [16, 7] as const;
/** As many pixels as a histogram needs. */
const MOST_COLOURS = 3000;
/** Share of the picture along its border that is most likely table. */
const BORDER_SHARE = 0.07;

/**
 * Finds the piece of work: the largest thing on the table that is neither the card nor thin.
 * First the table is learned from the picture's border and the card's surroundings, then the colours of yarn and table
 * from what stands out; shadows count as table.
 * @param insidePx  a point inside the work, when the maker tapped it
 * @returns null when nothing stands out
 */
export function findWork(photo: Photo, reference: SeenReference, insidePx: ImagePoint | null): FoundWork | null {
  const picture = coarsePicture(photo);
  const pxPerMm = coarsePxPerMm(picture, reference);
  const cardMask = dilate(polygonMask(picture, reference.outlinePx), picture, Math.max(1.5, 1.5 * pxPerMm));
  const openingPx = Math.max(1, (LEAST_WIDTH_MM / 2) * pxPerMm);
  const leastArea = (LEAST_SIDE_MM * pxPerMm) ** 2;
  const pick = (mask: Uint8Array): Uint8Array | null =>
    chooseRegion(open(fillHoles(mask, picture), picture, openingPx), picture, leastArea, insidePx);

  const unlike = unlikenessToTable(picture, cardMask, pxPerMm);
  const clear = pick(above(unlike, UNLIKE_TABLE[0]));
  let region = clear ?? pick(above(unlike, UNLIKE_TABLE[1]));
  let seen: SeenColours | null = null;
  for (let round = 0; region && round < 2; round++) {
    seen = coloursAround(picture, region, cardMask, pxPerMm);
    if (!seen) return null;
    const near = dilate(region, picture, 6 * pxPerMm);
    region = pick(yarnMask(picture, learnColours(seen.yarn, seen.table, LIKELY), near, cardMask));
  }
  if (!region || !seen) return null;
  const learn = (darkness: Darkness): ColourModel => learnColours(seen.yarn, seen.table, darkness);
  const likely = learn(LIKELY);
  return {
    borderPx: border(region, picture),
    isLikeShadow: shadowsTakenForYarn(likely, seen.table) > 0.5,
    colours: { likely, extremes: [learn(ALL_YARN), learn(ALL_SHADOW)] },
    standsOut: clear !== null,
    cutByFrame: touchesFrame(members(region), picture),
  };
}

function coarsePxPerMm(picture: CoarsePicture, { outlinePx, areaMm2 }: SeenReference): number {
  const areaPx = outlinePx.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = outlinePx[(i + 1) % outlinePx.length];
    return sum + (x * nextY - nextX * y) / 2;
  }, 0);
  return Math.sqrt(Math.abs(areaPx) / areaMm2 / (picture.scaleX * picture.scaleY));
}

/** Squared distance of every pixel from the table's colours, in standard deviations; 0 on the card. */
function unlikenessToTable(picture: CoarsePicture, cardMask: Uint8Array, pxPerMm: number): Float32Array {
  const { widthPx, heightPx } = picture;
  const rim = BORDER_SHARE * Math.min(widthPx, heightPx);
  const toCard = distanceTo(cardMask, picture);
  const likely = Uint8Array.from(cardMask, (onCard, at) => {
    const x = at % widthPx;
    const y = (at - x) / widthPx;
    const atRim = Math.min(x, y, widthPx - 1 - x, heightPx - 1 - y) < rim;
    return !onCard && (atRim || toCard[at] < 8 * pxPerMm) ? 1 : 0;
  });
  return distanceFromTable(averaged(picture), likely).map((d, at) => (cardMask[at] ? 0 : d));
}

/** Each pixel the mean of the 5 × 5 around it: evens out the grain of a table. */
function averaged(picture: CoarsePicture): CoarsePicture {
  const { widthPx, heightPx } = picture;
  const [red, green, blue] = picture.logLight.map((plane) =>
    plane.map((_, at) => {
      const x = at % widthPx;
      const y = (at - x) / widthPx;
      let sum = 0;
      for (let dy = -2; dy <= 2; dy++) {
        const row = Math.min(heightPx - 1, Math.max(0, y + dy)) * widthPx;
        for (let dx = -2; dx <= 2; dx++) sum += plane[row + Math.min(widthPx - 1, Math.max(0, x + dx))];
      }
      return sum / 25;
    }),
  );
  return { ...picture, logLight: [red, green, blue] };
}

function above(values: Float32Array, limit: number): Uint8Array {
  return Uint8Array.from(values, (value) => (value > limit ? 1 : 0));
}

function chooseRegion(
  mask: Uint8Array,
  picture: CoarsePicture,
  leastArea: number,
  insidePx: ImagePoint | null,
): Uint8Array | null {
  const large = regions(mask, picture).filter((region) => region.length >= leastArea);
  if (insidePx) {
    const x = Math.round((insidePx[0] + 0.5) / picture.scaleX - 0.5);
    const y = Math.round((insidePx[1] + 0.5) / picture.scaleY - 0.5);
    const tapped = large.find((region) => region.includes(y * picture.widthPx + x));
    return tapped ? maskOf(tapped, picture) : null;
  }
  const whole = large.find((region) => !touchesFrame(region, picture));
  const chosen = whole ?? large[0];
  return chosen ? maskOf(chosen, picture) : null;
}

interface SeenColours {
  readonly yarn: readonly LogColour[];
  readonly table: readonly LogColour[];
}

function coloursAround(
  picture: CoarsePicture,
  region: Uint8Array,
  cardMask: Uint8Array,
  pxPerMm: number,
): SeenColours | null {
  const area = region.reduce((sum, value) => sum + value, 0);
  // The first region may hold a shadow: its middle half is surely yarn.
  const core = members(erode(region, picture, 0.15 * Math.sqrt(area)));
  const away = distanceTo(region, picture);
  const ground = members(
    region.map((_, at) =>
      !cardMask[at] && away[at] > SHADOW_REACH_MM * pxPerMm && away[at] < SURROUNDINGS_MM * pxPerMm ? 1 : 0,
    ),
  );
  if (core.length < 30 || ground.length < 30) return null;
  return { yarn: coloursAt(picture, core), table: coloursAt(picture, ground) };
}

function yarnMask(picture: CoarsePicture, colours: ColourModel, near: Uint8Array, cardMask: Uint8Array): Uint8Array {
  const [red, green, blue] = picture.logLight;
  const evidence = Float32Array.from(near, (isNear, at) =>
    isNear && !cardMask[at] ? colours.evidence(red[at], green[at], blue[at]) : -1,
  );
  const { widthPx, heightPx } = picture;
  return near.map((isNear, at) => {
    if (!isNear || cardMask[at]) return 0;
    const x = at % widthPx;
    const y = (at - x) / widthPx;
    let sum = 0;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const [u, v] = [Math.min(widthPx - 1, Math.max(0, x + dx)), Math.min(heightPx - 1, Math.max(0, y + dy))];
        sum += evidence[v * widthPx + u];
      }
    }
    return sum > 0 ? 1 : 0;
  });
}

function coloursAt({ logLight }: CoarsePicture, places: Int32Array): LogColour[] {
  const every = Math.ceil(places.length / MOST_COLOURS);
  return Array.from(
    places.filter((_, i) => i % every === 0),
    (at): LogColour => [logLight[0][at], logLight[1][at], logLight[2][at]],
  );
}

function members(mask: Uint8Array): Int32Array {
  return Int32Array.from(mask.keys()).filter((at) => mask[at] === 1);
}

function border(region: Uint8Array, picture: CoarsePicture): ImagePoint[] {
  const { widthPx } = picture;
  return Array.from(members(region))
    .filter((at) => !(region[at - 1] && region[at + 1] && region[at - widthPx] && region[at + widthPx]))
    .map((at) => photoFromCoarse(picture, at % widthPx, Math.floor(at / widthPx)));
}
