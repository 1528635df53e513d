import type { MeasureOptions } from '../../../vision/measure-photo.ts';
import type { LensFacts } from '../../../vision/picture/photo.ts';

/** Name of one photo for as long as anybody speaks of it: on the page, in the worker, in a job. */
export type PhotoId = string;

export function newPhotoId(): PhotoId {
  return crypto.randomUUID();
}

/** What the page knows about a photo without holding its pixels. */
export interface PhotoFacts {
  /** Upright size of the pixels that are measured; very large photos are measured at a smaller size. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly lens: LensFacts;
}

/** A photo the engine is asked about: its file, or only its facts when the pixels were not kept. */
export interface KnownPhoto {
  readonly id: PhotoId;
  readonly source: Blob | PhotoFacts;
  /** What its file once said, when the file was drawn anew since and says nothing. */
  readonly lens?: LensFacts;
}

/** Which photo of which job a question is about, and after how many changes of that job. */
export interface Asked {
  readonly photo: PhotoId;
  readonly job: string;
  readonly revision: number;
}

/** One question to the engine. It brings its photo along, so that it never meets another one. */
export interface Question<Options> {
  readonly photo: KnownPhoto;
  readonly job: string;
  readonly revision: number;
  readonly options: Options;
}

export type MeasureQuestion = Question<MeasureOptions>;

export function askedBy({ photo, job, revision }: Question<unknown>): Asked {
  return { photo: photo.id, job, revision };
}

/** Why a file did not open; the page says it in words (text/…/photo.ts). */
export type OpenProblem = 'not-a-photo' | 'damaged' | 'too-large';

/** What may happen to a question besides its own answer. */
export type JobTrouble = 'cancelled' | 'engine-not-loaded' | 'engine-failed' | 'photo-gone';
