import type { WorkOptions, WorkPiece, WorkResult } from '../../vision/flat-piece/measure-work.ts';
import type { RowDirection, Thickness } from '../../vision/flat-piece/work-photo.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { parseRoundReference } from '../../vision/reference/round-reference.ts';
import type { JobPhoto } from '../app/app-state.ts';
import type { Subject } from '../place/use-measured-photo.ts';
import { referenceNamed } from '../reference/reference-named.ts';

/** What the maker placed or said about the photo of her work; null is left to the engine. */
export interface Placed {
  readonly reference: string | null;
  readonly cornersPx: CornersPx | null;
  /** The work's edge, closed. */
  readonly edgePx: readonly ImagePoint[] | null;
  readonly insidePx: ImagePoint | null;
  readonly rowsRun: RowDirection | null;
}

/** A look at the work in hand, from the wish to photograph it until it went into plan or gauge. */
export interface WorkCheck {
  readonly piece: WorkPiece;
  /** Null until one is taken. */
  readonly photo: JobPhoto | null;
  /** The picture with the card covered, the only one that is kept. */
  readonly picture: Blob | null;
  readonly placed: Placed;
  readonly past: readonly Placed[];
  /** What was taken back. Not in what earlier versions kept. */
  readonly future?: readonly Placed[];
  /** What the plan or an earlier swatch says about it: to compare with, never to measure by. Not in what earlier versions kept. */
  readonly planned?: { readonly rounds: number | null; readonly stitches: number | null };
  /** Counted on the piece in the photo: rounds of the disc, the tube's last round, or rows of the swatch; and stitches in one of them. */
  readonly rounds: number | null;
  readonly stitches: number | null;
  /** Of one layer of the fabric; guessed from the stitches when null. */
  readonly thicknessMm: number | null;
  /** What the engine said, and to which question. */
  readonly answer: { readonly to: string; readonly result: WorkResult } | null;
}

const NOTHING_PLACED: Placed = { reference: null, cornersPx: null, edgePx: null, insidePx: null, rowsRun: null };

export interface WorkToCheck {
  readonly piece: WorkPiece;
  readonly rounds: number | null;
  readonly stitches: number | null;
  readonly thicknessMm: number | null;
  /** What usually lies beside it; null for a bank card. */
  readonly reference: string | null;
}

export function newWorkCheck({ piece, rounds, stitches, thicknessMm, reference }: WorkToCheck): WorkCheck {
  return {
    piece,
    photo: null,
    picture: null,
    placed: { ...NOTHING_PLACED, reference },
    past: [],
    planned: { rounds, stitches },
    rounds: null,
    stitches: null,
    thicknessMm,
    answer: null,
  };
}

/** The same wish with another photo. What was placed does not hold there, and the piece in it is counted anew. */
export function withPhoto(check: WorkCheck, photo: JobPhoto | null): WorkCheck {
  const { reference, rowsRun } = check.placed;
  return {
    ...check,
    photo,
    picture: null,
    placed: { ...NOTHING_PLACED, reference, rowsRun },
    past: [],
    future: [],
    rounds: null,
    stitches: null,
    answer: null,
  };
}

export function withPlaced(check: WorkCheck, placed: Partial<Placed>): WorkCheck {
  return { ...check, placed: { ...check.placed, ...placed }, past: [...check.past, check.placed], future: [] };
}

export function undone(check: WorkCheck): WorkCheck {
  const placed = check.past.at(-1);
  const future = [check.placed, ...(check.future ?? [])];
  return placed ? { ...check, placed, past: check.past.slice(0, -1), future } : check;
}

export function redone(check: WorkCheck): WorkCheck {
  const [placed, ...future] = check.future ?? [];
  return placed ? { ...check, placed, past: [...check.past, check.placed], future } : check;
}

/** Counted on a sample. A tube's counts are the plan's. */
export interface Counted {
  readonly rounds: number;
  readonly stitches: number;
  readonly rowsRun: RowDirection | null;
  /** What lies beside it; null for a card. */
  readonly reference: string | null;
}

export function withCounts(check: WorkCheck, { rounds, stitches, rowsRun, reference }: Counted): WorkCheck {
  const placed = { ...check.placed, rowsRun, reference };
  return check.piece === 'tube' ? { ...check, placed } : { ...check, placed, rounds, stitches };
}

