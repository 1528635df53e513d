import { proxy, wrap } from 'comlink';
import type { WorkOptions, WorkPiece, WorkResult, WorkStage } from '../../vision/flat-piece/measure-work.ts';
import type { CornersPx } from '../../vision/geometry/frames.ts';
import type { Measurement, MeasureResult, Stage } from '../../vision/measurement.ts';
import {
  type Asked,
  askedBy,
  type JobTrouble,
  type KnownPhoto,
  type MeasureQuestion,
  type OpenProblem,
  type Question,
} from './worker/questions.ts';
import type { Covered, OpenedPhoto, VisionWorkerApi } from './worker/worker-api.ts';
import { watchLife } from './worker/worker-life.ts';

export type * from './worker/questions.ts';
export { newPhotoId } from './worker/questions.ts';
export type { Covered, OpenedPhoto } from './worker/worker-api.ts';

interface NoAnswer {
  readonly ok: false;
  readonly reason: OpenProblem | JobTrouble;
}
type Maybe<T> = ({ readonly ok: true } & T) | NoAnswer;

export type Opened = Maybe<OpenedPhoto>;
/** An answer, with what it was asked about: whoever takes it checks that it is still the question. */
export type Answer<T> = Asked & Maybe<T>;
export type Measured = Answer<{ readonly result: MeasureResult }>;
export type WorkMeasured = Answer<{ readonly opened: OpenedPhoto; readonly result: WorkResult }>;

/**
 * The measuring engine as the page sees it. Every question names photo, job and revision and every answer brings them
 * back; one question is asked at a time, and nothing is thrown. Aborting stops the engine at once: the next question
 * starts it anew, and it opens its photo again by itself. An engine that dies or falls silent is started anew and asked
 * once more.
 */
export interface Measuring {
  /** Fetches the engine in the background. */
  warmUp(): Promise<boolean>;
  open(photo: KnownPhoto, signal: AbortSignal): Promise<Opened>;
  measure(question: MeasureQuestion, signal: AbortSignal, onStage: (stage: Stage) => void): Promise<Measured>;
  /** Measures points that a hand is moving: quick and close; where they come to rest is then measured afresh. */
  follow(question: MeasureQuestion): Promise<Measured>;
  /** One shape for several photos of one container; null when there is none. */
  measureTogether(questions: readonly MeasureQuestion[], signal: AbortSignal): Promise<Measurement | null>;
  /** Measures flat work in a photo of its own. */
  measureWork(
    question: Question<WorkOptions>,
    piece: WorkPiece,
    signal: AbortSignal,
    onStage: (stage: WorkStage) => void,
  ): Promise<WorkMeasured>;
  /**
   * The only picture of a photo that may be kept, shared or printed.
   * @param places  every place where a card was ever found, guessed or placed, px
   * @returns null when it could not be made
   */
  coveredPicture(photo: KnownPhoto, places: readonly CornersPx[]): Promise<Covered | null>;
  /** The photo at its measured size with every face covered and the cards' edges left, to lie aside for a reload. */
  faceless(photo: KnownPhoto, places: readonly CornersPx[]): Promise<Blob | null>;
  stop(): void;
}

/** Give the memory back when nobody measured for this long. */
const IDLE_MS = 5 * 60_000;
/** Between two looks at a worker that owes an answer. */
const PULSE_MS = 2000;
/** Looks without any sign of life, not even a stage, after which a worker hangs: no step takes two minutes on a slow phone. */
const MAX_SILENT_PULSES = 60;
/** Pulses that find the worker at leisure while it owes an answer: the question went astray. One may cross with the answer. */
const IDLE_PULSES = 2;

type End = JobTrouble | 'died';

interface Running {
  readonly worker: Worker;
  readonly api: VisionWorkerApi;
  /** Settles when the worker is gone or broke down; calls to it never answer then. */
  readonly gone: Promise<End>;
  readonly end: (why: End) => void;
}

