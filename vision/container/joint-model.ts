import type { LeastSquaresProblem } from '../geometry/least-squares.ts';
import type { ContainerModel } from './container-model.ts';
import { CARD_SIZE, LOG_BASE_EDGE, LOG_HEIGHT, LOG_TOP_EDGE, WALL } from './parameters.ts';

/** One photo of the container; the models of all photos have the same knots. */
export interface JointPhoto {
  readonly model: ContainerModel;
  /** Of that model alone (parameters.ts). */
  readonly parameters: Float64Array;
  /** Relative standard uncertainty of its sizes should its outline be wrong (finding-error.ts). */
  readonly findingSd: number;
}

/** A photo whose outline is certain may still disagree by this, which keeps the equations regular. */
const SMALLEST_FINDING_SD = 1e-5;

/**
 * Several photos of one container as one least-squares problem. Height, edges, wall and the size of the card are the
 * same in all of them; camera, card pose, axis and halos are each photo's own. Each photo may besides see the whole
 * container too large or small by its finding error. Unknowns: what is shared, then photo by photo what is its own and
 * the logarithm of its finding error.
 */
export class JointModel implements LeastSquaresProblem {
  readonly parameterCount: number;
  readonly residualCount: number;
  readonly cauchyScale: Float64Array;
  /** Where photo k's rows begin. */
  private readonly firstRow: readonly number[];
  private readonly shared: readonly number[];
  private readonly own: readonly number[];
  /** Rows, counted from a photo's first prior, that say what is known about the container beforehand: once is enough. */
  private readonly repeated: readonly number[];

  constructor(readonly photos: readonly JointPhoto[]) {
    const [{ model, parameters }] = photos;
    const oneCard = photos.every((photo) => photo.model.seen.reference.name === model.seen.reference.name);
    const isShared = (i: number) => isShape(i) || (i === CARD_SIZE && oneCard);
    const all = Array.from({ length: model.parameterCount }, (_, i) => i);
    this.shared = all.filter(isShared);
    this.own = all.filter((i) => !isShared(i));
    this.repeated = priorsOn(model, parameters, this.shared);
    this.parameterCount = this.shared.length + photos.length * (this.own.length + 1);
    const firstRow: number[] = [];
    let rows = 0;
    for (const photo of photos) {
      firstRow.push(rows);
      rows += photo.model.residualCount;
    }
    this.firstRow = firstRow;
    this.residualCount = rows + photos.length;
    this.cauchyScale = new Float64Array(this.residualCount);
    photos.forEach((photo, k) => {
      this.cauchyScale.set(photo.model.cauchyScale, firstRow[k]);
    });
  }

  /** What is shared from photo `k`, the rest from each photo. */
  start(k: number): Float64Array {
    const parameters = new Float64Array(this.parameterCount);
    this.shared.forEach((i, column) => {
      parameters[column] = this.photos[k].parameters[i];
    });
    this.photos.forEach((photo, p) => {
      this.own.forEach((i, j) => {
        parameters[this.ownColumn(p) + j] = photo.parameters[i];
      });
    });
    return parameters;
  }

  /** For every parameter of photo k's model the column it has here. */
  columnsOf(k: number): Int32Array {
    const columns = new Int32Array(this.shared.length + this.own.length);
    this.shared.forEach((i, column) => {
      columns[i] = column;
    });
    this.own.forEach((i, j) => {
      columns[i] = this.ownColumn(k) + j;
    });
    return columns;
  }

  /** Photo k's rows of a list of residuals or weights. */
  rowsOf(k: number, list: Float64Array): Float64Array {
    return list.slice(this.firstRow[k], this.firstRow[k] + this.photos[k].model.residualCount);
  }

  evaluate(parameters: Float64Array, residuals: Float64Array, jacobian: Float64Array | null): boolean {
    return this.photos.every(({ model, findingSd }, k) => {
      const rows = model.residualCount;
      const first = this.firstRow[k];
      const columns = this.columnsOf(k);
      const scaleColumn = this.ownColumn(k) + this.own.length;
      const seen = grown(
        columns.length,
        Float64Array.from(columns, (c) => parameters[c]),
        parameters[scaleColumn],
      );
      const photoJacobian = jacobian && new Float64Array(rows * columns.length);
      if (!model.evaluate(seen, residuals.subarray(first, first + rows), photoJacobian)) return false;
      const scaleRow = this.residualCount - this.photos.length + k;
      const sd = Math.max(findingSd, SMALLEST_FINDING_SD);
      residuals[scaleRow] = parameters[scaleColumn] / sd;
      const repeated = k > 0 ? this.repeated.map((row) => model.priorRow + row) : [];
      for (const row of repeated) residuals[first + row] = 0;
      if (!jacobian || !photoJacobian) return true;
      jacobian[scaleRow * this.parameterCount + scaleColumn] = 1 / sd;
      for (const row of repeated) photoJacobian.fill(0, row * columns.length, (row + 1) * columns.length);
      this.spread(
        photoJacobian,
        rows,
        first,
        columns,
        scaleColumn,
        { seen, growth: parameters[scaleColumn] },
        jacobian,
      );
      return true;
    });
  }

  /** Writes a photo's derivatives into its rows of the whole: by its own name for each unknown, and by its finding error. */
  private spread(
    from: Float64Array,
    rows: number,
    firstRow: number,
    columns: Int32Array,
    scaleColumn: number,
    { seen, growth }: { readonly seen: Float64Array; readonly growth: number },
    to: Float64Array,
  ): void {
    const n = columns.length;
    for (let row = 0; row < rows; row++) {
      const at = (firstRow + row) * this.parameterCount;
      for (let i = 0; i < n; i++) {
        const slope = from[row * n + i];
        if (slope === 0) continue;
        to[at + columns[i]] += i >= WALL ? slope * Math.exp(growth) : slope;
        if (i >= WALL) to[at + scaleColumn] += slope * seen[i];
        else if (i === LOG_HEIGHT || i === LOG_BASE_EDGE || i === LOG_TOP_EDGE) to[at + scaleColumn] += slope;
      }
    }
  }

  private ownColumn(k: number): number {
    return this.shared.length + k * (this.own.length + 1);
  }
}

/** Whether a parameter says what the container is like, rather than where it is or how it is seen. */
export function isShape(parameter: number): boolean {
  return [LOG_HEIGHT, LOG_BASE_EDGE, LOG_TOP_EDGE].includes(parameter) || parameter >= WALL;
}

/** The container larger by a factor exp(growth) in all its lengths. */
function grown(count: number, parameters: Float64Array, growth: number): Float64Array {
  const factor = Math.exp(growth);
  for (const i of [LOG_HEIGHT, LOG_BASE_EDGE, LOG_TOP_EDGE]) parameters[i] += growth;
  for (let i = WALL; i < count; i++) parameters[i] *= factor;
  return parameters;
}

/** Which of the model's priors depend on nothing but the given parameters. */
function priorsOn(model: ContainerModel, parameters: Float64Array, columns: readonly number[]): number[] {
  const n = model.parameterCount;
  const jacobian = new Float64Array(model.residualCount * n);
  model.evaluate(parameters, new Float64Array(model.residualCount), jacobian);
  const among = new Set(columns);
  const rows: number[] = [];
  for (let row = model.priorRow; row < model.residualCount; row++) {
    const slopes = jacobian.subarray(row * n, (row + 1) * n);
    if (slopes.some(Boolean) && slopes.every((slope, i) => slope === 0 || among.has(i))) {
      rows.push(row - model.priorRow);
    }
  }
  return rows;
}
