import { type Pixels, samplePhoto } from './sample-photo.ts';

/** Samples across a side, px from one to the next. */
export const STEP_PX = 0.5;

/** Change of light across one side of a quad, on a grid: rows along the side, columns across it. */
export interface SideProfiles {
  readonly rows: number;
  readonly columns: number;
  /** Column of the side itself; offsets run outwards from the card. */
  readonly centre: number;
  /** Position along the side of each row, 0..1. */
  readonly along: Float64Array;
  /** Norm of the derivative over red, green and blue, per px. */
  readonly change: Float32Array;
  /** Light itself after smoothing, three values per cell. */
  readonly light: Float32Array;
}

/** A side from a to b, its length and its unit normal out of the card (corners clockwise as seen). */
export interface SideLine {
  readonly ax: number;
  readonly ay: number;
  readonly bx: number;
  readonly by: number;
  readonly lengthPx: number;
  readonly outX: number;
  readonly outY: number;
}

export function sideLine(ax: number, ay: number, bx: number, by: number): SideLine {
  const lengthPx = Math.hypot(bx - ax, by - ay) || 1;
  return { ax, ay, bx, by, lengthPx, outX: (by - ay) / lengthPx, outY: -(bx - ax) / lengthPx };
}

/** Each row is the mean over this many lines across the side: grain cancels, a border does not. */
const LINES_PER_ROW = 4;

/** @param skip  share of the side left out at each end: the rounded corners */
export function sideProfiles(
  photo: Pixels,
  light: Float32Array,
  side: SideLine,
  rows: number,
  reachPx: number,
  skip: number,
): SideProfiles {
  const centre = Math.ceil(reachPx / STEP_PX);
  const columns = 2 * centre + 1;
  const raw = new Float32Array(3 * rows * columns);
  const along = Float64Array.from({ length: rows }, (_, r) => skip + ((1 - 2 * skip) * (r + 0.5)) / rows);
  const colour = new Float32Array(3);
  for (let line = 0; line < rows * LINES_PER_ROW; line++) {
    const t = skip + ((1 - 2 * skip) * (line + 0.5)) / (rows * LINES_PER_ROW);
    const x = side.ax + t * (side.bx - side.ax);
    const y = side.ay + t * (side.by - side.ay);
    let at = 3 * columns * Math.floor(line / LINES_PER_ROW);
    for (let c = 0; c < columns; c++, at += 3) {
      const o = (c - centre) * STEP_PX;
      samplePhoto(photo, light, x + o * side.outX, y + o * side.outY, colour, 0);
      for (let k = 0; k < 3; k++) raw[at + k] += colour[k] / LINES_PER_ROW;
    }
  }
  const smooth = smoothed(raw, rows, columns);
  return { rows, columns, centre, along, change: changeAcross(smooth, rows, columns), light: smooth };
}

/** 1 4 6 4 1 across (0.5 px standard deviation) and 1 2 1 along. */
function smoothed(raw: Float32Array, rows: number, columns: number): Float32Array {
  const across = new Float32Array(raw.length);
  const stride = 3 * columns;
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const i = r * stride + 3 * c;
      const a = c > 1 ? i - 6 : r * stride;
      const b = c > 0 ? i - 3 : r * stride;
      const d = c < columns - 1 ? i + 3 : i;
      const e = c < columns - 2 ? i + 6 : d;
      for (let k = 0; k < 3; k++) {
        across[i + k] = (raw[a + k] + 4 * raw[b + k] + 6 * raw[i + k] + 4 * raw[d + k] + raw[e + k]) / 16;
      }
    }
  }
  for (let r = 0; r < rows; r++) {
    const up = r > 0 ? -stride : 0;
    const down = r < rows - 1 ? stride : 0;
    for (let i = r * stride; i < (r + 1) * stride; i++) {
      raw[i] = 0.25 * across[i + up] + 0.5 * across[i] + 0.25 * across[i + down];
    }
  }
  return raw;
}

function changeAcross(light: Float32Array, rows: number, columns: number): Float32Array {
  const change = new Float32Array(rows * columns);
  for (let r = 0; r < rows; r++) {
    for (let c = 1; c < columns - 1; c++) {
      const i = 3 * (r * columns + c);
      const red = light[i + 3] - light[i - 3];
      const green = light[i + 4] - light[i - 2];
      const blue = light[i + 5] - light[i - 1];
      change[r * columns + c] = Math.sqrt(red * red + green * green + blue * blue) / (2 * STEP_PX * Math.sqrt(3));
    }
  }
  return change;
}