export function createMeasuring(startWorker: () => Worker = startVisionWorker): Measuring {
  let running: Running | null = null;
  let queue: Promise<unknown> = Promise.resolve();
  let idleTimer: ReturnType<typeof setTimeout> | undefined;

  function start(): Running {
    if (running) return running;
    const name = `roundwise-worker-${crypto.randomUUID()}`;
    const worker = startWorker();
    const over = new AbortController();
    let end: (why: End) => void = () => {};
    const gone = new Promise<End>((resolve) => {
      end = (why) => {
        over.abort();
        resolve(why);
      };
    });
    const started: Running = { worker, api: wrap<VisionWorkerApi>(worker) as unknown as VisionWorkerApi, gone, end };
    running = started;
    worker.addEventListener('error', () => stop('engine-not-loaded', started));
    started.api
      .begin(name)
      .then(() => watchLife(name, over.signal, () => stop('died', started)))
      .catch(() => {});
    return started;
  }

  function stop(why: End, which = running) {
    which?.worker.terminate();
    which?.end(why);
    if (running === which) running = null;
  }

  /** Asks after those before it. The answer loses to abort and to a worker that is gone; one that died is replaced once. */
  function ask<T>(
    signal: AbortSignal | null,
    question: (api: VisionWorkerApi, alive: () => void) => Promise<T>,
  ): Promise<T | { ok: false; reason: JobTrouble }> {
    const once = async (): Promise<T | { ok: false; reason: End }> => {
      if (signal?.aborted) return { ok: false, reason: 'cancelled' };
      const worker = start();
      const abort = () => stop('cancelled', worker);
      signal?.addEventListener('abort', abort, { once: true });
      const pulse = watchPulse(worker.api, () => stop('died', worker));
      try {
        const gone = worker.gone.then((reason) => ({ ok: false, reason }) as const);
        return await Promise.race([question(worker.api, pulse.alive), gone]);
      } catch {
        stop('engine-failed', worker);
        return { ok: false, reason: 'engine-failed' };
      } finally {
        pulse.stop();
        signal?.removeEventListener('abort', abort);
      }
    };
    const run = async () => {
      clearTimeout(idleTimer);
      const first = await once();
      const answer = isEnd(first, 'died') ? await once() : first;
      idleTimer = setTimeout(() => stop('cancelled'), IDLE_MS);
      return isEnd(answer, 'died') ? ({ ok: false, reason: 'engine-failed' } as const) : (answer as T);
    };
    const result = queue.then(run);
    queue = result;
    return result;
  }

  return {
    warmUp: () =>
      ask(null, async (api) => {
        await api.warmUp();
        return true;
      }).then((warm) => warm === true),
    open: (photo, signal) => ask<Opened>(signal, (api) => api.open(photo)),
    measure: async (question, signal, onStage) => {
      const answer = await ask(signal, (api, alive) => api.measure(question, proxy(telling(onStage, alive))));
      return { ...askedBy(question), ...answer };
    },
    follow: async (question) => ({ ...askedBy(question), ...(await ask(null, (api) => api.follow(question))) }),
    measureTogether: async (questions, signal) => {
      const answer = await ask(signal, async (api) => ({ shape: await api.measureTogether(questions) }));
      return 'shape' in answer ? answer.shape : null;
    },
    measureWork: async (question, piece, signal, onStage) => {
      const answer = await ask(signal, (api, alive) =>
        api.measureWork(question, piece, proxy(telling(onStage, alive))),
      );
      return { ...askedBy(question), ...answer };
    },
    coveredPicture: async (photo, places) => {
      const answer = await ask(null, async (api) => ({ covered: await api.coveredPicture(photo, places) }));
      return 'covered' in answer ? answer.covered : null;
    },
    faceless: async (photo, places) => {
      const answer = await ask(null, async (api) => ({ drawn: await api.faceless(photo, places) }));
      return 'drawn' in answer ? answer.drawn : null;
    },
    stop: () => stop('cancelled'),
  };
}

function isEnd(answer: unknown, reason: End): boolean {
  return typeof answer === 'object' && answer !== null && 'reason' in answer && answer.reason === reason;
}

function telling<S>(onStage: (stage: S) => void, alive: () => void): (stage: S) => void {
  return (stage) => {
    alive();
    onStage(stage);
  };
}

/** Looks now and then whether a worker that owes an answer is at work; `lost` when it is not, or says nothing for long. */
function watchPulse(api: VisionWorkerApi, lost: () => void) {
  let silent = 0;
  let idle = 0;
  let asking = false;
  const timer = setInterval(() => {
    silent += 1;
    if (silent > MAX_SILENT_PULSES) return lost();
    if (asking) return;
    asking = true;
    api.ping().then(
      ({ waiting }) => {
        asking = false;
        silent = 0;
        idle = waiting === 0 ? idle + 1 : 0;
        if (idle >= IDLE_PULSES) lost();
      },
      () => {},
    );
  }, PULSE_MS);
  return {
    alive: () => {
      silent = 0;
    },
    stop: () => clearInterval(timer),
  };
}

function startVisionWorker(): Worker {
  return new Worker(new URL('./worker/vision-worker.ts', import.meta.url), { type: 'module' });
}
