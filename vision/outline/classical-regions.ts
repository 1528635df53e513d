import type { Camera } from '../geometry/camera-ray.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import type { Vector3 } from '../geometry/linear3.ts';
import { fillPolygon } from '../geometry/polygon.ts';
import type { Arrangement } from '../measurement.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import type { Picture } from '../picture/picture.ts';
import { type CardView, cardDirection, cardNormal } from './axis-directions.ts';
import { type AxisView, axisView, imageFromView, imagePxPerViewPx } from './axis-view.ts';
import { cardCells } from './coarse-outline.ts';
import { halfOutlineOfCut, wholeOutline } from './half-outline.ts';
import { colourEvidence, colourSeparation } from './region-colours.ts';
import { type CutEvidence, type SymmetricCut, symmetricCut } from './symmetric-cut.ts';
import { viewEdges } from './view-edges.ts';
import { drawView, type ViewPicture } from './view-picture.ts';

/** A container-like region found without the network. */
export interface ClassicalRegion {
  readonly axis: Vector3;
  /** 0 or 1 in each cell. */
  readonly mask: CoarseMask;
  /** 0..1: how clearly the region stands out by edges and colour. */
  readonly score: number;
}

export interface ClassicalHints {
  readonly cardPx: readonly ImagePoint[];
  readonly cardMarginPx: number;
  readonly tapPx?: ImagePoint;
}

const VIEW_LONG_SIDE = 160;
const MASK_CELLS = 240;
const ROUNDS = 3;
const COLOUR_WEIGHT = 0.12;
const BORDER_WEIGHT = 1;
const EDGE_ON_CARD = 0.45;
/** Lying containers may point anywhere in the card's plane. */
const LYING_STEP_RAD = Math.PI / 12;
/** Half sizes of what a tap takes for container, across and along the axis, in lengths of the card's long side. */
const SEEDS = [
  [0.15, 0.3],
  [0.3, 0.5],
  [0.25, 1],
] as const;
/** Length of a card's long side against the photo's, where none is seen. */
const CARD_SHARE = 0.2;
/** Region sizes that make sense, against the length of the card's long side as seen. */
const SMALLEST_CARDS = 0.45;
const LARGEST_CARDS = 7;
/** Share of the card that the region may cover when the card lies beside it, and must cover when it is in front. */
const BESIDE_MOST = 0.18;
const IN_FRONT_LEAST = 0.08;

/**
 * Regions that could be the container under one arrangement, best first: grown from the tap or, without one, from
 * whatever differs from the picture's border, as symmetric cuts about the axis directions the card allows.
 */
export function classicalRegions(
  picture: Picture,
  seen: CardView,
  arrangement: Arrangement,
  hints: ClassicalHints,
): ClassicalRegion[] {
  const card = arrangement === 'standing' || arrangement === 'lying' ? 'beside' : 'in-front';
  return classicalRegionsAbout(picture, seen.camera, axesOf(seen, arrangement), hints, card);
}

/** Where the card lies to the container, as far as the picture is concerned. */
export type CardPlace = 'beside' | 'in-front' | 'anywhere';

/** The same about given axis directions. */
export function classicalRegionsAbout(
  picture: Picture,
  camera: Camera,
  axes: readonly Vector3[],
  hints: ClassicalHints,
  card: CardPlace,
): ClassicalRegion[] {
  const found: ClassicalRegion[] = [];
  for (const axis of axes) {
    const region = regionAbout(picture, camera, axis, card, hints);
    if (region) found.push(region);
  }
  return found.sort((a, b) => b.score - a.score);
}

function axesOf({ poses }: CardView, arrangement: Arrangement): Vector3[] {
  const pose = poses[0];
  if (arrangement === 'standing') return [cardNormal(pose)];
  if (arrangement !== 'lying') return [cardDirection(pose, 0), cardDirection(pose, Math.PI / 2)];
  const count = Math.round(Math.PI / LYING_STEP_RAD);
  return Array.from({ length: count }, (_, i) => cardDirection(pose, i * LYING_STEP_RAD));
}

