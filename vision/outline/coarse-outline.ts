import type { Camera } from '../geometry/camera-ray.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import type { Vector3 } from '../geometry/linear3.ts';
import { signedDistance } from '../geometry/polygon.ts';
import type { CoarseMask } from '../network/coarse-sighting.ts';
import type { Picture } from '../picture/picture.ts';
import { type AxisView, axisView } from './axis-view.ts';
import { halfOutlineOfCut } from './half-outline.ts';
import { type MaskShape, maskAt } from './mask-shape.ts';
import type { ViewOutline } from './refine-in-view.ts';
import { colourEvidence } from './region-colours.ts';
import { type SymmetricCut, symmetricCut } from './symmetric-cut.ts';
import { viewEdges } from './view-edges.ts';
import { drawView, type ViewPicture } from './view-picture.ts';

/** Long side of the view in which regions are cut, view px. */
const VIEW_LONG_SIDE = 240;
/** Room round the expected region, as a share of its long side. */
const ROOM = 0.25;
/** Weight of the mask's log odds, of the colours', and of a unit of border; found on degraded masks. */
const MASK_WEIGHT = 0.7;
const COLOUR_WEIGHT = 0.1;
const BORDER_WEIGHT = 1;
/** The mask's odds never count for more than this: networks are surer than they are right. */
const LEAST_PROBABILITY = 0.02;
/** No edge can be told in front of the card. */
const EDGE_ON_CARD = 0.45;
const AXIS_SEARCH = 8;

/** The coarse mask turned into the mirror-symmetric outline that fits the picture best, for one axis direction. */
export function outlineFromMask(
  picture: Picture,
  camera: Camera,
  { axis, mask, shape }: { readonly axis: Vector3; readonly mask: CoarseMask; readonly shape: MaskShape },
  cardPx: readonly ImagePoint[],
  cardMarginPx: number,
): ViewOutline | null {
  const view = axisView(camera, axis, roomAround(shape.boxPx), VIEW_LONG_SIDE);
  if (!view) return null;
  const drawn = drawView(view, picture);
  const size = view.columns * view.rows;
  const probability = new Float32Array(size);
  let [weighted, sum] = [0, 0];
  for (let i = 0; i < size; i++) {
    probability[i] = maskAt(mask, [drawn.photoX[i], drawn.photoY[i]]);
    weighted += probability[i] * (i % view.columns);
    sum += probability[i];
  }
  if (sum < 20) return null;
  const onCard = cardCells(drawn, cardPx, cardMarginPx);
  const sure = probability.map((p, i) => (onCard[i] ? 0 : p > 0.8 ? 1 : p < 0.2 ? -1 : 0));
  const colours = colourEvidence(drawn, sure);
  const inside = probability.map((p, i) => {
    const bounded = Math.min(Math.max(p, LEAST_PROBABILITY), 1 - LEAST_PROBABILITY);
    return MASK_WEIGHT * Math.log(bounded / (1 - bounded)) + (onCard[i] ? 0 : COLOUR_WEIGHT * colours[i]);
  });
  const cut = bestCut(view, drawn, inside, onCard, weighted / sum);
  if (!cut) return null;
  return { view, half: halfOutlineOfCut(cut, 1.5) };
}

function bestCut(
  view: AxisView,
  drawn: ViewPicture,
  inside: Float32Array,
  onCard: Uint8Array,
  expectedColumn: number,
): SymmetricCut | null {
  const { edgeLeft, edgeAbove } = viewEdges(drawn);
  for (let i = 0; i < onCard.length; i++) {
    if (onCard[i]) edgeLeft[i] = edgeAbove[i] = EDGE_ON_CARD;
  }
  const evidence = { columns: view.columns, rows: view.rows, inside, edgeLeft, edgeAbove };
  let best: SymmetricCut | null = null;
  for (let shift = -AXIS_SEARCH; shift <= AXIS_SEARCH; shift++) {
    const cut = symmetricCut(evidence, expectedColumn + shift, { boundary: BORDER_WEIGHT });
    if (cut && (!best || cut.energy < best.energy)) best = cut;
  }
  return best;
}

export function cardCells(drawn: ViewPicture, cardPx: readonly ImagePoint[], marginPx: number): Uint8Array {
  const cells = new Uint8Array(drawn.columns * drawn.rows);
  const xs = cardPx.map(([x]) => x);
  const ys = cardPx.map(([, y]) => y);
  const [left, right] = [Math.min(...xs) - marginPx, Math.max(...xs) + marginPx];
  const [top, bottom] = [Math.min(...ys) - marginPx, Math.max(...ys) + marginPx];
  for (let i = 0; i < cells.length; i++) {
    const [x, y] = [drawn.photoX[i], drawn.photoY[i]];
    if (x < left || x > right || y < top || y > bottom) continue;
    cells[i] = signedDistance(cardPx, [x, y]) < marginPx ? 1 : 0;
  }
  return cells;
}

export function roomAround([left, top, right, bottom]: MaskShape['boxPx']): ImagePoint[] {
  const room = ROOM * Math.max(right - left, bottom - top);
  const [x0, x1, y0, y1] = [left - room, right + room, top - room, bottom + room];
  const [xm, ym] = [(x0 + x1) / 2, (y0 + y1) / 2];
  return [
    [x0, y0],
    [xm, y0],
    [x1, y0],
    [x1, ym],
    [x1, y1],
    [xm, y1],
    [x0, y1],
    [x0, ym],
  ];
}
