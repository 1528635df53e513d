import type { WorkOptions, WorkPiece, WorkResult, WorkStage } from '../../../vision/flat-piece/measure-work.ts';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import type { MeasureOptions } from '../../../vision/measure-photo.ts';
import type { Measurement, MeasureResult, Stage } from '../../../vision/measurement.ts';
import type { LensFacts } from '../../../vision/picture/photo.ts';

/** What the page knows about a photo without holding its pixels. */
export interface PhotoFacts {
  /** Upright size of the pixels that are measured; very large photos are measured at a smaller size. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly lens: LensFacts;
}

/** Why a file did not open; the page says it in words (text/…/photo.ts). */
export type OpenProblem = 'not-a-photo' | 'damaged' | 'too-large';

export type OpenResult =
  | {
      readonly ok: true;
      readonly facts: PhotoFacts;
      /** The photo in a format this browser can show, when the file itself is not. */
      readonly display: Blob | null;
    }
  | { readonly ok: false; readonly reason: OpenProblem };

export interface PhotoToMeasure {
  readonly file: Blob;
  readonly options: MeasureOptions;
}

export interface VisionWorkerApi {
  /** Loads OpenCV, so that the first measurement does not wait for it. */
  warmUp(): Promise<void>;
  /** Decodes a photo upright and keeps its pixels for the measurements that follow. */
  open(file: Blob): Promise<OpenResult>;
  /** Stands in for a photo whose pixels are gone: only corners and outline placed by hand can be measured. */
  openWithoutPixels(facts: PhotoFacts): Promise<void>;
  /** Measures the open photo. Rejects when none is open. */
  measure(options: MeasureOptions, onStage: (stage: Stage) => void): Promise<MeasureResult>;
  /** Measures placed points on their way, quickly, going on from the last result. Rejects when no photo is open. */
  follow(options: MeasureOptions): Promise<MeasureResult>;
  /** One shape for all photos of one container, each measured as it is told; null when there is none. No photo is open afterwards. */
  measureTogether(photos: readonly PhotoToMeasure[]): Promise<Measurement | null>;
  /** The outline on the open photo's edges nearby, closed polygon, px. Rejects when no photo is open. */
  snapOutline(outlinePx: readonly ImagePoint[], reachPx: number): Promise<readonly ImagePoint[]>;
  /** Measures flat work in the open photo. Rejects when none is open. */
  measureWork(piece: WorkPiece, options: WorkOptions, onStage: (stage: WorkStage) => void): Promise<WorkResult>;
}
