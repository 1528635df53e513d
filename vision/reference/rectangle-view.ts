import type { FocalPrior } from '../picture/photo.ts';
import type { FlatReference } from './reference.ts';

/** Four corners x0 y0 x1 y1 x2 y2 x3 y3, clockwise as seen (y down). */
export type Quad = Float64Array;

/** How well a quad is the perspective view of a rectangle with the reference's proportions. */
export interface RectangleView {
  /** Squared misfit in standard deviations: proportion, right angle, focal length against its prior. */
  readonly cost: number;
  readonly longSide: 0 | 1;
  readonly focalPx: number;
  /** |cos| between the plane's normal and the line of sight. */
  readonly cosTilt: number;
}

/** A camera's centre and the focal lengths worth trying, in the px of the picture the quads live in. */
export interface LensGuess {
  /** Middle of the picture. */
  readonly centreXPx: number;
  readonly centreYPx: number;
  /** How far the camera's centre may be from there when the picture may have been cropped: standard deviation, px. */
  readonly centreSdPx: number;
  readonly focalsPx: Float64Array;
  /** Squared deviation of each focal length from the prior, in standard deviations. */
  readonly focalCosts: Float64Array;
}

/** Below this the focal length counts as known, and the picture as not cropped. */
const KNOWN_FOCAL_SD = 0.06;
/** Phones have several lenses: those outside the prior's bell are rarer, not ever less likely, up to its third deviation. */
const OTHER_MODULE_COST = 4;
/** Pictures without lens facts have often been cropped a little: standard deviation of the centre, of the long side. */
const CROP_SHIFT_SD = 0.06;

export function lensGuess(prior: FocalPrior, widthPx: number, heightPx: number, pxPerPhotoPx: number): LensGuess {
  const known = prior.relativeSd < KNOWN_FOCAL_SD;
  const steps = known ? [0] : Array.from({ length: 21 }, (_, k) => -2 + 0.25 * k);
  const mostCost = prior.source === 'typical-phone' ? OTHER_MODULE_COST : Number.POSITIVE_INFINITY;
  return {
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    centreSdPx: known ? 0 : CROP_SHIFT_SD * Math.max(widthPx, heightPx),
    focalsPx: Float64Array.from(steps, (k) => prior.focalPx * pxPerPhotoPx * Math.exp(k * prior.relativeSd)),
    focalCosts: Float64Array.from(steps, (k) => Math.min(k * k, mostCost)),
  };
}

/**
 * @param sd  standard deviation allowed to ln(proportion) and to the cosine between the sides
 * @returns null for quads that are no view of any rectangle (not convex, or edge-on)
 * Source: columns of K⁻¹H are the rectangle's side directions (Zhang 2000); H from four corners after Heckbert (1989).
 */
export function viewAsRectangle(
  quad: Quad,
  lens: LensGuess,
  reference: FlatReference,
  sd: number,
): RectangleView | null {
  let best = viewFromCentre(quad, lens, lens.centreXPx, lens.centreYPx, reference, sd);
  if (!best || lens.centreSdPx === 0) return best;
  let [atX, atY] = [0, 0];
  for (const step of CENTRE_STEPS) {
    if (best.cost < CLOSE_ENOUGH) break;
    const [fromX, fromY] = [atX, atY];
    for (let i = fromX - step; i <= fromX + step; i += step) {
      for (let j = fromY - step; j <= fromY + step; j += step) {
        const x = lens.centreXPx + i * lens.centreSdPx;
        const view = viewFromCentre(quad, lens, x, lens.centreYPx + j * lens.centreSdPx, reference, sd);
        const cost = view ? view.cost + i * i + j * j : Number.POSITIVE_INFINITY;
        if (!view || cost >= best.cost) continue;
        best = { ...view, cost };
        [atX, atY] = [i, j];
      }
    }
  }
  return best;
}

/** Search for the centre, coarse to fine, in standard deviations. */
const CENTRE_STEPS = [1.2, 0.6, 0.3];
/** Misfit at which shifting the camera's centre could gain nothing. */
const CLOSE_ENOUGH = 2;

