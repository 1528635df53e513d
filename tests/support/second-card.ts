import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { fillPolygon } from '../../vision/geometry/polygon.ts';
import type { Photo } from '../../vision/picture/photo.ts';

type Pixels = Pick<Photo, 'widthPx' | 'heightPx' | 'rgba'>;

/** The card's pixels, with a little of what lies about it, laid down a second time where nothing is. */
export function withSecondCard(photo: Pixels, cornersPx: CornersPx, outlinePx: readonly ImagePoint[]) {
  const { widthPx, heightPx } = photo;
  const patch = grown(cornersPx, 0.04);
  const mask = fillPolygon(patch, widthPx, heightPx);
  const [dx, dy] = freePlace(patch, [outlinePx, patch], photo);
  const rgba = Uint8ClampedArray.from(photo.rgba);
  for (let y = 0; y < heightPx; y += 1) {
    for (let x = 0; x < widthPx; x += 1) {
      if (!mask[y * widthPx + x]) continue;
      const from = 4 * (y * widthPx + x);
      rgba.set(photo.rgba.subarray(from, from + 4), from + 4 * (dy * widthPx + dx));
    }
  }
  const moved = cornersPx.map(([x, y]) => [x + dx, y + dy] as const) as unknown as CornersPx;
  return { rgba, cornersPx: moved };
}

function grown(cornersPx: CornersPx, share: number): ImagePoint[] {
  const [cx, cy] = [0, 1].map((axis) => cornersPx.reduce((sum, corner) => sum + corner[axis] / 4, 0));
  return cornersPx.map(([x, y]) => [x + share * (x - cx), y + share * (y - cy)]);
}

/** The shortest way down, up or aside on a coarse grid that is clear of all these shapes and within the photo. */
function freePlace(patch: readonly ImagePoint[], shapes: readonly (readonly ImagePoint[])[], photo: Pixels) {
  const ways: [number, number][] = [];
  for (let dx = -photo.widthPx; dx <= photo.widthPx; dx += 40) {
    for (let dy = -photo.heightPx; dy <= photo.heightPx; dy += 40) ways.push([dx, dy]);
  }
  ways.sort((a, b) => Math.hypot(...a) - Math.hypot(...b));
  const [left, right] = [Math.min, Math.max].map((end) => end(...patch.map(([x]) => x)));
  const [top, bottom] = [Math.min, Math.max].map((end) => end(...patch.map(([, y]) => y)));
  const free = ways.find(([dx, dy]) => {
    const box = { left: left + dx, right: right + dx, top: top + dy, bottom: bottom + dy };
    const isInside =
      box.left > 10 && box.top > 10 && box.right < photo.widthPx - 10 && box.bottom < photo.heightPx - 10;
    const isClear = shapes.every((shape) => {
      const xs = shape.map(([x]) => x);
      const ys = shape.map(([, y]) => y);
      const apart = 20;
      return (
        Math.max(...xs) + apart < box.left ||
        Math.min(...xs) - apart > box.right ||
        Math.max(...ys) + apart < box.top ||
        Math.min(...ys) - apart > box.bottom
      );
    });
    return isInside && isClear;
  });
  if (!free) throw new Error('there is no room for a second card');
  return free;
}
