import type { ImagePoint } from '../geometry/frames.ts';
import type { Arrangement } from '../measurement.ts';
import type { Cv, Mat } from '../opencv/cv.ts';
import { cvError } from '../opencv/cv-error.ts';
import { MatScope } from '../opencv/mat-scope.ts';
import type { Photo } from '../picture/photo.ts';
import type { OutlineModel } from './outline-model.ts';
import { areClose, type Peak, peakOf, probabilities, softmax } from './read-maps.ts';

/** What the small network makes of a whole photo at a glance: good to about a hundredth of the picture, never the measurement. */
export interface CoarseSighting {
  /** Container body with cap and lid, without a handle; includes what the card hides. */
  readonly bodyMask: CoarseMask;
  /** Visible face of the card, with what a finger or a band hides of it. */
  readonly cardMask: CoarseMask;
  /** Corner guesses, clockwise as seen from the top-left one. Null when `cardPresent` is below 0.5. */
  readonly cardCornersPx: readonly [CoarseCorner, CoarseCorner, CoarseCorner, CoarseCorner] | null;
  /** Centres of the base and of the top of the container, where its axis meets them. */
  readonly axisPx: { readonly base: CoarsePoint; readonly top: CoarsePoint };
  /** Probabilities that add up to 1. */
  readonly arrangementScores: Readonly<Record<Arrangement, number>>;
  readonly containerPresent: number;
  readonly round: number;
  readonly cutByFrame: number;
  readonly cardPresent: number;
  /** Other containers, where they are seen; weaker than the body mask. */
  readonly otherMask: CoarseMask;
  /** Read along the body's border: probability that the border is seen there and that the body mask has it right. */
  readonly borderMask: CoarseMask;
  /** Whether the rim of an end is seen: 0 when the container itself, the card or another thing hides it. */
  readonly baseSeen: number;
  readonly topSeen: number;
  /** Whether a container that stands does so on a saucer, coaster or the like, and not on the table. */
  readonly onSomething: number;
  /** How many quarter turns clockwise the photo has been turned, 0 to 3: probabilities that add up to 1. Says nothing of what lies. */
  readonly turnScores: readonly [number, number, number, number];
}

/** A grid of probabilities laid over the photo. */
export interface CoarseMask {
  readonly widthCells: number;
  readonly heightCells: number;
  /** Row by row, 0..1. */
  readonly probability: Float32Array;
  /** Photo pixel at the centre of cell (0, 0). */
  readonly originPx: ImagePoint;
  /** Photo pixels from one cell's centre to the next, across and down: cell (c, r) sits at origin + (c, r) · pxPerCell. */
  readonly pxPerCell: readonly [xPx: number, yPx: number];
}

/** One guessed point, image frame. */
export interface CoarsePoint {
  readonly atPx: ImagePoint;
  /** 0..1: how much of its belief the network puts within two cells of the point. */
  readonly confidence: number;
}

/** A corner of the card. */
export interface CoarseCorner extends CoarsePoint {
  /** Probability that nothing hides it. */
  readonly seen: number;
}

const LONG_SIDE_PX = 320;
/** The network halves its picture four times. */
const STEP_PX = 16;
const CELL_PX = 4;
const BODY = 0;
const CARD = 1;
const CORNERS = [2, 3, 4, 5] as const;
const BASE = 6;
const TOP = 7;
const OTHER = 8;
const CORNER_SEEN = 9;
const BORDER = 10;
/** Scores after the four arrangements that are questions of their own; the four turns follow. */
const YES_OR_NO = 7;
/** Standard deviation of the bump that tells the network of a tap, in its own pixels: as in training. */
const TAP_SD_PX = 7;

/**
 * Looks at the photo once with the network: about 0.13 s at any photo size.
 * @param tapPx  a point inside the container that is meant; without one the largest or most central is
 * @throws Error with OpenCV's message when the network cannot run.
 */