function regionAbout(
  picture: Picture,
  camera: Camera,
  axis: Vector3,
  card: CardPlace,
  hints: ClassicalHints,
): ClassicalRegion | null {
  const widthPx = picture.widthPx * picture.shrink;
  const heightPx = picture.heightPx * picture.shrink;
  const view = axisView(camera, axis, frameOf(widthPx, heightPx), VIEW_LONG_SIDE);
  if (!view || view.columns > 4 * VIEW_LONG_SIDE) return null;
  const drawn = drawView(view, picture);
  const onCard = cardCells(drawn, hints.cardPx, hints.cardMarginPx);
  const { edgeLeft, edgeAbove } = viewEdges(drawn);
  for (let i = 0; i < onCard.length; i++) if (onCard[i]) edgeLeft[i] = edgeAbove[i] = EDGE_ON_CARD;
  const scene = {
    view,
    drawn,
    onCard,
    edgeLeft,
    edgeAbove,
    card,
  };
  const { tapPx } = hints;
  const cardLengthPx = hints.cardPx.length > 0 ? longestSide(hints.cardPx) : CARD_SHARE * Math.max(widthPx, heightPx);
  const cardCellsLong = cardLengthPx / imagePxPerViewPx(view, view.columns / 2, view.rows / 2);
  const seeds = tapPx
    ? SEEDS.map(([aside, along]) => seedsAtTap(scene, tapPx, aside * cardCellsLong, along * cardCellsLong))
    : [seedsFromBorder(scene)];
  let best: ClassicalRegion | null = null;
  for (const seed of seeds) {
    const region = seed && regionFromSeed(scene, axis, seed, hints, widthPx, heightPx);
    if (region && (!best || region.score > best.score)) best = region;
  }
  return best;
}

function regionFromSeed(
  scene: Scene,
  axis: Vector3,
  seed: Float32Array,
  hints: ClassicalHints,
  widthPx: number,
  heightPx: number,
): ClassicalRegion | null {
  const { view } = scene;
  let weight = seed;
  let cut: SymmetricCut | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    cut = bestCut(scene, weight, hints.tapPx, cut);
    if (!cut) return null;
    weight = seedsFromCut(scene, cut, weight);
  }
  if (!cut) return null;
  const polygon = wholeOutline(halfOutlineOfCut(cut, 1)).map(([c, r]) => imageFromView(view, c, r));
  if (polygon.some((at) => at === null)) return null;
  const mask = maskOf(polygon as ImagePoint[], widthPx, heightPx);
  if (scene.card !== 'anywhere' && !isPlausible(mask, hints.cardPx, scene.card)) return null;
  return { axis, mask, score: scoreOf(scene, cut) };
}

interface Scene {
  readonly view: AxisView;
  readonly drawn: ViewPicture;
  readonly onCard: Uint8Array;
  readonly edgeLeft: Float32Array;
  readonly edgeAbove: Float32Array;
  readonly card: CardPlace;
}

function frameOf(widthPx: number, heightPx: number): ImagePoint[] {
  const points: ImagePoint[] = [];
  for (const s of [0, 0.25, 0.5, 0.75, 1]) {
    points.push([s * widthPx, 0], [s * widthPx, heightPx], [0, s * heightPx], [widthPx, s * heightPx]);
  }
  return points;
}

/** Inside: a spot at the tap, longer along the axis. Outside: everything far from it. */
function seedsAtTap(
  { drawn, onCard }: Scene,
  tapPx: ImagePoint,
  asideCells: number,
  alongCells: number,
): Float32Array | null {
  const tap = nearestCell(drawn, tapPx);
  if (tap === null) return null;
  const { columns, rows, inPhoto } = drawn;
  const [tapColumn, tapRow] = [tap % columns, Math.floor(tap / columns)];
  const weight = new Float32Array(columns * rows);
  for (let i = 0; i < weight.length; i++) {
    if (!inPhoto[i] || onCard[i]) continue;
    const dx = Math.abs((i % columns) - tapColumn) / asideCells;
    const dy = Math.abs(Math.floor(i / columns) - tapRow) / alongCells;
    if (dx ** 2 + dy ** 2 < 1) weight[i] = 1;
    else if (dx > 4 || dy > 4) weight[i] = -1;
    else if (dx > 2) weight[i] = -0.3;
  }
  return weight;
}

