import type { WorkingImage } from '../picture/working-image.ts';

/**
 * Where and in which direction the picture changes, over lightness and both colour differences together:
 * largest eigenvalue and eigenvector of the summed gradient tensor. Source: Di Zenzo, A note on the gradient of a
 * multi-image (1986). The sign of a change is lost on purpose: along a card's border it may alternate.
 */
export interface EdgeField {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Change per px across the edge, 8-bit scale. */
  readonly strength: Float32Array;
  /** Unit normal of the edge, sign arbitrary. */
  readonly normalX: Float32Array;
  readonly normalY: Float32Array;
}

/** Pixels that change less than this per px are nobody's edge: half a grey level is below JPEG's own noise. */
const MIN_STRENGTH = 0.25;

export function edgeField(image: WorkingImage): EdgeField {
  const { widthPx, heightPx } = image;
  const count = widthPx * heightPx;
  const xx = new Float32Array(count);
  const xy = new Float32Array(count);
  const yy = new Float32Array(count);
  const scratch = new Float32Array(count);
  const smooth = new Float32Array(count);
  for (const plane of image.planes) {
    blur(plane, scratch, smooth, widthPx, heightPx);
    addGradientTensor(smooth, xx, xy, yy, widthPx, heightPx);
  }
  const strength = scratch;
  strength.fill(0);
  const normalX = smooth;
  const normalY = new Float32Array(count);
  for (let i = 0; i < count; i++) {
    const a = xx[i];
    const c = yy[i];
    if (a + c < MIN_STRENGTH * MIN_STRENGTH) {
      normalX[i] = 0;
      continue;
    }
    const b = xy[i];
    const half = 0.5 * (a - c);
    const root = Math.sqrt(half * half + b * b);
    strength[i] = Math.sqrt(0.5 * (a + c) + root);
    // eigenvector (root + half, b) or (b, root - half), whichever is longer
    const u = half >= 0 ? root + half : b;
    const v = half >= 0 ? b : root - half;
    const length = Math.sqrt(u * u + v * v) || 1;
    normalX[i] = u / length;
    normalY[i] = v / length;
  }
  return { widthPx, heightPx, strength, normalX, normalY };
}

/** Binomial 1 4 6 4 1 in both directions: a Gaussian of standard deviation 1 px. */
function blur(source: Float32Array, rows: Float32Array, target: Float32Array, width: number, height: number): void {
  for (let y = 0; y < height; y++) {
    const start = y * width;
    for (let x = 0; x < width; x++) {
      const i = start + x;
      if (x >= 2 && x < width - 2) {
        rows[i] = (source[i - 2] + source[i + 2] + 4 * (source[i - 1] + source[i + 1]) + 6 * source[i]) / 16;
      } else {
        rows[i] = source[i];
      }
    }
  }
  for (let y = 0; y < height; y++) {
    const start = y * width;
    if (y < 2 || y >= height - 2) {
      for (let i = start; i < start + width; i++) target[i] = rows[i];
      continue;
    }
    for (let i = start; i < start + width; i++) {
      target[i] =
        (rows[i - 2 * width] + rows[i + 2 * width] + 4 * (rows[i - width] + rows[i + width]) + 6 * rows[i]) / 16;
    }
  }
}

/** Scharr derivatives (3 10 3), which keep the direction of a slanted edge to 0.2 degrees. */
function addGradientTensor(
  plane: Float32Array,
  xx: Float32Array,
  xy: Float32Array,
  yy: Float32Array,
  width: number,
  height: number,
): void {
  for (let y = 1; y < height - 1; y++) {
    for (let i = y * width + 1; i < y * width + width - 1; i++) {
      const nw = plane[i - width - 1];
      const ne = plane[i - width + 1];
      const sw = plane[i + width - 1];
      const se = plane[i + width + 1];
      const gx = (3 * (ne - nw + se - sw) + 10 * (plane[i + 1] - plane[i - 1])) / 32;
      const gy = (3 * (sw - nw + se - ne) + 10 * (plane[i + width] - plane[i - width])) / 32;
      xx[i] += gx * gx;
      xy[i] += gx * gy;
      yy[i] += gy * gy;
    }
  }
}