function viewFromCentre(
  quad: Quad,
  lens: LensGuess,
  centreXPx: number,
  centreYPx: number,
  reference: FlatReference,
  sd: number,
): RectangleView | null {
  const x0 = quad[0] - centreXPx;
  const y0 = quad[1] - centreYPx;
  const x1 = quad[2] - centreXPx;
  const y1 = quad[3] - centreYPx;
  const x2 = quad[4] - centreXPx;
  const y2 = quad[5] - centreYPx;
  const x3 = quad[6] - centreXPx;
  const y3 = quad[7] - centreYPx;
  const dx1 = x1 - x2;
  const dy1 = y1 - y2;
  const dx2 = x3 - x2;
  const dy2 = y3 - y2;
  const determinant = dx1 * dy2 - dx2 * dy1;
  if (Math.abs(determinant) < 1e-9) return null;
  const sx = x0 - x1 + x2 - x3;
  const sy = y0 - y1 + y2 - y3;
  const g = (sx * dy2 - dx2 * sy) / determinant;
  const h = (dx1 * sy - sx * dy1) / determinant;
  if (1 + g <= 0 || 1 + h <= 0 || 1 + g + h <= 0) return null;
  const ax = x1 - x0 + g * x1;
  const ay = y1 - y0 + g * y1;
  const bx = x3 - x0 + h * x3;
  const by = y3 - y0 + h * y3;
  const target = Math.log(reference.widthMm / reference.heightMm);
  let best = Number.POSITIVE_INFINITY;
  let bestFocal = 0;
  let longSide: 0 | 1 = 0;
  for (let k = 0; k < lens.focalsPx.length; k++) {
    const f = lens.focalsPx[k];
    const w = 1 / (f * f);
    const aa = (ax * ax + ay * ay) * w + g * g;
    const bb = (bx * bx + by * by) * w + h * h;
    const ab = (ax * bx + ay * by) * w + g * h;
    const logRatio = 0.5 * Math.log(aa / bb);
    const misfit = Math.abs(logRatio) - target;
    const cosine = ab / Math.sqrt(aa * bb);
    const cost = (misfit * misfit + cosine * cosine) / (sd * sd) + lens.focalCosts[k];
    if (cost < best) {
      best = cost;
      bestFocal = f;
      longSide = logRatio > 0 ? 0 : 1;
    }
  }
  // normal = K⁻¹h1 × K⁻¹h2; line of sight to the quad's middle, the image of (½, ½)
  const w = 1 / bestFocal;
  const nx = ay * w * h - g * by * w;
  const ny = g * bx * w - ax * w * h;
  const nz = (ax * by - ay * bx) * w * w;
  const mx = (0.5 * (ax + bx) + x0) * w;
  const my = (0.5 * (ay + by) + y0) * w;
  const mz = 0.5 * (g + h) + 1;
  const cosTilt = Math.abs(nx * mx + ny * my + nz * mz) / (Math.hypot(nx, ny, nz) * Math.hypot(mx, my, mz) || 1);
  return { cost: best, longSide, focalPx: bestFocal, cosTilt };
}

/** Twice the signed area; positive when the corners run clockwise as seen. */
export function doubleArea(q: Quad): number {
  return (q[4] - q[0]) * (q[7] - q[3]) - (q[6] - q[2]) * (q[5] - q[1]);
}

/** True when every corner turns the same way (clockwise as seen) by at least about 6 degrees. */
export function isConvex(q: Quad): boolean {
  for (let k = 0; k < 4; k++) {
    const a = 2 * k;
    const b = (a + 2) % 8;
    const c = (a + 4) % 8;
    const ux = q[b] - q[a];
    const uy = q[b + 1] - q[a + 1];
    const vx = q[c] - q[b];
    const vy = q[c + 1] - q[b + 1];
    if (ux * vy - uy * vx < 0.1 * Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy))) return false;
  }
  return true;
}
