import type { HandPlacement, LeftOutStretch, PlacedFeature } from '../../vision/container/hand-placement.ts';
import {
  handlesOf,
  isSameHandle,
  placementOf,
  pulled,
  type SolidHandle,
} from '../../vision/container/solid-handles.ts';
import { imageOf, radiusAt, type SolidInView } from '../../vision/container/solid-in-view.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { Text } from '../text/text.ts';
import { bendOutline, handleIndices } from './bend-outline.ts';
import type { Drawn, Grip } from './placing.ts';
import { type ScreenPoint, type Size, screenFromImage, type View } from './view-transform.ts';

/** What a finger is off when it lets go, CSS px. Common practice, no source. */
export const FINGER_SD_CSS = 3;

/** The handles of the solid, the card's corners and the points of an outline, in the order they may crowd each other out. */
export function gripsOf(
  drawn: Drawn,
  words: Text['check'],
  {
    shoulderZMm,
    hand,
    isRound,
    handleCount,
  }: {
    readonly shoulderZMm: number | null;
    readonly hand: readonly HandPlacement[];
    readonly isRound: boolean;
    readonly handleCount: number | undefined;
  },
): readonly Grip[] {
  return [...cornerGrips(drawn, isRound ? words.coin.corner : words.corner), ...bodyGrips()];

  function bodyGrips(): Grip[] {
    if (drawn.solid) return solidGrips(drawn, drawn.solid, words, { shoulderZMm, hand });
    return outlineGrips(drawn, words, handleCount);
  }
}

function cornerGrips(drawn: Drawn, names: readonly string[]): Grip[] {
  const { cornersPx } = drawn;
  if (!cornersPx) return [];
  return cornersPx.map((atPx, k) => {
    const moved = (toPx: ImagePoint) =>
      cornersPx.map((point, other) => (other === k ? toPx : point)) as unknown as CornersPx;
    return {
      id: `card-${k.toString()}`,
      kind: 'card',
      atPx,
      label: names[k],
      drawnAt: (toPx) => ({ ...drawn, cornersPx: moved(toPx) }),
      placedAt: (toPx, view) => ({ cornersPx: moved(toPx), placementSdPx: FINGER_SD_CSS / view.scale }),
    };
  });
}

/** Points along an outline that bend it between their neighbours. */
function outlineGrips(drawn: Drawn, words: Text['check'], count: number | undefined): Grip[] {
  const { outlinePx } = drawn;
  if (!outlinePx) return [];
  const handles = handleIndices(outlinePx, count);
  return handles.map((index, which) => {
    const [x, y] = outlinePx[index];
    const bent = (toPx: ImagePoint) => bendOutline(outlinePx, handles, which, [toPx[0] - x, toPx[1] - y]);
    return {
      id: `outline-${which.toString()}`,
      kind: 'outline',
      atPx: outlinePx[index],
      label: words.outlineHandle(which + 1, handles.length),
      drawnAt: (toPx) => ({ ...drawn, outlinePx: bent(toPx) }),
      placedAt: (toPx) => ({ outlinePx: bent(toPx) }),
    };
  });
}

function solidGrips(
  drawn: Drawn,
  solid: SolidInView,
  words: Text['check'],
  { shoulderZMm, hand }: { readonly shoulderZMm: number | null; readonly hand: readonly HandPlacement[] },
): Grip[] {
  return handlesOf(solid, shoulderZMm).map((handle) => ({
    id: `${handle.feature}-${handle.side.toString()}-${Math.round(100 * handle.share).toString()}`,
    kind: 'solid',
    atPx: handle.atPx,
    label: labelOf(handle, words),
    drawnAt: (toPx) => ({ ...drawn, solid: pulled(solid, handle, toPx) }),
    placedAt: (toPx, view) => {
      const placed = placementOf(handle, pulled(solid, handle, toPx), toPx, FINGER_SD_CSS / view.scale);
      return { hand: [...withoutHandle(hand, placed), placed] };
    },
  }));
}