/** Outside: a band along the photo's border and round the card. Inside: nothing known. */
function seedsFromBorder({ drawn, onCard, view }: Scene): Float32Array {
  const { columns, rows, inPhoto } = drawn;
  const weight = new Float32Array(columns * rows);
  const band = Math.round(0.08 * Math.max(view.columns, view.rows));
  for (let i = 0; i < weight.length; i++) {
    if (!inPhoto[i] || onCard[i]) continue;
    const column = i % columns;
    const row = Math.floor(i / columns);
    const beyond = [column - band, column + band].some((c) => c < 0 || c >= columns || !inPhoto[row * columns + c]);
    const above = [row - band, row + band].some((r) => r < 0 || r >= rows || !inPhoto[r * columns + column]);
    if (beyond || above) weight[i] = -1;
  }
  return weight;
}

function bestCut(
  scene: Scene,
  weight: Float32Array,
  tapPx: ImagePoint | undefined,
  before: SymmetricCut | null,
): SymmetricCut | null {
  const { drawn, onCard, edgeLeft, edgeAbove, card } = scene;
  const { columns, rows } = drawn;
  const colours = colourEvidence(drawn, weight);
  const inside = new Float32Array(columns * rows);
  const onCardEvidence = card === 'in-front' ? 0.05 : -0.2;
  for (let i = 0; i < inside.length; i++) {
    inside[i] = !drawn.inPhoto[i] ? -0.2 : onCard[i] ? onCardEvidence : COLOUR_WEIGHT * colours[i];
  }
  const evidence: CutEvidence = { columns, rows, inside, edgeLeft, edgeAbove };
  const tap = tapPx ? nearestCell(drawn, tapPx) : null;
  const tapRow = tap === null ? null : Math.floor(tap / columns);
  const [from, to] = before
    ? [before.axisColumn - 5, before.axisColumn + 5]
    : tap !== null
      ? [(tap % columns) - 0.06 * columns, (tap % columns) + 0.06 * columns]
      : [0.08 * columns, 0.92 * columns];
  let best: SymmetricCut | null = null;
  for (let column = Math.round(from) + 0.5; column <= to; column += before ? 1 : 2) {
    const cut = symmetricCut(evidence, column, {
      boundary: BORDER_WEIGHT,
      ...(tapRow !== null && { mustCover: [tapRow, tapRow] as const }),
    });
    if (cut && (!best || cut.energy < best.energy)) best = cut;
  }
  return best;
}

/** Inside the cut against a ring round it; a thin strip along the border stays open. */
function seedsFromCut({ drawn, onCard }: Scene, cut: SymmetricCut, before: Float32Array): Float32Array {
  const { columns, rows, inPhoto } = drawn;
  const weight = new Float32Array(columns * rows);
  const last = cut.firstRow + cut.halfWidths.length - 1;
  for (let i = 0; i < weight.length; i++) {
    if (!inPhoto[i] || onCard[i]) continue;
    const row = Math.floor(i / columns);
    const halfWidth = row < cut.firstRow || row > last ? 0 : cut.halfWidths[row - cut.firstRow];
    const beyond = Math.abs((i % columns) - cut.axisColumn) - halfWidth;
    weight[i] = beyond < -1.5 ? 1 : beyond > 1.5 ? (beyond < 20 ? -1 : -0.3) : 0;
    if (weight[i] > 0 && before[i] === -1) weight[i] = 0.5;
  }
  return weight;
}

