/** What the symmetric cut is made from, all in one axis view: row-major rasters of `columns` × `rows`. */
export interface CutEvidence {
  readonly columns: number;
  readonly rows: number;
  /** Evidence that a pixel belongs to the container, > 0 for, < 0 against. */
  readonly inside: Float32Array;
  /** 0..1: strength of an edge between this pixel and the one to its left. */
  readonly edgeLeft: Float32Array;
  /** 0..1: strength of an edge between this pixel and the one above. */
  readonly edgeAbove: Float32Array;
}

/** A region that is mirror-symmetric about a column and has one stretch in each row. */
export interface SymmetricCut {
  readonly axisColumn: number;
  readonly firstRow: number;
  /** Half width of each row from firstRow on, in view px: the region spans axisColumn ± halfWidth. */
  readonly halfWidths: readonly number[];
  /** The lower, the better; an empty region has 0. */
  readonly energy: number;
}

export interface CutWeights {
  /** Cost of a unit of boundary without any edge beneath it. */
  readonly boundary: number;
  /** Rows the region must cover. */
  readonly mustCover?: readonly [firstRow: number, lastRow: number];
}

/**
 * The region of least energy: minus the sum of `inside` over its pixels plus a boundary cost that edges make cheap.
 * Exact, by dynamic programming over rows with the half width as state: inside a row the way from one half width to
 * another runs along its upper border, so its cost is a difference of sums and one sweep each way finds the best.
 * @param axisColumn  the column of symmetry; moved to the nearest place half-way between two columns
 */
export function symmetricCut(evidence: CutEvidence, axisColumn: number, weights: CutWeights): SymmetricCut | null {
  const { columns, rows } = evidence;
  const firstRight = Math.round(axisColumn + 0.5);
  const widest = Math.min(firstRight, columns - firstRight) - 1;
  if (widest < 2) return null;
  const states = widest + 1;
  const from = new Int16Array(rows * states);
  let before = new Float64Array(states).fill(Infinity);
  let now = new Float64Array(states);
  const along = new Float64Array(states);
  const origin = new Int16Array(states);
  const NEW = -1;
  const [coverFrom, coverTo] = weights.mustCover ?? [rows, -1];
  let best = { energy: 0, row: -1, state: 0 };

  for (let row = 0; row < rows; row++) {
    // along[w]: cost of a horizontal border from the axis to half width w above this row
    borderAbove(evidence, row, firstRight, weights.boundary, along);
    // close the region above this row
    if (row > 0 && row > coverTo) {
      for (let w = 1; w < states; w++) {
        const energy = before[w] + along[w];
        if (energy < best.energy) best = { energy, row: row - 1, state: w };
      }
    }
    for (let w = 0; w < states; w++) {
      origin[w] = w;
      now[w] = w === 0 ? Infinity : before[w];
    }
    for (let w = 1; w < states; w++) {
      const wider = now[w - 1] + along[w] - along[w - 1];
      if (wider < now[w]) {
        now[w] = wider;
        origin[w] = origin[w - 1];
      }
    }
    for (let w = states - 2; w >= 1; w--) {
      const narrower = now[w + 1] + along[w + 1] - along[w];
      if (narrower < now[w]) {
        now[w] = narrower;
        origin[w] = origin[w + 1];
      }
    }
    let sum = 0;
    for (let w = 1; w < states; w++) {
      if (row <= coverFrom && along[w] < now[w]) {
        now[w] = along[w];
        origin[w] = NEW;
      }
      const left = row * columns + firstRight - w;
      const right = row * columns + firstRight + w - 1;
      sum += evidence.inside[left] + evidence.inside[right];
      now[w] += weights.boundary * sidesCost(evidence.edgeLeft[left], evidence.edgeLeft[right + 1]) - sum;
      from[row * states + w] = origin[w];
    }
    now[0] = Infinity;
    [before, now] = [now, before];
  }
  for (let w = 1; w < states; w++) {
    // the last row ends at the border of the view: no edge there
    const energy = before[w] + weights.boundary * 2 * w;
    if (energy < best.energy) best = { energy, row: rows - 1, state: w };
  }
  if (best.row < 0) return null;
  return tracedBack(best, from, states, firstRight);
}

/** Both sides seldom show equally: the weaker one counts three times as much as the stronger one. */
function sidesCost(left: number, right: number): number {
  return 2 - 1.5 * Math.min(left, right) - 0.5 * Math.max(left, right);
}

function borderAbove(evidence: CutEvidence, row: number, firstRight: number, boundary: number, along: Float64Array) {
  const { columns, edgeAbove } = evidence;
  along[0] = 0;
  for (let w = 1; w < along.length; w++) {
    const at = row * columns + firstRight;
    along[w] = along[w - 1] + boundary * sidesCost(edgeAbove[at - w], edgeAbove[at + w - 1]);
  }
}

function tracedBack(
  end: { energy: number; row: number; state: number },
  from: Int16Array,
  states: number,
  firstRight: number,
): SymmetricCut {
  const halfWidths: number[] = [];
  let { row, state } = end;
  for (;;) {
    halfWidths.push(state);
    const next = from[row * states + state];
    if (next < 0 || row === 0) break;
    state = next;
    row -= 1;
  }
  halfWidths.reverse();
  return { axisColumn: firstRight - 0.5, firstRow: row, halfWidths, energy: end.energy };
}