function withoutHandle(hand: readonly HandPlacement[], placed: PlacedFeature): HandPlacement[] {
  return hand.filter((other) => other.feature === 'left-out' || !isSameHandle(other, placed));
}

/** "Left wall, halfway up", as it is seen in the picture. */
function labelOf(handle: SolidHandle, words: Text['check']): string {
  const { feature, share } = handle;
  if (feature !== 'wall') return words.handle[feature];
  const [normalX, normalY] = handle.normal;
  const side =
    Math.abs(normalX) >= Math.abs(normalY) ? (normalX < 0 ? 'left' : 'right') : normalY < 0 ? 'upper' : 'lower';
  const height = share < 0.4 ? 'low' : share > 0.6 ? 'high' : 'middle';
  return words.wallHandle(words.wallSide[side], words.wallHeight[height]);
}

/** The stretch that a finger went along, to be left out. */
export function leftOut(pathPx: readonly ImagePoint[], view: View): LeftOutStretch {
  return { feature: 'left-out', pathPx, radiusPx: LEAVE_OUT_CSS / view.scale };
}
/** Half a thumb. */
export const LEAVE_OUT_CSS = 18;

/** Thumb-sized, whatever it marks. */
const TARGET_CSS = 44;

/** A grip and where its target lies on screen. */
export interface ShownGrip {
  readonly grip: Grip;
  readonly atCss: ScreenPoint;
}

/**
 * Targets that never lie on one another: corners of a small card step outwards and clear of the container's ends, which both
 * sizes hang on, and another handle of the solid that has no room waits until there is some nearer to. One that stands just
 * past the border of the canvas is shown inside it, where a thumb can take it.
 * @param heldId  never leaves while it is held
 */
export function uncrowded(
  grips: readonly Grip[],
  { view, canvas }: { readonly view: View; readonly canvas: Size },
  heldId: string | null,
): readonly ShownGrip[] {
  const inReach = ({ grip, atCss: [x, y] }: ShownGrip): ShownGrip => ({
    grip,
    atCss: [withinReach(x, canvas.width), withinReach(y, canvas.height)],
  });
  const onScreen = (grip: Grip) => inReach({ grip, atCss: screenFromImage(view, grip.atPx) });
  const corners = grips.filter(({ kind }) => kind === 'card').map(onScreen);
  const rest = grips.filter(({ kind }) => kind !== 'card').map(onScreen);
  const shown = spread(corners, rest.filter(isEnd), inReach);
  rest.sort((a, b) => Number(b.grip.id === heldId) - Number(a.grip.id === heldId));
  for (const each of rest)
    if (each.grip.id === heldId || shown.every((other) => isApart(each, other))) shown.push(each);
  return shown;
}

/** What is up to a target outside, or hardly inside, comes in by a quarter of one; what is further out is out of view. */
function withinReach(at: number, sizeCss: number): number {
  if (at < -TARGET_CSS || at > sizeCss + TARGET_CSS) return at;
  return Math.min(Math.max(at, TARGET_CSS / 4), sizeCss - TARGET_CSS / 4);
}

function isEnd({ grip }: ShownGrip): boolean {
  return grip.id.startsWith('top-edge') || grip.id.startsWith('base-edge');
}

function isApart(a: ShownGrip, b: ShownGrip): boolean {
  return Math.max(Math.abs(a.atCss[0] - b.atCss[0]), Math.abs(a.atCss[1] - b.atCss[1])) >= TARGET_CSS;
}

/**
 * Corners closer together than a thumb, moved away from their middle until they are not; all together a little away from a
 * container's end that they crowd, where that is enough.
 */