function nearestCell({ photoX, photoY }: ViewPicture, [x, y]: ImagePoint): number | null {
  let best: number | null = null;
  let nearest = Infinity;
  for (let i = 0; i < photoX.length; i++) {
    const distance = (photoX[i] - x) ** 2 + (photoY[i] - y) ** 2;
    if (distance < nearest) [best, nearest] = [i, distance];
  }
  return best;
}

/** Strength of the edges along the border times the root of the colour difference across it. */
function scoreOf({ drawn, onCard, edgeLeft, edgeAbove }: Scene, cut: SymmetricCut): number {
  const { columns, rows } = drawn;
  const right = Math.round(cut.axisColumn + 0.5);
  let [sum, count] = [0, 0];
  const add = (edges: Float32Array, a: number, b: number) => {
    if (onCard[a] && onCard[b]) return;
    sum += 0.75 * Math.min(edges[a], edges[b]) + 0.25 * Math.max(edges[a], edges[b]);
    count++;
  };
  let before = 0;
  [...cut.halfWidths, 0].forEach((w, i) => {
    const row = cut.firstRow + i;
    if (row >= rows) {
      count += before;
      return;
    }
    for (let k = Math.min(w, before); k < Math.max(w, before); k++) {
      add(edgeAbove, row * columns + right - 1 - k, row * columns + right + k);
    }
    if (w > 0) add(edgeLeft, row * columns + right - w, row * columns + right + w);
    before = w;
  });
  const ring = seedsFromCut({ drawn, onCard } as Scene, cut, new Float32Array(columns * rows)).map((v) =>
    v === -0.3 ? 0 : v,
  );
  return (sum / Math.max(count, 1)) * Math.sqrt(colourSeparation(drawn, ring));
}

function maskOf(polygon: readonly ImagePoint[], widthPx: number, heightPx: number): CoarseMask {
  const pxPerCell = Math.max(widthPx, heightPx) / MASK_CELLS;
  const widthCells = Math.ceil(widthPx / pxPerCell);
  const heightCells = Math.ceil(heightPx / pxPerCell);
  const origin = pxPerCell / 2 - 0.5;
  const inCells = polygon.map(([x, y]): ImagePoint => [(x - origin) / pxPerCell, (y - origin) / pxPerCell]);
  return {
    widthCells,
    heightCells,
    probability: Float32Array.from(fillPolygon(inCells, widthCells, heightCells)),
    originPx: [origin, origin],
    pxPerCell: [pxPerCell, pxPerCell],
  };
}

function longestSide(cardPx: readonly ImagePoint[]): number {
  const next = (k: number) => cardPx[(k + 1) % cardPx.length];
  return Math.max(...cardPx.map(([x, y], k) => Math.hypot(x - next(k)[0], y - next(k)[1])));
}

function isPlausible(mask: CoarseMask, cardPx: readonly ImagePoint[], place: CardPlace): boolean {
  const { widthCells, heightCells, probability, originPx, pxPerCell } = mask;
  const card = fillPolygon(
    cardPx.map(([x, y]): ImagePoint => [(x - originPx[0]) / pxPerCell[0], (y - originPx[1]) / pxPerCell[1]]),
    widthCells,
    heightCells,
  );
  let [area, cardArea, both] = [0, 0, 0];
  let [left, right, top, bottom] = [Infinity, -Infinity, Infinity, -Infinity];
  probability.forEach((p, i) => {
    cardArea += card[i];
    if (p < 0.5) return;
    area++;
    both += card[i];
    left = Math.min(left, i % widthCells);
    right = Math.max(right, i % widthCells);
    top = Math.min(top, Math.floor(i / widthCells));
    bottom = Math.max(bottom, Math.floor(i / widthCells));
  });
  if (area === 0 || cardArea === 0) return false;
  const size = Math.max(right - left, bottom - top);
  const cardSize = longestSide(cardPx) / pxPerCell[0];
  const covered = both / cardArea;
  if (size < SMALLEST_CARDS * cardSize || size > LARGEST_CARDS * cardSize) return false;
  return place === 'in-front' ? covered > IN_FRONT_LEAST : covered < BESIDE_MOST;
}
