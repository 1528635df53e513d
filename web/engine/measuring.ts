import { proxy, type Remote, wrap } from 'comlink';
import type { WorkOptions, WorkPiece, WorkResult, WorkStage } from '../../vision/flat-piece/measure-work.ts';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { MeasureOptions } from '../../vision/measure-photo.ts';
import type { Measurement, MeasureResult, Stage } from '../../vision/measurement.ts';
import type { OpenProblem, OpenResult, PhotoFacts, PhotoToMeasure, VisionWorkerApi } from './worker/worker-api.ts';

export type { OpenProblem, PhotoFacts, PhotoToMeasure } from './worker/worker-api.ts';

/** What may happen to a job besides its own answer. */
export type JobTrouble = 'cancelled' | 'engine-not-loaded' | 'engine-failed' | 'photo-gone';

export type Opened = OpenResult | { readonly ok: false; readonly reason: OpenProblem | JobTrouble };
export type Measured =
  | { readonly ok: true; readonly result: MeasureResult }
  | { readonly ok: false; readonly reason: JobTrouble };

/** `opened` is null when the photo was open already. */
export type WorkMeasured =
  | { readonly ok: true; readonly opened: Extract<OpenResult, { ok: true }> | null; readonly result: WorkResult }
  | { readonly ok: false; readonly reason: OpenProblem | JobTrouble };

/** The measuring engine as the page sees it: one photo, one job at a time, typed answers only. */
export interface Measuring {
  /** Fetches the engine in the background. */
  warmUp(): Promise<boolean>;
  open(signal: AbortSignal, file: Blob): Promise<Opened>;
  /** Says which photo the next job is about: its file, or only its facts when the pixels were not kept. */
  resume(source: Blob | PhotoFacts): void;
  /** Aborting stops the engine at once; the next job starts it again and opens the photo anew. */
  measure(signal: AbortSignal, options: MeasureOptions, onStage: (stage: Stage) => void): Promise<Measured>;
  /** Measures points that a hand is moving: quick and close; where they come to rest is then measured afresh. */
  follow(options: MeasureOptions): Promise<Measured>;
  /** One shape for several photos of one container; null when there is none. The open photo is opened anew when next asked about. */
  measureTogether(signal: AbortSignal, photos: readonly PhotoToMeasure[]): Promise<Measurement | null>;
  /** The outline on the photo's edges nearby; null when the engine could not look. */
  snapOutline(outlinePx: readonly ImagePoint[], reachPx: number): Promise<readonly ImagePoint[] | null>;
  /** Measures flat work in a photo of its own; the one of the container is opened anew when it is next asked about. */
  measureWork(
    signal: AbortSignal,
    source: Blob | PhotoFacts,
    piece: WorkPiece,
    options: WorkOptions,
    onStage: (stage: WorkStage) => void,
  ): Promise<WorkMeasured>;
  stop(): void;
}

/** Give the memory back when nobody measured for this long. */
const IDLE_MS = 5 * 60_000;

interface Running {
  readonly worker: Worker;
  readonly api: Remote<VisionWorkerApi>;
  /** Settles when the worker is gone or broke down; calls to it never answer then. */
  readonly gone: Promise<JobTrouble>;
  readonly end: (why: JobTrouble) => void;
  /** What is open in this worker. */
  opened: Blob | PhotoFacts | null;
}

export function createMeasuring(startWorker: () => Worker = startVisionWorker): Measuring {
  let running: Running | null = null;
  let current: Blob | PhotoFacts | null = null;
  let queue: Promise<unknown> = Promise.resolve();
  let idleTimer: ReturnType<typeof setTimeout> | undefined;

  function start(): Running {
    if (running) return running;
    const worker = startWorker();
    let end: (why: JobTrouble) => void = () => {};
    const gone = new Promise<JobTrouble>((resolve) => {
      end = resolve;
    });
    const started: Running = { worker, api: wrap<VisionWorkerApi>(worker), gone, end, opened: null };
    worker.addEventListener('error', () => stop('engine-not-loaded'));
    running = started;
    return started;
  }

  function stop(why: JobTrouble) {
    running?.worker.terminate();
    running?.end(why);
    running = null;
  }

  /** Runs one job after those before it; `job` sees a live worker, and loses to abort and to a broken worker. */
  function enqueue<T>(
    signal: AbortSignal | null,
    job: (worker: Running) => Promise<T>,
  ): Promise<T | { ok: false; reason: JobTrouble }> {
    const run = async () => {
      if (signal?.aborted) return { ok: false, reason: 'cancelled' } as const;
      clearTimeout(idleTimer);
      const worker = start();
      const abort = () => stop('cancelled');
      signal?.addEventListener('abort', abort, { once: true });
      try {
        return await Promise.race([job(worker), worker.gone.then((reason) => ({ ok: false, reason }) as const)]);
      } catch {
        stop('engine-failed');
        return { ok: false, reason: 'engine-failed' } as const;
      } finally {
        signal?.removeEventListener('abort', abort);
        idleTimer = setTimeout(() => stop('cancelled'), IDLE_MS);
      }
    };
    const result = queue.then(run);
    queue = result;
    return result;
  }

  async function openIn(worker: Running, source: Blob | PhotoFacts | null): Promise<OpenResult | null> {
    if (!source || worker.opened === source) return null;
    worker.opened = source;
    if (source instanceof Blob) return worker.api.open(source);
    await worker.api.openWithoutPixels(source);
    return null;
  }

  return {
    warmUp: () =>
      enqueue(null, async (worker) => {
        await worker.api.warmUp();
        return true;
      }).then((warm) => warm === true),
    open: (signal, file) => {
      current = file;
      if (running) running.opened = null;
      return enqueue<Opened>(signal, async (worker) => {
        const opened = await openIn(worker, current);
        return opened ?? { ok: false, reason: 'cancelled' };
      });
    },
    resume: (source) => {
      current = source;
    },
    measure: (signal, options, onStage) =>
      enqueue<Measured>(signal, async (worker) => {
        await openIn(worker, current);
        const result = await worker.api.measure(options, proxy(onStage));
        return { ok: true, result };
      }),
    measureTogether: (signal, photos) =>
      enqueue(signal, async (worker) => {
        worker.opened = null;
        return { ok: true, measurement: await worker.api.measureTogether(photos) } as const;
      }).then((answer) => (answer.ok ? answer.measurement : null)),
    snapOutline: (outlinePx, reachPx) =>
      enqueue(null, async (worker) => {
        await openIn(worker, current);
        return { ok: true, edgePx: await worker.api.snapOutline(outlinePx, reachPx) } as const;
      }).then((answer) => (answer.ok ? answer.edgePx : null)),
    follow: (options) =>
      enqueue<Measured>(null, async (worker) => {
        await openIn(worker, current);
        return { ok: true, result: await worker.api.follow(options) };
      }),
    measureWork: (signal, source, piece, options, onStage) =>
      enqueue<WorkMeasured>(signal, async (worker) => {
        const opened = await openIn(worker, source);
        if (opened && !opened.ok) return opened;
        return { ok: true, opened, result: await worker.api.measureWork(piece, options, proxy(onStage)) };
      }),
    stop: () => stop('cancelled'),
  };
}

function startVisionWorker(): Worker {
  return new Worker(new URL('./worker/vision-worker.ts', import.meta.url), { type: 'module' });
}
