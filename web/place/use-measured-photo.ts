import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import type { Activity, JobPhoto } from '../app/app-state.ts';
import { latestWins } from '../engine/latest-wins.ts';
import {
  type Answer,
  type KnownPhoto,
  type Measuring,
  newPhotoId,
  type PhotoId,
  type Question,
} from '../engine/measuring.ts';

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

/** Photos of this visit, by name; a reload leaves only what they said. */
export type PhotoFiles = Map<PhotoId, Blob>;

/** What is measured in a photo: the container of a job, or a piece of work. */
export interface Subject<Options> {
  /** The job it belongs to. */
  readonly job: string;
  readonly photo: JobPhoto | null;
  /** Counts the changes of it. */
  readonly revision: number;
  /** Tells two questions apart; null while the last answer is to this one. */
  readonly question: string | null;
  /** Everything the maker placed or said; with `hold` also what was found before, so that no pixel is looked at. */
  readonly options: (hold: boolean) => Options;
  /** Whether the engine can answer without a pixel. */
  readonly isPlaced: (options: Options) => boolean;
  /** Where a card was ever found or placed, all to be covered; null until somebody or something says for sure. */
  readonly cards: readonly CornersPx[] | null;
  /** Faces of cards, so that the photo can lie aside for a reload without them; null where it need not. */
  readonly faces: readonly CornersPx[] | null;
}

/** What the engine is asked about it, and who takes the answers. */
interface Asking<Options, Result> {
  readonly measure: (
    question: Question<Options>,
    signal: AbortSignal,
    onStage: (stage: Stage) => void,
  ) => Promise<Answer<{ readonly result: Result }>>;
  /** Quick and close, while a point is held. */
  readonly follow: (question: Question<Options>) => Promise<Answer<{ readonly result: Result }>>;
  /** @param job  whose; null for a photo that is none's yet */
  readonly onActivity: (activity: Activity, job: string | null) => void;
  readonly onAnswer: (result: Result, asked: Subject<Options>) => void;
}
type Stage = NonNullable<Extract<Activity, { kind: 'measuring' }>['stage']>;

export interface MeasuredPhoto<Options, Result> {
  readonly picture: Picture | null;
  /** Opens and shows it; null when it did not open or another came meanwhile, which is said by then. */
  open(file: Blob): Promise<JobPhoto | null>;
  show(picture: Omit<Picture, 'url'> | null): void;
  known(photo: JobPhoto): KnownPhoto;
  /** Measures while a point is held; only the latest position counts. */
  follow(options: Options, show: (result: Result) => void): void;
  tryAgain(): void;
  cancel(): void;
}

/** Keeps a photo and the engine in step: opens it, measures after every change, covers the cards in it. */
export function useMeasuredPhoto<Options, Result>(
  measuring: Measuring,
  files: PhotoFiles,
  subject: Subject<Options> | null,
  asking: Asking<Options, Result>,
): MeasuredPhoto<Options, Result> {
  const [picture, setPicture] = useState<Picture | null>(null);
  const running = useRef<AbortController | null>(null);
  const latest = useRef({ subject, asking });
  latest.current = { subject, asking };

  const show = useCallback(
    (next: Omit<Picture, 'url'> | null) => {
      setPicture((before) => {
        if (before) URL.revokeObjectURL(before.url);
        return next && { url: URL.createObjectURL(next.shown), ...next };
      });
      if (next?.original) files.set(next.photo, next.original);
    },
    [files],
  );
  const known = useCallback(
    ({ id, widthPx, heightPx, lens }: JobPhoto): KnownPhoto => ({
      id,
      source: files.get(id) ?? { widthPx, heightPx, lens },
      lens,
    }),
    [files],
  );
  /** A photo on its way in: nothing is asked about the one before. */
  const opening = useRef<AbortController | null>(null);

  const open = useCallback(
    async (file: Blob): Promise<JobPhoto | null> => {
      running.current?.abort();
      const controller = new AbortController();
      running.current = controller;
      opening.current = controller;
      const { onActivity } = latest.current.asking;
      onActivity({ kind: 'opening' }, null);
      const id = newPhotoId();
      const opened = await measuring.open({ id, source: file }, controller.signal);
      if (opening.current !== controller) return null;
      opening.current = null;
      if (!opened.ok) {
        onActivity({ kind: 'trouble', reason: opened.reason }, null);
        return null;
      }
      show({ photo: id, shown: opened.display ?? file, original: file, blanked: null });
      return { id, ...opened.facts };
    },
    [measuring, show],
  );

  const measureNow = useMemo(
    () =>
      latestWins(async () => {
        const { subject: asked, asking } = latest.current;
        if (opening.current || !asked?.photo || asked.question === null) return;
        const { job, revision } = asked;
        const photo = known(asked.photo);
        const hasPixels = photo.source instanceof Blob;
        const options = asked.options(!hasPixels);
        if (!hasPixels && !asked.isPlaced(options)) {
          return asking.onActivity({ kind: 'trouble', reason: 'photo-gone' }, job);
        }
        const controller = new AbortController();
        running.current = controller;
        const tell = (stage: Stage | null) => {
          if (!controller.signal.aborted) asking.onActivity({ kind: 'measuring', stage }, job);
        };
        tell(null);
        const answer = await asking.measure({ photo, job, revision, options }, controller.signal, tell);
        if (running.current !== controller) return;
        if (answer.ok) asking.onAnswer(answer.result, asked);
        else asking.onActivity({ kind: 'trouble', reason: answer.reason }, job);
      }),
    [known],
  );
  const job = subject?.job;
  const photoId = subject?.photo?.id;
  const question = subject?.question;
  useEffect(() => {
    if (job && photoId && question) measureNow(undefined);
  }, [job, photoId, question, measureNow]);

  const follow = useMemo(
    () =>
      latestWins(async (held: { options: Options; show: (result: Result) => void }) => {
        const { subject: asked, asking } = latest.current;
        if (!asked?.photo) return;
        const { job, revision } = asked;
        const answer = await asking.follow({ photo: known(asked.photo), job, revision, options: held.options });
        if (answer.ok && answer.job === latest.current.subject?.job) held.show(answer.result);
      }),
    [known],
  );

  // Every picture that may be kept is made as soon as it is known where the card is.
  const photo = subject?.photo ?? null;
  const cards = subject?.cards ? JSON.stringify(subject.cards) : null;
  const faces = subject?.faces ? JSON.stringify(subject.faces) : null;
  const original = picture?.original;
  useEffect(() => {
    if (!cards || !photo || !original) return;
    let current = true;
    const add = (made: Partial<Picture>) =>
      setPicture((before) => (before?.photo === photo.id ? { ...before, ...made } : before));
    void measuring.coveredPicture(known(photo), JSON.parse(cards)).then((covered) => {
      if (current && covered) add({ blanked: covered.picture });
    });
    if (faces) {
      void measuring.faceless(known(photo), JSON.parse(faces)).then((faceless) => {
        if (current && faceless) add({ faceless });
      });
    }
    return () => {
      current = false;
    };
  }, [cards, faces, photo, original, measuring, known]);

  useEffect(() => () => running.current?.abort(), []);

  return {
    // A job from the tape alone has none, whatever was on screen before.
    picture: photo && picture?.photo === photo.id ? picture : null,
    open,
    show,
    known,
    follow: (options, showResult) => follow({ options, show: showResult }),
    tryAgain: () => measureNow(undefined),
    cancel: () => running.current?.abort(),
  };
}
