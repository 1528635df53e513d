import type { ViewPicture } from './view-picture.ts';

export interface ViewEdges {
  /** 0..1: edge between a pixel and its left neighbour. */
  readonly edgeLeft: Float32Array;
  /** 0..1: edge between a pixel and the one above. */
  readonly edgeAbove: Float32Array;
}

/** Windows on both sides of a would-be edge: 3 deep, 5 along. */
const DEPTH = 3;
const HALF_LENGTH = 2;
/** Grey levels of noise that any picture has. */
const NOISE = 4;
/** Contrast in units of the spread at which an edge counts as certain. */
const CERTAIN = 3;

/**
 * Edges as colour contrast between the windows on both sides, measured against the spread inside them (Fisher's
 * criterion): the grain of wood or cloth makes strong gradients but little contrast in this sense.
 */
export function viewEdges(picture: ViewPicture): ViewEdges {
  const { columns, rows } = picture;
  const size = columns * rows;
  const left = { between: new Float32Array(size), within: new Float32Array(size) };
  const above = { between: new Float32Array(size), within: new Float32Array(size) };
  for (const plane of picture.planes) {
    const squares = plane.map((value) => value * value);
    addContrast(left, columns, rows, 1, boxes(plane, columns, rows, true), boxes(squares, columns, rows, true));
    addContrast(
      above,
      columns,
      rows,
      columns,
      boxes(plane, columns, rows, false),
      boxes(squares, columns, rows, false),
    );
  }
  const { inPhoto } = picture;
  return {
    edgeLeft: left.between.map((between, i) => (inPhoto[i] ? strength(between, left.within[i]) : 0)),
    edgeAbove: above.between.map((between, i) => (inPhoto[i] ? strength(between, above.within[i]) : 0)),
  };
}

function strength(between: number, within: number): number {
  return Math.min(Math.sqrt(between / (within + NOISE * NOISE)) / CERTAIN, 1);
}

/** Means over windows that end at each pixel (trailing) and reach `DEPTH` back across the edge direction. */
function boxes(plane: Float32Array, columns: number, rows: number, leftward: boolean): Float32Array {
  const across = leftward ? columns : rows;
  const length = leftward ? rows : columns;
  const stepAcross = leftward ? 1 : columns;
  const stepAlong = leftward ? columns : 1;
  const trailing = new Float32Array(plane.length);
  for (let l = 0; l < length; l++) {
    const start = l * stepAlong;
    let sum = 0;
    for (let a = 0; a < across; a++) {
      sum += plane[start + a * stepAcross];
      if (a >= DEPTH) sum -= plane[start + (a - DEPTH) * stepAcross];
      trailing[start + a * stepAcross] = sum / Math.min(a + 1, DEPTH);
    }
  }
  const box = new Float32Array(plane.length);
  for (let a = 0; a < across; a++) {
    const start = a * stepAcross;
    let sum = 0;
    let count = 0;
    for (let l = -HALF_LENGTH; l < length; l++) {
      if (l + HALF_LENGTH < length) {
        sum += trailing[start + (l + HALF_LENGTH) * stepAlong];
        count++;
      }
      if (l - HALF_LENGTH - 1 >= 0) {
        sum -= trailing[start + (l - HALF_LENGTH - 1) * stepAlong];
        count--;
      }
      if (l >= 0) box[start + l * stepAlong] = sum / count;
    }
  }
  return box;
}

function addContrast(
  contrast: { between: Float32Array; within: Float32Array },
  columns: number,
  rows: number,
  step: number,
  mean: Float32Array,
  square: Float32Array,
): void {
  const size = columns * rows;
  // the windows: pixels p−3..p−1 before the edge (trailing box of p − step) and p..p+2 after it (of p + 2 step)
  const ahead = (DEPTH - 1) * step;
  for (let row = 0; row < rows; row++) {
    if (step !== 1 && (row < 1 || row + DEPTH > rows)) continue;
    for (let column = 0; column < columns; column++) {
      if (step === 1 && (column < 1 || column + DEPTH > columns)) continue;
      const at = row * columns + column;
      const a = at - step;
      const b = at + ahead;
      if (b >= size) continue;
      const difference = mean[a] - mean[b];
      contrast.between[at] += difference * difference;
      contrast.within[at] += Math.max(square[a] - mean[a] * mean[a], 0) + Math.max(square[b] - mean[b] * mean[b], 0);
    }
  }
}
