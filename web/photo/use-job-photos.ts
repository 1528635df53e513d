import { type Dispatch, useCallback, useEffect, useRef, useState } from 'react';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import type { MeasureOptions } from '../../vision/measure-photo.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import {
  type Action,
  type Activity,
  type AppState,
  isCardPlaced,
  type Job,
  NO_EDITS,
  placesIn,
} from '../app/app-state.ts';
import { measureOptions } from '../engine/measure-options.ts';
import {
  type KnownPhoto,
  type Measured,
  type MeasureQuestion,
  type Measuring,
  newPhotoId,
  type PhotoId,
} from '../engine/measuring.ts';
import { type PhotoFiles, type Picture, type Subject, useMeasuredPhoto } from '../place/use-measured-photo.ts';
import { isRoundNamed } from '../reference/reference-named.ts';
import { sentPhoto } from './sent-photo.ts';

export interface PhotoFrom {
  /** What lies beside the container, when the photo says it; else what the maker usually takes. */
  readonly reference?: string;
  /** It came from somebody else. */
  readonly sent?: boolean;
}

export interface JobPhotos {
  readonly picture: Picture | null;
  openPhoto(file: Blob, from?: PhotoFrom): Promise<void>;
  /** Opens the first; the others wait to be told what they are. */
  openSent(files: readonly Blob[]): void;
  /** Photos that came with the one on screen. */
  readonly waiting: readonly Blob[];
  /** They show the same container. */
  joinWaiting(): void;
  /** Shows a kept picture again, and lets the engine search it when it is the original. */
  showKept(pictures: { blanked: Blob | null; original: Blob | null }, photo: AppState['job']): void;
  /** Measures another photo of the same container and adds it to the job it was asked for; the one on screen stays. */
  measureOther(file: Blob): Promise<Measured | null>;
  /** True while another photo of the job in hand is measured. */
  readonly adding: boolean;
  /** True while one shape is fitted to all photos of the container. */
  readonly joining: boolean;
  cancel(): void;
  /** Measures while a point is held; only the latest position counts. */
  follow(options: MeasureOptions, show: (result: MeasureResult) => void): void;
  /** The engine and the photos of this visit, for a photo of the work. */
  readonly measuring: Measuring;
  readonly files: PhotoFiles;
  readonly coverPicture: Measuring['coveredPicture'];
  /** Every place in a photo where a card is or may be; null when it cannot be looked at. */
  cardsIn(photo: KnownPhoto): Promise<readonly CornersPx[] | null>;
}