function spread(
  corners: readonly ShownGrip[],
  ends: readonly ShownGrip[],
  inReach: (shown: ShownGrip) => ShownGrip,
): ShownGrip[] {
  if (corners.length < 2) return [...corners];
  const middle = [0, 1].map((k) => corners.reduce((sum, { atCss }) => sum + atCss[k], 0) / corners.length);
  const at = (times: number): ShownGrip[] =>
    corners.map(({ grip, atCss: [x, y] }, k) => {
      // a card seen edge-on has no middle to step away from: each corner has a quarter of its own
      const [dx, dy] = [x - middle[0] || (k === 1 || k === 2 ? 1 : -1), y - middle[1] || (k < 2 ? -1 : 1)];
      return inReach({ grip, atCss: [middle[0] + times * dx, middle[1] + times * dy] });
    });
  let placed = [...corners];
  for (let times = 1; times < 40; times *= 1.1) {
    const further = at(times);
    if (!further.every((a, i) => further.slice(i + 1).every((b) => isApart(a, b)))) continue;
    placed = further;
    break;
  }
  const crowded = ends.find((end) => !placed.every((corner) => isApart(end, corner)));
  if (!crowded) return placed;
  const [dx, dy] = [middle[0] - crowded.atCss[0], middle[1] - crowded.atCss[1]];
  const away = Math.hypot(dx, dy) || 1;
  for (let step = 1; step <= TARGET_CSS; step++) {
    const [x, y] = [(step * dx) / away, (step * dy) / away];
    const moved = placed.map(({ grip, atCss }) => inReach({ grip, atCss: [atCss[0] + x, atCss[1] + y] }));
    const isClear = moved.every((a, i) => [...moved.slice(i + 1), ...ends].every((b) => isApart(a, b)));
    if (isClear) return moved;
  }
  return placed;
}

/** Where on the canvas a word about the photo can stand, the best place first. */
const SAYS_AT = ['bottom-start', 'top-start', 'bottom-end', 'top-end'] as const;
export type SaysAt = (typeof SAYS_AT)[number];
/** Its distance from the border (check.css), and the half of what is seen of a handle. */
const BESIDE_SAYS_CSS = 11 + 10;

/** Where no handle is covered by a word of this size; the best place when there is none. */
export function clearOfHandles(shown: readonly ShownGrip[], canvas: Size, says: Size): SaysAt {
  const [width, height] = [says.width + BESIDE_SAYS_CSS, says.height + BESIDE_SAYS_CSS];
  const isClear = (at: SaysAt) =>
    shown.every(({ atCss: [x, y] }) => {
      const isBeside = at.endsWith('start') ? x > width : x < canvas.width - width;
      const isBeyond = at.startsWith('top') ? y > height : y < canvas.height - height;
      return isBeside || isBeyond;
    });
  return SAYS_AT.find(isClear) ?? SAYS_AT[0];
}

/** Circle of a rim in the photo, the half that the body hides apart. */
export interface RimDrawing {
  readonly seenPx: readonly ImagePoint[];
  readonly hiddenPx: readonly ImagePoint[];
}

const RIM_STEPS = 48;

/** Rims of top and base. */
export function rimsOf(solid: SolidInView): readonly [base: RimDrawing, top: RimDrawing] {
  const { rotation: r, translationMm: t } = solid.view.cameraFromContainer;
  const eye = [0, 1, 2].map((k) => -(r[k] * t[0] + r[3 + k] * t[1] + r[6 + k] * t[2]));
  const heightMm = solid.profile[solid.profile.length - 1].zMm;
  const rim = (zMm: number, isOpen: boolean): RimDrawing => {
    const radius = radiusAt(solid, zMm);
    const eyeAzimuth = Math.atan2(eye[1], eye[0]);
    const away = Math.hypot(eye[0], eye[1]);
    const half = isOpen ? Math.PI : Math.acos(Math.min(Math.max(radius / away, -1), 1));
    const arc = (from: number, to: number): ImagePoint[] =>
      Array.from({ length: RIM_STEPS + 1 }, (_, k) => {
        const azimuth = eyeAzimuth + from + ((to - from) * k) / RIM_STEPS;
        return imageOf(solid.view, [radius * Math.cos(azimuth), radius * Math.sin(azimuth), zMm]);
      });
    return { seenPx: arc(-half, half), hiddenPx: isOpen ? [] : arc(half, 2 * Math.PI - half) };
  };
  const end = 0.02 * heightMm;
  return [rim(end, eye[2] < 0), rim(heightMm - end, eye[2] > heightMm)];
}
