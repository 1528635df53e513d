/** Where a map of logits peaks, in cells; `mass` is the probability within REACH cells of it. */
export interface Peak {
  readonly column: number;
  readonly row: number;
  readonly mass: number;
}

const REACH = 2;
const CLEARANCE = 6;

/** Logistic function of each logit. */
export function probabilities(logits: Float32Array): Float32Array {
  return logits.map((x) => 1 / (1 + Math.exp(-x)));
}

/** Probabilities that add up to 1. */
export function softmax(logits: Float32Array): Float32Array {
  let most = Number.NEGATIVE_INFINITY;
  for (const x of logits) most = Math.max(most, x);
  const raised = logits.map((x) => Math.exp(x - most));
  let sum = 0;
  for (const x of raised) sum += x;
  return raised.map((x) => x / sum);
}

/**
 * The square of (2 · REACH + 1)² cells that holds most of the map's softmax, and its centre of mass.
 * @param away squares centred within CLEARANCE cells of this peak are passed over
 */
export function peakOf(logits: Float32Array, columns: number, away?: Peak): Peak {
  const belief = softmax(logits);
  const rows = belief.length / columns;
  let best: Peak = { column: 0, row: 0, mass: 0 };
  // A square holds at most 25 times its middle cell when that is its brightest; other squares come up at their own middle.
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      if (away && areClose(away, { column, row })) continue;
      if ((belief[row * columns + column] ?? 0) * (2 * REACH + 1) ** 2 < best.mass) continue;
      const here = centreOfMass(belief, columns, rows, column, row);
      if (here.mass > best.mass) best = here;
    }
  }
  return best;
}

/** Too close for two different points of the scene. */
export function areClose(a: Omit<Peak, 'mass'>, b: Omit<Peak, 'mass'>): boolean {
  return Math.hypot(a.column - b.column, a.row - b.row) <= CLEARANCE;
}

function centreOfMass(belief: Float32Array, columns: number, rows: number, column: number, row: number): Peak {
  let mass = 0;
  let x = 0;
  let y = 0;
  for (let r = Math.max(0, row - REACH); r <= Math.min(rows - 1, row + REACH); r += 1) {
    for (let c = Math.max(0, column - REACH); c <= Math.min(columns - 1, column + REACH); c += 1) {
      const p = belief[r * columns + c] ?? 0;
      mass += p;
      x += p * c;
      y += p * r;
    }
  }
  return mass > 0 ? { column: x / mass, row: y / mass, mass } : { column, row, mass };
}
