import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { WorkResult, WorkStage } from '../../vision/flat-piece/measure-work.ts';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import type { Activity } from '../app/app-state.ts';
import { latestWins } from '../engine/latest-wins.ts';
import { type KnownPhoto, newPhotoId, type PhotoFacts, type PhotoId } from '../engine/measuring.ts';
import type { JobWork } from '../place/use-job.ts';
import { useObjectUrl } from '../ui/use-object-url.ts';
import {
  type Counted,
  cardPlacesOfWork,
  questionOf,
  type WorkCheck,
  withCounts,
  withPhoto,
  workOptions,
} from './work-check.ts';

/** The photo of the work while its pixels are at hand. */
interface WorkPhotoInHand {
  readonly id: PhotoId;
  readonly original: Blob;
  readonly shown: Blob;
}

export type ChangeWork = (change: (work: WorkCheck) => WorkCheck) => void;

export interface WorkSight {
  /** The picture on screen; null while there is none. */
  readonly url: string | null;
  /** The photo itself; null when only the blanked picture was kept. */
  readonly original: Blob | null;
  readonly activity: Activity;
  /** @param counted  what is known about a sample */
  open(file: Blob, counted?: Counted): void;
  cancel(): void;
  tryAgain(): void;
  /** Measures while a point is dragged; only the latest position counts. */
  measureLive(check: WorkCheck, show: (result: WorkResult) => void): void;
}

/** Keeps the photo of the work and the engine in step: opens it, measures after every change, blanks the card. */
export function useWorkCheck(
  check: WorkCheck,
  change: ChangeWork,
  job: string,
  { measureWork, coverPicture }: Pick<JobWork, 'measureWork' | 'coverPicture'>,
): WorkSight {
  const [photo, setPhoto] = useState<WorkPhotoInHand | null>(null);
  /** Stands for the photo when only its facts are left. */
  const [withoutPixels] = useState(newPhotoId);
  const known = useCallback(
    (facts: PhotoFacts, open: WorkPhotoInHand | null): KnownPhoto =>
      open ? { id: open.id, source: open.original } : { id: withoutPixels, source: facts },
    [withoutPixels],
  );
  const [activity, setActivity] = useState<Activity>({ kind: 'idle' });
  const [attempt, setAttempt] = useState(0);
  const running = useRef<AbortController | null>(null);
  const latest = useRef({ check, photo, change });
  latest.current = { check, photo, change };
  const showStage = useCallback(
    (controller: AbortController) => (stage: WorkStage) => {
      if (running.current === controller && !controller.signal.aborted) setActivity({ kind: 'measuring', stage });
    },
    [],
  );

  const open = async (file: Blob, counted?: Counted) => {
    running.current?.abort();
    const controller = new AbortController();
    running.current = controller;
    setActivity({ kind: 'opening' });
    const started = withPhoto(check, null);
    const fresh = counted ? withCounts(started, counted) : started;
    const id = newPhotoId();
    const question = { photo: { id, source: file }, job, revision: 0, options: workOptions(fresh, false) };
    const measured = await measureWork(question, fresh.piece, controller.signal, showStage(controller));
    if (running.current !== controller) return;
    running.current = null;
    if (!measured.ok) return setActivity({ kind: 'trouble', reason: measured.reason });
    const { opened, result } = measured;
    setActivity({ kind: 'idle' });
    setPhoto({ id, original: file, shown: opened.display ?? file });
    const answer = { to: questionOf(fresh), result };
    change(() => ({ ...fresh, photo: opened.facts, answer }));
  };

  const measureNow = useMemo(
    () =>
      latestWins(async () => {
        const { check: asked, photo: open } = latest.current;
        const to = questionOf(asked);
        if (!asked.photo || asked.answer?.to === to) return;
        const options = workOptions(asked, open === null);
        const isPlaced = options.cornersPx && options.edgePx;
        if (!open && !isPlaced) return setActivity({ kind: 'trouble', reason: 'photo-gone' });
        const controller = new AbortController();
        running.current = controller;
        setActivity({ kind: 'measuring', stage: null });
        const question = { photo: known(asked.photo, open), job, revision: asked.past.length, options };
        const measured = await measureWork(question, asked.piece, controller.signal, showStage(controller));
        if (running.current !== controller) return;
        running.current = null;
        if (!measured.ok) return setActivity({ kind: 'trouble', reason: measured.reason });
        setActivity({ kind: 'idle' });
        latest.current.change((work) => ({ ...work, answer: { to, result: measured.result } }));
      }),
    [measureWork, showStage, known, job],
  );
  const question = questionOf(check);
  // biome-ignore lint/correctness/useExhaustiveDependencies: every change of the question asks anew
  useEffect(() => measureNow(undefined), [question, attempt, measureNow]);

  const live = useMemo(
    () =>
      latestWins(async (asked: { check: WorkCheck; show: (result: WorkResult) => void }) => {
        const { photo: facts, piece, past } = asked.check;
        if (!facts) return;
        const options = workOptions(asked.check, true);
        const question = { photo: known(facts, latest.current.photo), job, revision: past.length, options };
        const measured = await measureWork(question, piece, new AbortController().signal, () => {});
        if (measured.ok) asked.show(measured.result);
      }),
    [measureWork, known, job],
  );

  // The one picture that may be kept is made as soon as it is known where the card is.
  const cards = JSON.stringify(cardPlacesOfWork(check));
  const facts = check.photo;
  useEffect(() => {
    const places = JSON.parse(cards) as CornersPx[];
    if (places.length === 0 || !facts || !photo) return;
    let current = true;
    coverPicture({ id: photo.id, source: photo.original }, places).then((covered) => {
      if (current && covered) latest.current.change((work) => ({ ...work, picture: covered.picture }));
    });
    return () => {
      current = false;
    };
  }, [cards, facts, photo, coverPicture]);

  useEffect(() => () => running.current?.abort(), []);

  return {
    url: useObjectUrl(photo?.shown ?? check.picture),
    original: photo?.shown ?? null,
    activity,
    open: (file, counted) => void open(file, counted),
    cancel: () => running.current?.abort(),
    tryAgain: () => {
      setActivity({ kind: 'idle' });
      setAttempt((before) => before + 1);
    },
    measureLive: (asked, show) => live({ check: asked, show }),
  };
}
