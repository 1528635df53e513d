import { type Dispatch, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import { parseRoundReference } from '../../vision/reference/round-reference.ts';
import {
  type Action,
  type AppState,
  type Edits,
  isCardPlaced,
  type Job,
  NO_EDITS,
  placesIn,
} from '../app/app-state.ts';
import { latestWins } from '../engine/latest-wins.ts';
import { measureOptions } from '../engine/measure-options.ts';
import {
  type KnownPhoto,
  type Measured,
  type MeasureQuestion,
  type Measuring,
  newPhotoId,
  type PhotoId,
} from '../engine/measuring.ts';
import { sentPhoto } from '../photo/sent-photo.ts';

/** The picture on screen and what of it may be kept. */
export interface Picture {
  /** Whose picture it is. */
  readonly photo: PhotoId;
  readonly url: string;
  readonly shown: Blob;
  /** The photo as it came in; null when only the blanked picture was kept. */
  readonly original: Blob | null;
  readonly blanked: Blob | null;
  /** The photo without any card's face, once it is known where they are: lies aside for a reload in the photo's place. */
  readonly faceless?: Blob | null;
}

export interface PhotoFrom {
  /** What lies beside the container, when the photo says it; else what the maker usually takes. */
  readonly reference?: string;
  /** It came from somebody else. */
  readonly sent?: boolean;
}

export interface JobWork {
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
  readonly measureWork: Measuring['measureWork'];
  readonly coverPicture: Measuring['coveredPicture'];
  /** Every place in a photo where a card is or may be; null when it cannot be looked at. */
  cardsIn(photo: KnownPhoto): Promise<readonly CornersPx[] | null>;
  snapOutline(outlinePx: readonly ImagePoint[], reachPx: number): Promise<readonly ImagePoint[] | null>;
  /** Measures while a point is dragged; only the latest position counts. */
  measureLive(edits: Edits, found: MeasureResult | null, show: (result: MeasureResult) => void): void;
}

/** Keeps the measuring engine and the job in step: opens photos, measures after every change, blanks the card. */
export function useJob(
  state: AppState,
  dispatch: Dispatch<Action>,
  measuring: Measuring,
  usualReference: string | null,
): JobWork {
  const { job } = state;
  const [picture, setPicture] = useState<Picture | null>(null);
  const running = useRef<AbortController | null>(null);
  const latest = useRef(state);
  latest.current = state;
  const usual = useRef(usualReference);
  usual.current = usualReference;
  /** Photos of this visit, by name; a reload leaves only what they said. */
  const files = useRef(new Map<PhotoId, Blob>());
  const [joining, setJoining] = useState(false);
  /** Jobs for which another photo is being measured, one entry a photo. */
  const [adding, setAdding] = useState<readonly string[]>([]);

  const show = useCallback((next: Omit<Picture, 'url'>) => {
    setPicture((before) => {
      if (before) URL.revokeObjectURL(before.url);
      return { url: URL.createObjectURL(next.shown), ...next };
    });
    if (next.original) files.current.set(next.photo, next.original);
  }, []);
  const known = useCallback(
    (photo: NonNullable<Job['photo']>): KnownPhoto => ({
      id: photo.id,
      source: files.current.get(photo.id) ?? { widthPx: photo.widthPx, heightPx: photo.heightPx, lens: photo.lens },
      lens: photo.lens,
    }),
    [],
  );

  const openPhoto = useCallback(
    async (file: Blob, { reference, sent = false }: PhotoFrom = {}) => {
      running.current?.abort();
      const controller = new AbortController();
      running.current = controller;
      dispatch({ type: 'photo-opening' });
      const id = newPhotoId();
      const opened = await measuring.open({ id, source: file }, controller.signal);
      if (running.current !== controller) return;
      if (!opened.ok) return dispatch({ type: 'trouble', jobId: null, reason: opened.reason });
      show({ photo: id, shown: opened.display ?? file, original: file, blanked: null });
      dispatch({
        type: 'photo-opened',
        id: crypto.randomUUID(),
        photo: { id, ...opened.facts },
        reference: reference ?? usual.current,
        sent: sent ? sentPhoto(opened.facts, file.type) : null,
      });
    },
    [dispatch, measuring, show],
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

  const measureNow = useMemo(
    () =>
      latestWins(async () => {
        const asked = latest.current.job;
        if (!asked?.photo || asked.measuredRevision === asked.revision) return;
        const photo = known(asked.photo);
        const hasPixels = photo.source instanceof Blob;
        const options = measureOptions(asked.edits, hasPixels ? null : asked.result, asked.result);
        const jobId = asked.id;
        if (!hasPixels && !(options.cornersPx && options.outlinePx)) {
          dispatch({ type: 'trouble', jobId, reason: 'photo-gone' });
          return;
        }
        const controller = new AbortController();
        running.current = controller;
        dispatch({ type: 'stage', jobId, stage: null });
        const question = { photo, job: jobId, revision: asked.revision, options };
        const answer = await measuring.measure(question, controller.signal, (stage) =>
          dispatch({ type: 'stage', jobId, stage }),
        );
        const { job, revision } = answer;
        if (answer.ok) dispatch({ type: 'measured', jobId: job, revision, result: answer.result });
        else dispatch({ type: 'trouble', jobId: job, reason: answer.reason });
      }),
    [dispatch, measuring, known],
  );

  const jobId = job?.id;
  const revision = job?.revision;
  useEffect(() => {
    if (jobId && revision) measureNow(undefined);
  }, [jobId, revision, measureNow]);

  const live = useMemo(
    () =>
      latestWins(
        async (asked: { edits: Edits; found: MeasureResult | null; show: (result: MeasureResult) => void }) => {
          const current = latest.current.job;
          if (!current?.photo) return;
          const { id, revision, photo } = current;
          const options = measureOptions(asked.edits, asked.found);
          const answer = await measuring.follow({ photo: known(photo), job: id, revision, options });
          if (answer.ok && answer.job === latest.current.job?.id) asked.show(answer.result);
        },
      ),
    [measuring, known],
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
      const source = files.current.get(id);
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
  }, [dispatch, first, furtherPhotos, measuring, together]);

  // Every picture that may be kept is made as soon as it is known where the card is.
  const photo = job?.photo ?? null;
  const places = job?.cardPlaces;
  const isSure = job !== null && isCardPlaced(job);
  const isMeasured = job !== null && job.measuredRevision === job.revision;
  const isRound = job?.edits.reference != null && parseRoundReference(job.edits.reference) !== null;
  const original = picture?.original;
  useEffect(() => {
    if (!isSure || !isMeasured || !places || !photo || !original) return;
    let current = true;
    void measuring.coveredPicture(known(photo), places).then((covered) => {
      if (!current || !covered) return;
      setPicture((before) => (before?.photo === photo.id ? { ...before, blanked: covered.picture } : before));
    });
    // A coin's square holds no face, and covering it would hide the coin.
    const faces = isRound ? [] : places;
    void measuring.faceless(known(photo), faces).then((drawn) => {
      if (!current || !drawn) return;
      setPicture((before) => (before?.photo === photo.id ? { ...before, faceless: drawn } : before));
    });
    return () => {
      current = false;
    };
  }, [isSure, isMeasured, isRound, places, photo, original, measuring, known]);

  const measureOther = async (file: Blob): Promise<Measured | null> => {
    const asked = latest.current.job;
    if (!asked) return null;
    const id = newPhotoId();
    files.current.set(id, file);
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
    // A job from the tape alone has none, whatever was on screen before.
    picture: photo && picture?.photo === photo.id ? picture : null,
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
      if (!restored?.photo) return setPicture(null);
      const { id } = restored.photo;
      if (kept) files.current.set(id, kept);
      // Browsers do not show HEIC; its blanked picture is a JPEG, or the engine makes one.
      const shownAgain = kept && !/hei[cf]/.test(kept.type) ? kept : blanked;
      if (shownAgain) show({ photo: id, shown: shownAgain, original: kept, blanked });
      else setPicture(null);
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
    cancel() {
      running.current?.abort();
    },
    measureWork: measuring.measureWork,
    coverPicture: measuring.coveredPicture,
    async cardsIn(photo) {
      const question = { photo, job: photo.id, revision: 0, options: measureOptions(NO_EDITS, null) };
      const answer = await measuring.measure(question, new AbortController().signal, () => {});
      return answer.ok ? placesIn(answer.result) : null;
    },
    snapOutline: async (outlinePx, reachPx) => {
      const asked = latest.current.job;
      return asked?.photo ? measuring.snapOutline(known(asked.photo), outlinePx, reachPx) : null;
    },
    measureLive: (edits, found, showResult) => live({ edits, found, show: showResult }),
  };
}

/** Further photos are looked at afresh; only the reference is the same. */
function optionsForOther(job: AppState['job']) {
  return measureOptions({ ...NO_EDITS, reference: job?.edits.reference ?? null }, null);
}