/** The photos of the job in hand: the one on screen, those that came with it and further ones of the same container. */
export function useJobPhotos(
  state: AppState,
  dispatch: Dispatch<Action>,
  measuring: Measuring,
  usualReference: string | null,
): JobPhotos {
  const { job } = state;
  const latest = useRef(state);
  latest.current = state;
  const usual = useRef(usualReference);
  usual.current = usualReference;
  const [files] = useState<PhotoFiles>(() => new Map<PhotoId, Blob>());
  const [joining, setJoining] = useState(false);
  /** Jobs for which another photo is being measured, one entry a photo. */
  const [adding, setAdding] = useState<readonly string[]>([]);

  const { picture, open, show, follow, cancel } = useMeasuredPhoto(measuring, files, job && containerIn(job), {
    measure: measuring.measure,
    follow: measuring.follow,
    onActivity: (activity, jobId) => dispatch(toldOf(activity, jobId)),
    onAnswer: (result, { job: jobId, revision }) => dispatch({ type: 'measured', jobId, revision, result }),
  });

  const openPhoto = useCallback(
    async (file: Blob, { reference, sent = false }: PhotoFrom = {}) => {
      const photo = await open(file);
      if (!photo) return;
      dispatch({
        type: 'photo-opened',
        id: crypto.randomUUID(),
        photo,
        reference: reference ?? usual.current,
        sent: sent ? sentPhoto(photo, file.type) : null,
      });
    },
    [dispatch, open],
  );

  const [waiting, setWaiting] = useState<readonly Blob[]>([]);
  const openSent = useCallback(
    ([first, ...others]: readonly Blob[]) => {
      if (!first) return;
      setWaiting(others);
      void openPhoto(first, { sent: true });
    },
    [openPhoto],
  );

  // Once a photo was added or the first one measured anew, all of them are explained by one shape.
  const first = job?.result?.outcome === 'measured' ? job.result.measurement : null;
  const furtherPhotos = job?.furtherPhotos;
  const together = job?.together;
  useEffect(() => {
    const asked = latest.current.job;
    if (!asked?.photo || !first || !furtherPhotos?.length || together) return;
    const of = [asked.photo.id, ...furtherPhotos.map(({ photo }) => photo)];
    const questions = of.flatMap((id, k): MeasureQuestion[] => {
      const source = files.get(id);
      const options = k === 0 ? measureOptions(asked.edits, null, asked.result) : optionsForOther(asked);
      return source ? [{ photo: { id, source }, job: asked.id, revision: asked.measuredRevision, options }] : [];
    });
    if (questions.length < of.length) return;
    let current = true;
    setJoining(true);
    void measuring.measureTogether(questions, new AbortController().signal).then((measurement) => {
      if (!current) return;
      setJoining(false);
      const { id: jobId, measuredRevision: revision } = asked;
      if (measurement) dispatch({ type: 'together', jobId, revision, of, measurement });
    });
    return () => {
      current = false;
      setJoining(false);
    };
  }, [dispatch, files, first, furtherPhotos, measuring, together]);

  const measureOther = async (file: Blob): Promise<Measured | null> => {
    const asked = latest.current.job;
    if (!asked) return null;
    const id = newPhotoId();
    files.set(id, file);
    setAdding((jobs) => [...jobs, asked.id]);
    const question = {
      photo: { id, source: file },
      job: asked.id,
      revision: asked.revision,
      options: optionsForOther(asked),
    };
    const answer = await measuring.measure(question, new AbortController().signal, () => {});
    setAdding((jobs) => jobs.filter((_, k) => k !== jobs.indexOf(asked.id)));
    if (answer.ok && answer.result.outcome === 'measured') {
      const further = { photo: answer.photo, measurement: answer.result.measurement };
      dispatch({ type: 'further-photo', jobId: answer.job, further });
    }
    return answer.job === latest.current.job?.id ? answer : null;
  };

  return {
    picture,
    openPhoto: (file, from) => {
      setWaiting([]);
      return openPhoto(file, from);
    },
    openSent,
    waiting,
    joinWaiting() {
      for (const file of waiting) void measureOther(file);
      setWaiting([]);
    },
    showKept({ blanked, original: kept }, restored) {
      if (!restored?.photo) return show(null);
      const { id } = restored.photo;
      if (kept) files.set(id, kept);
      // Browsers do not show HEIC; its blanked picture is a JPEG, or the engine makes one.
      const shownAgain = kept && !/hei[cf]/.test(kept.type) ? kept : blanked;
      show(shownAgain && { photo: id, shown: shownAgain, original: kept, blanked });
      if (!kept || shownAgain) return;
      void measuring.open({ id, source: kept }, new AbortController().signal).then((opened) => {
        if (opened.ok && latest.current.job?.photo?.id === id) {
          show({ photo: id, shown: opened.display ?? kept, original: kept, blanked });
        }
      });
    },
    measureOther,
    adding: job !== null && adding.includes(job.id),
    joining,
    cancel,
    follow,
    measuring,
    files,
    coverPicture: measuring.coveredPicture,
    async cardsIn(photo) {
      const question = { photo, job: photo.id, revision: 0, options: measureOptions(NO_EDITS, null) };
      const answer = await measuring.measure(question, new AbortController().signal, () => {});
      return answer.ok ? placesIn(answer.result) : null;
    },
  };
}

/** The container of a job, as it is measured in its photo. */
function containerIn(job: Job): Subject<MeasureOptions> {
  const { id, photo, edits, revision, measuredRevision, result, cardPlaces } = job;
  const isMeasured = measuredRevision === revision;
  const cards = isMeasured && isCardPlaced(job) ? cardPlaces : null;
  return {
    job: id,
    photo,
    revision,
    question: isMeasured ? null : revision.toString(),
    options: (hold) => measureOptions(edits, hold ? result : null, result),
    isPlaced: ({ cornersPx, outlinePx }) => cornersPx !== undefined && outlinePx !== undefined,
    cards,
    // A coin's square holds no face, and covering it would hide the coin.
    faces: isRoundNamed(edits.reference) ? cards && [] : cards,
  };
}

function toldOf(activity: Activity, jobId: string | null): Action {
  if (activity.kind === 'trouble') return { type: 'trouble', jobId, reason: activity.reason };
  if (activity.kind === 'measuring' && jobId !== null) return { type: 'stage', jobId, stage: activity.stage };
  return { type: 'photo-opening' };
}

/** Further photos are looked at afresh; only the reference is the same. */
function optionsForOther(job: AppState['job']) {
  return measureOptions({ ...NO_EDITS, reference: job?.edits.reference ?? null }, null);
}