/** Lets the engine look for everything again. */
export function foundAgain(check: WorkCheck): WorkCheck {
  return withPlaced(check, { cornersPx: null, edgePx: null, insidePx: null });
}

/**
 * What the engine is asked: everything the maker placed or said.
 * @param hold  also hold what was found before, so that no pixel is looked at: while a point is dragged, and when the
 *              photo itself is gone
 */
export function workOptions({ piece, placed, stitches, thicknessMm, answer }: WorkCheck, hold: boolean): WorkOptions {
  const reference = placed.reference === null ? null : referenceNamed(placed.reference);
  const round = placed.reference === null || reference ? null : parseRoundReference(placed.reference);
  const cornersPx = placed.cornersPx ?? (hold && answer ? cornersOfWork(answer.result) : null);
  const edgePx = placed.edgePx ?? (hold && answer ? edgeOfWork(answer.result) : null);
  return {
    ...(reference && { reference }),
    ...(round && { round: { reference: round } }),
    ...(cornersPx && !round && { cornersPx, ...(placed.cornersPx && !hold && { snapCorners: true }) }),
    ...(edgePx && { edgePx }),
    ...(placed.insidePx && !edgePx && { insidePx: placed.insidePx }),
    ...(placed.rowsRun && piece !== 'disc' && { rowsRun: placed.rowsRun }),
    ...(stitches !== null && { stitches }),
    ...(thicknessMm !== null && { thicknessMm }),
  };
}

/** The answers that tell a piece's sides apart: as they run in the photo, or by length where it lies diagonally. */
export function rowDirectionsToAsk({ placed, answer }: WorkCheck): readonly RowDirection[] {
  const { rowsRun } = placed;
  const bySize = rowsRun === 'longer' || rowsRun === 'shorter';
  return bySize || (answer && liesDiagonally(answer.result)) ? ['longer', 'shorter'] : ['across', 'up'];
}

function liesDiagonally(result: WorkResult): boolean {
  if (result.outcome === 'refused' || result.piece === 'disc') return false;
  return (result.piece === 'swatch' ? result.swatch : result.tube).rectangle.liesDiagonally;
}

/** Tells two questions apart. */
export function questionOf(check: WorkCheck): string {
  return JSON.stringify(workOptions(check, false));
}

export function cornersOfWork(result: WorkResult): CornersPx | null {
  return result.outcome === 'measured' ? result.cornersPx : result.found.cornersPx;
}

/** What the engine took for one layer of the fabric; null while it measured nothing. */
export function thicknessOfWork(result: WorkResult): Thickness | null {
  if (result.outcome === 'refused') return null;
  if (result.piece === 'disc') return result.disc.thickness;
  return (result.piece === 'swatch' ? result.swatch : result.tube).thickness;
}

/** The outline on the photo, closed. */
export function edgeOfWork(result: WorkResult): readonly ImagePoint[] | null {
  if (result.outcome === 'refused') return result.found.edgePx;
  if (result.piece === 'disc') return result.disc.edgePx;
  return (result.piece === 'swatch' ? result.swatch : result.tube).rectangle.edgePx;
}

/** The work as it is measured in its photo. */
export function workIn(check: WorkCheck, job: string): Subject<WorkOptions> {
  const question = questionOf(check);
  const cards = cardPlacesOfWork(check);
  return {
    job,
    photo: check.photo,
    revision: check.past.length,
    question: check.answer?.to === question ? null : question,
    options: (hold) => workOptions(check, hold),
    isPlaced: ({ cornersPx, edgePx }) => cornersPx !== undefined && edgePx !== undefined,
    cards: cards.length > 0 ? cards : null,
    faces: null,
  };
}

/** Every place the card was found or placed at: a corner pulled away by hand must not uncover its face. */
export function cardPlacesOfWork({ placed, past, future = [], answer }: WorkCheck): CornersPx[] {
  const byHand = [...past, placed, ...future].map(({ cornersPx }) => cornersPx);
  return [answer && cornersOfWork(answer.result), ...byHand].filter((place) => place !== null);
}
