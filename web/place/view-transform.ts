import type { ImagePoint } from '../../vision/geometry/frames.ts';

/** CSS px inside the canvas element, (0,0) = its top-left corner. */
export type ScreenPoint = readonly [xCss: number, yCss: number];

/** Part of the photo on screen: screen = (image − origin) · scale. */
export interface View {
  /** CSS px per photo px. */
  readonly scale: number;
  /** Photo point at the canvas' top-left corner. */
  readonly originPx: ImagePoint;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** Photo px may become this large on screen; more only shows blocks. */
const MAX_SCALE = 12;

export function imageFromScreen(view: View, point: ScreenPoint): ImagePoint {
  return [view.originPx[0] + point[0] / view.scale, view.originPx[1] + point[1] / view.scale];
}

export function screenFromImage(view: View, point: ImagePoint): ScreenPoint {
  return [(point[0] - view.originPx[0]) * view.scale, (point[1] - view.originPx[1]) * view.scale];
}

/** The whole photo, centred. */
export function fitView(photo: Size, canvas: Size): View {
  const scale = fitScale(photo, canvas);
  return { scale, originPx: centred(photo, canvas, scale) };
}

/** Room left around what is looked at, as a share of its size. */
const ROOM_AROUND = 0.25;

/** The part of the photo that holds these points, with room around them. */
export function fitAround(pointsPx: readonly ImagePoint[], photo: Size, canvas: Size): View {
  const [left, right] = [Math.min(...pointsPx.map(([x]) => x)), Math.max(...pointsPx.map(([x]) => x))];
  const [top, bottom] = [Math.min(...pointsPx.map(([, y]) => y)), Math.max(...pointsPx.map(([, y]) => y))];
  const part = { width: (right - left) * (1 + ROOM_AROUND), height: (bottom - top) * (1 + ROOM_AROUND) };
  const scale = Math.max(Math.min(fitScale(part, canvas), MAX_SCALE), fitScale(photo, canvas));
  const middle = [(left + right) / 2, (top + bottom) / 2];
  const originPx = [middle[0] - canvas.width / 2 / scale, middle[1] - canvas.height / 2 / scale] as const;
  return held({ scale, originPx }, photo, canvas);
}

/** Zooms so that the photo point under `anchor` stays there. */
export function zoomAbout(view: View, factor: number, anchor: ScreenPoint, photo: Size, canvas: Size): View {
  const fit = fitScale(photo, canvas);
  const scale = Math.min(Math.max(view.scale * factor, fit), Math.max(MAX_SCALE, fit));
  const [x, y] = imageFromScreen(view, anchor);
  return held({ scale, originPx: [x - anchor[0] / scale, y - anchor[1] / scale] }, photo, canvas);
}

export function panBy(view: View, movedCss: ScreenPoint, photo: Size, canvas: Size): View {
  const [x, y] = view.originPx;
  return held({ ...view, originPx: [x - movedCss[0] / view.scale, y - movedCss[1] / view.scale] }, photo, canvas);
}

/** Keeps the photo on screen: a side that fits is centred, a longer one never leaves a gap. */
function held(view: View, photo: Size, canvas: Size): View {
  const [centreX, centreY] = centred(photo, canvas, view.scale);
  const hold = (origin: number, centre: number, photoSide: number, canvasSide: number) => {
    const slack = photoSide - canvasSide / view.scale;
    return slack <= 0 ? centre : Math.min(Math.max(origin, -0.5), slack - 0.5);
  };
  return {
    scale: view.scale,
    originPx: [
      hold(view.originPx[0], centreX, photo.width, canvas.width),
      hold(view.originPx[1], centreY, photo.height, canvas.height),
    ],
  };
}

function fitScale(photo: Size, canvas: Size): number {
  return Math.min(canvas.width / photo.width, canvas.height / photo.height);
}

/** Photo px 0 is the centre of the first pixel, so the photo starts at −0.5. */
function centred(photo: Size, canvas: Size, scale: number): ImagePoint {
  return [(photo.width - canvas.width / scale) / 2 - 0.5, (photo.height - canvas.height / scale) / 2 - 0.5];
}