export function coarseSighting(model: OutlineModel, photo: Photo, tapPx?: ImagePoint): CoarseSighting {
  const [width, height] = inputSize(photo);
  const { maps, scores } = runNetwork(model, { photo, tapPx }, width, height);
  const widthCells = width / CELL_PX;
  const heightCells = height / CELL_PX;
  const cells = widthCells * heightCells;
  const grid = placeGrid(photo, width, height);
  const map = (index: number) => maps.subarray(index * cells, (index + 1) * cells);
  const mask = (index: number): CoarseMask => ({
    widthCells,
    heightCells,
    probability: probabilities(map(index)),
    ...grid,
  });
  const cornersSeen = map(CORNER_SEEN);
  const corner = (index: number): CoarseCorner => {
    const peak = peakOf(map(index), widthCells);
    const at = Math.round(peak.row) * widthCells + Math.round(peak.column);
    return { ...onPhoto(peak, grid), seen: probabilities(cornersSeen.subarray(at, at + 1))[0] ?? 0 };
  };

  const [standing, lying, onFront, leaning, ...others] = scores;
  const arrangement = softmax(Float32Array.of(standing ?? 0, lying ?? 0, onFront ?? 0, leaning ?? 0));
  const yesOrNo = probabilities(Float32Array.from(others.slice(0, YES_OR_NO)));
  const [containerPresent = 0, round = 0, cutByFrame = 0, cardPresent = 0, baseSeen = 0, topSeen = 0, onSomething = 0] =
    yesOrNo;
  const [upright = 0, right = 0, over = 0, left = 0] = softmax(Float32Array.from(others.slice(YES_OR_NO)));
  const [a, b, c, d] = CORNERS;
  return {
    bodyMask: mask(BODY),
    cardMask: mask(CARD),
    cardCornersPx: cardPresent < 0.5 ? null : [corner(a), corner(b), corner(c), corner(d)],
    axisPx: axisEnds(map(BASE), map(TOP), widthCells, grid),
    arrangementScores: {
      standing: arrangement[0] ?? 0,
      lying: arrangement[1] ?? 0,
      'card-on-front': arrangement[2] ?? 0,
      'card-leaning': arrangement[3] ?? 0,
    },
    containerPresent,
    round,
    cutByFrame,
    cardPresent,
    otherMask: mask(OTHER),
    borderMask: mask(BORDER),
    baseSeen,
    topSeen,
    onSomething,
    turnScores: [upright, right, over, left],
  };
}

/** A plain can that lies down could end either way: where both maps choose one end, the less certain takes its next best. */
function axisEnds(baseMap: Float32Array, topMap: Float32Array, columns: number, grid: Grid): CoarseSighting['axisPx'] {
  let base = peakOf(baseMap, columns);
  let top = peakOf(topMap, columns);
  if (areClose(base, top)) {
    if (base.mass < top.mass) base = peakOf(baseMap, columns, top);
    else top = peakOf(topMap, columns, base);
  }
  return { base: onPhoto(base, grid), top: onPhoto(top, grid) };
}

function inputSize(photo: Photo): readonly [widthPx: number, heightPx: number] {
  const scale = LONG_SIDE_PX / Math.max(photo.widthPx, photo.heightPx);
  const side = (px: number) => Math.max(4 * STEP_PX, STEP_PX * Math.round((px * scale) / STEP_PX));
  return [side(photo.widthPx), side(photo.heightPx)];
}

interface Shown {
  readonly photo: Photo;
  readonly tapPx: ImagePoint | undefined;
}

function runNetwork(model: OutlineModel, { photo, tapPx }: Shown, width: number, height: number) {
  const { cv, net } = model;
  using mats = new MatScope();
  try {
    const small = shrink(cv, mats, photo, width, height);
    showTap(small, photo, tapPx);
    const blob = mats.own(
      cv.blobFromImage(small, 1 / 255, new cv.Size(width, height), new cv.Scalar(0, 0, 0, 0), false, false, cv.CV_32F),
    );
    net.setInput(blob);
    const outputs = mats.own(new cv.MatVector());
    net.forward2(outputs, ['maps', 'scores']);
    return {
      maps: Float32Array.from(mats.own(outputs.get(0)).data32F),
      scores: Float32Array.from(mats.own(outputs.get(1)).data32F),
    };
  } catch (thrown) {
    throw cvError(cv, thrown);
  }
}

function shrink(cv: Cv, mats: MatScope, photo: Photo, width: number, height: number): Mat {
  const full = mats.own(new cv.Mat(photo.heightPx, photo.widthPx, cv.CV_8UC4));
  full.data.set(photo.rgba);
  const small = mats.own(new cv.Mat());
  cv.resize(full, small, new cv.Size(width, height), 0, 0, cv.INTER_AREA);
  return small;
}

/** The network's fourth channel, in place of the opacity: a bump where the tap was, nothing without one. */
function showTap(small: Mat, photo: Photo, tapPx: ImagePoint | undefined): void {
  const { rows, cols, data } = small;
  const x = tapPx ? ((tapPx[0] + 0.5) * cols) / photo.widthPx - 0.5 : Number.POSITIVE_INFINITY;
  const y = tapPx ? ((tapPx[1] + 0.5) * rows) / photo.heightPx - 0.5 : 0;
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < cols; column += 1) {
      const offSquared = (column - x) ** 2 + (row - y) ** 2;
      data[4 * (row * cols + column) + 3] = Math.round(255 * Math.exp(-offSquared / (2 * TAP_SD_PX ** 2)));
    }
  }
}

interface Grid {
  readonly originPx: ImagePoint;
  readonly pxPerCell: readonly [xPx: number, yPx: number];
}

function placeGrid(photo: Photo, width: number, height: number): Grid {
  const pxPerCell = [(CELL_PX * photo.widthPx) / width, (CELL_PX * photo.heightPx) / height] as const;
  return { originPx: [pxPerCell[0] / 2 - 0.5, pxPerCell[1] / 2 - 0.5], pxPerCell };
}

function onPhoto(peak: Peak, grid: Grid): CoarsePoint {
  return {
    atPx: [grid.originPx[0] + peak.column * grid.pxPerCell[0], grid.originPx[1] + peak.row * grid.pxPerCell[1]],
    confidence: peak.mass,
  };
}
