import { type Dispatch, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import type { Measurement, MeasureResult } from '../../vision/measurement.ts';
import { type Action, type AppState, cardPlaces, type Edits, NO_EDITS } from '../app/app-state.ts';
import { blankedPicture } from '../engine/blanked-picture.ts';
import { latestWins } from '../engine/latest-wins.ts';
import { measureOptions } from '../engine/measure-options.ts';
import type { Measured, Measuring, Opened } from '../engine/measuring.ts';

/** The picture on screen and what of it may be kept. */
export interface Picture {
  readonly url: string;
  readonly shown: Blob;
  /** The photo as it came in; null when only the blanked picture was kept. */
  readonly original: Blob | null;
  readonly blanked: Blob | null;
}

/** The engine's answer about another photo, or why it had none. */
export type OtherMeasured = Measured | Extract<Opened, { ok: false }>;

export interface JobWork {
  readonly picture: Picture | null;
  /** @param reference  what lies beside the container, when the photo says it; else what the maker usually takes */
  openPhoto(file: Blob, name: string, reference?: string): Promise<void>;
  /** Shows a kept picture again, and lets the engine search it when it is the original. */
  showKept(pictures: { blanked: Blob | null; original: Blob | null }, photo: AppState['job']): void;
  /** Measures another photo of the same container; the one on screen stays. */
  measureOther(file: Blob): Promise<OtherMeasured>;
  /** True while one shape is fitted to all photos of the container. */
  readonly joining: boolean;
  cancel(): void;
  readonly measureWork: Measuring['measureWork'];
  readonly snapOutline: Measuring['snapOutline'];
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
  const hasPixels = useRef(false);
  /** Further photos of this visit; a reload leaves only what they said. */
  const otherFiles = useRef(new Map<Measurement, Blob>());
  const [joining, setJoining] = useState(false);

  const show = useCallback((shown: Blob, original: Blob | null, blanked: Blob | null) => {
    setPicture((before) => {
      if (before) URL.revokeObjectURL(before.url);
      return { url: URL.createObjectURL(shown), shown, original, blanked };
    });
    hasPixels.current = original !== null;
  }, []);

  const openPhoto = useCallback(
    async (file: Blob, name: string, reference: string | null = usual.current) => {
      running.current?.abort();
      const controller = new AbortController();
      running.current = controller;
      dispatch({ type: 'photo-opening' });
      const opened = await measuring.open(controller.signal, file);
      if (running.current !== controller) return;
      if (!opened.ok) return dispatch({ type: 'trouble', reason: opened.reason });
      show(opened.display ?? file, file, null);
      const { facts } = opened;
      dispatch({ type: 'photo-opened', id: crypto.randomUUID(), name, facts, reference });
    },
    [dispatch, measuring, show],
  );

  const measureNow = useMemo(
    () =>
      latestWins(async () => {
        const asked = latest.current.job;
        if (!asked?.photo || asked.measuredRevision === asked.revision) return;
        const options = measureOptions(asked.edits, hasPixels.current ? null : asked.result, asked.result);
        if (!hasPixels.current && !(options.cornersPx && options.outlinePx)) {
          dispatch({ type: 'trouble', reason: 'photo-gone' });
          return;
        }
        const controller = new AbortController();
        running.current = controller;
        dispatch({ type: 'stage', stage: null });
        const measured = await measuring.measure(controller.signal, options, (stage) =>
          dispatch({ type: 'stage', stage }),
        );
        if (latest.current.job?.id !== asked.id) return;
        if (!measured.ok) dispatch({ type: 'trouble', reason: measured.reason });
        else dispatch({ type: 'measured', jobId: asked.id, revision: asked.revision, result: measured.result });
      }),
    [dispatch, measuring],
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
          const options = measureOptions(asked.edits, asked.found);
          const measured = await measuring.follow(options);
          if (measured.ok) asked.show(measured.result);
        },
      ),
    [measuring],
  );

  // Once a photo was added or the first one measured anew, all of them are explained by one shape.
  const first = job?.result?.outcome === 'measured' ? job.result.measurement : null;
  const furtherPhotos = job?.furtherPhotos;
  const together = job?.together;
  const firstFile = picture?.original;
  useEffect(() => {
    const asked = latest.current.job;
    if (!asked || !first || !firstFile || !furtherPhotos?.length || together) return;
    const files = furtherPhotos.map((photo) => otherFiles.current.get(photo));
    if (files.some((file) => !file)) return;
    const others = files.flatMap((file) => (file ? [{ file, options: optionsForOther(asked) }] : []));
    const controller = new AbortController();
    setJoining(true);
    void measuring
      .measureTogether(controller.signal, [{ file: firstFile, options: measureOptions(asked.edits, null) }, ...others])
      .then((measurement) => {
        if (controller.signal.aborted) return;
        setJoining(false);
        if (measurement) dispatch({ type: 'together', jobId: asked.id, measurement });
      });
    return () => {
      controller.abort();
      setJoining(false);
    };
  }, [dispatch, first, firstFile, furtherPhotos, measuring, together]);

  // Every picture that may be kept is made as soon as it is known where the card is.
  const cards = useMemo(() => JSON.stringify(job ? cardPlaces(job) : []), [job]);
  const photo = job?.photo;
  const original = picture?.original;
  const shown = picture?.shown;
  useEffect(() => {
    const places = JSON.parse(cards) as CornersPx[];
    if (places.length === 0 || !photo || !original || !shown) return;
    let current = true;
    blankedPicture(shown, places, photo).then((blanked) => {
      if (current && blanked) setPicture((before) => (before?.shown === shown ? { ...before, blanked } : before));
    });
    return () => {
      current = false;
    };
  }, [cards, photo, original, shown]);

  return {
    // A job from the tape alone has none, whatever was on screen before.
    picture: photo ? picture : null,
    openPhoto,
    showKept({ blanked, original: kept }, restored) {
      // Browsers do not show HEIC; its blanked picture is a JPEG, or the engine makes one.
      const shownAgain = kept && !/hei[cf]/.test(kept.type) ? kept : blanked;
      if (shownAgain) show(shownAgain, kept, blanked);
      else setPicture(null);
      hasPixels.current = kept !== null;
      if (restored?.photo) measuring.resume(kept ?? restored.photo);
      if (!kept || shownAgain) return;
      void measuring.open(new AbortController().signal, kept).then((opened) => {
        if (opened.ok) show(opened.display ?? kept, kept, blanked);
      });
    },
    async measureOther(file) {
      const { signal } = new AbortController();
      const opened = await measuring.open(signal, file);
      const options = optionsForOther(latest.current.job);
      const measured = opened.ok ? await measuring.measure(signal, options, () => {}) : opened;
      if (measured.ok && measured.result.outcome === 'measured') {
        otherFiles.current.set(measured.result.measurement, file);
      }
      const onScreen = latest.current.job?.photo;
      if (onScreen) measuring.resume(original ?? onScreen);
      return measured;
    },
    joining,
    cancel() {
      running.current?.abort();
    },
    measureWork: measuring.measureWork,
    snapOutline: measuring.snapOutline,
    measureLive: (edits, found, showResult) => live({ edits, found, show: showResult }),
  };
}

/** Further photos are looked at afresh; only the reference is the same. */
function optionsForOther(job: AppState['job']) {
  return measureOptions({ ...NO_EDITS, reference: job?.edits.reference ?? null }, null);
}
