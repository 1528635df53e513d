import type { WorkOptions, WorkPiece, WorkResult, WorkStage } from '../../../vision/flat-piece/measure-work.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import type { Measurement, MeasureResult, Stage } from '../../../vision/measurement.ts';
import type { Asked, KnownPhoto, MeasureQuestion, OpenProblem, PhotoFacts, Question } from './questions.ts';

export interface OpenedPhoto {
  readonly facts: PhotoFacts;
  /** The photo in a format this browser can show, when the file itself is not. */
  readonly display: Blob | null;
}

/** Why the photo a question is about could not be opened. */
export interface NotOpened {
  readonly ok: false;
  readonly reason: OpenProblem;
}

/** An answer says what it was asked about. */
export type Answered<T> = Asked & (({ readonly ok: true } & T) | NotOpened);

/** Every call names its photo; the worker decodes each of them once and holds it while there is room. */
export interface VisionWorkerApi {
  /** Resolves once this worker's end can be noticed by its name (worker-life.ts). */
  begin(name: string): Promise<void>;
  /** Answers between two pieces of work. */
  ping(): Promise<Pulse>;
  /** Loads OpenCV, so that the first measurement does not wait for it. */
  warmUp(): Promise<void>;
  /** Decodes a photo upright and holds its pixels for the questions that follow. */
  open(photo: KnownPhoto): Promise<({ readonly ok: true } & OpenedPhoto) | NotOpened>;
  measure(
    question: MeasureQuestion,
    onStage: (stage: Stage) => void,
  ): Promise<Answered<{ readonly result: MeasureResult }>>;
  /** Measures placed points on their way, quickly, going on from the photo's last result. */
  follow(question: MeasureQuestion): Promise<Answered<{ readonly result: MeasureResult }>>;
  /** One shape for all photos of one container, none of them measured again that was measured so before; null when there is none. */
  measureTogether(questions: readonly MeasureQuestion[]): Promise<Measurement | null>;
  /** Measures flat work. */
  measureWork(
    question: Question<WorkOptions>,
    piece: WorkPiece,
    onStage: (stage: WorkStage) => void,
  ): Promise<Answered<{ readonly opened: OpenedPhoto; readonly result: WorkResult }>>;
  /** A small JPEG with these places and all that looks like a card under opaque covers; null when it cannot be drawn. */
  coveredPicture(photo: KnownPhoto, places: readonly CornersPx[]): Promise<Covered | null>;
  /** The photo with the faces at these places and on all that looks like a card covered, edges left; null when it cannot be drawn. */
  faceless(photo: KnownPhoto, places: readonly CornersPx[]): Promise<Blob | null>;
}

export interface Covered {
  readonly picture: Blob;
  /** Every place that was covered, px of the photo. */
  readonly places: readonly CornersPx[];
}

/** A sign of life. */
export interface Pulse {
  /** Questions that wait for something: a file, the network, a decoder. */
  readonly waiting: number;
}
