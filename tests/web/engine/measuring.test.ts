import { expose } from 'comlink';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { problem } from '../../../vision/measurement.ts';
import {
  createMeasuring,
  type KnownPhoto,
  type MeasureQuestion,
  type Measuring,
} from '../../../web/engine/measuring.ts';
import { askedBy } from '../../../web/engine/worker/questions.ts';
import type { VisionWorkerApi } from '../../../web/engine/worker/worker-api.ts';
import { measuredResult } from '../../support/measured-result.ts';

const facts = { widthPx: 4, heightPx: 3, lens: { focal35Mm: null, looksCropped: false } };
const opened = { facts, display: null };
const photo: KnownPhoto = { id: 'photo-a', source: new Blob(['a']) };
const question: MeasureQuestion = { photo, job: 'job-a', revision: 3, options: {} };
const goOn = () => new AbortController().signal;
function gate(): { readonly opened: Promise<void>; open(): void } {
  let open = () => {};
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { opened, open };
}
const never = () => new Promise<never>(() => {});

/** Workers over message ports, answering by `api`; notes what was asked of each. */
function workersAnswering(api: Partial<VisionWorkerApi>) {
  const asked: string[][] = [];
  const start = (): Worker => {
    const { port1, port2 } = new MessageChannel();
    const log: string[] = [];
    asked.push(log);
    const full: VisionWorkerApi = {
      async begin() {},
      async ping() {
        return { waiting: 0 };
      },
      async warmUp() {},
      async open({ id }) {
        log.push(`open ${id}`);
        return { ok: true, ...opened };
      },
      async measureWork(asking, piece) {
        log.push(`measure ${piece} in ${asking.photo.id}`);
        const found = { cornersPx: null, edgePx: null };
        const result = { piece, outcome: 'refused', reason: problem('no-work'), found } as const;
        return { ...askedBy(asking), ok: true, opened, result };
      },
      async measure(asking) {
        log.push(`measure ${asking.photo.id}`);
        return { ...askedBy(asking), ok: true, result: measuredResult };
      },
      async measureTogether(questions) {
        log.push(`together ${questions.map((each) => each.photo.id).join()}`);
        return measuredResult.measurement;
      },
      async follow(asking) {
        log.push(`follow ${asking.photo.id}`);
        return { ...askedBy(asking), ok: true, result: measuredResult };
      },
      async coveredPicture() {
        return null;
      },
      async faceless() {
        return null;
      },
      ...api,
    };
    expose(full, port2 as never);
    return Object.assign(port1, { terminate: () => port1.close() }) as unknown as Worker;
  };
  return { start, asked };
}

let measuring: Measuring;
afterEach(() => {
  vi.useRealTimers();
  measuring.stop();
});

describe('the measuring engine as the page sees it', () => {
  test('every question names its photo, and every answer says which photo, job and revision it is for', async () => {
    const workers = workersAnswering({});
    measuring = createMeasuring(workers.start);
    expect(await measuring.open(photo, goOn())).toMatchObject({ ok: true, facts });
    expect(await measuring.measure(question, goOn(), () => {})).toEqual({
      photo: 'photo-a',
      job: 'job-a',
      revision: 3,
      ok: true,
      result: measuredResult,
    });
    await measuring.follow(question);
    await measuring.measureWork(
      { ...question, photo: { ...photo, id: 'work' }, options: {} },
      'disc',
      goOn(),
      () => {},
    );
    await measuring.measureTogether([question, { ...question, photo: { ...photo, id: 'photo-b' } }], goOn());
    expect(workers.asked).toEqual([
      ['open photo-a', 'measure photo-a', 'follow photo-a', 'measure disc in work', 'together photo-a,photo-b'],
    ]);
  });

  test('a question asked while another photo is measured gets its own answer', async () => {
    const workers = workersAnswering({
      async measure(asking) {
        const { measurement } = measuredResult;
        const heightMm = { ...measurement.heightMm, value: asking.photo.id === 'photo-a' ? 72 : 94 };
        return {
          ...askedBy(asking),
          ok: true,
          result: { ...measuredResult, measurement: { ...measurement, heightMm } },
        };
      },
    });
    measuring = createMeasuring(workers.start);
    const other = { ...question, photo: { ...photo, id: 'photo-b' }, job: 'job-b' };
    const both = await Promise.all([other, question].map((each) => measuring.measure(each, goOn(), () => {})));
    expect(both).toMatchObject([
      { job: 'job-b', photo: 'photo-b', result: { measurement: { heightMm: { value: 94 } } } },
      { job: 'job-a', photo: 'photo-a', result: { measurement: { heightMm: { value: 72 } } } },
    ]);
  });

  test('a photo that does not open is said to be what it is, also when it is only measured', async () => {
    const workers = workersAnswering({
      async measure(asking) {
        return { ...askedBy(asking), ok: false, reason: 'damaged' };
      },
    });
    measuring = createMeasuring(workers.start);
    expect(await measuring.measure(question, goOn(), () => {})).toMatchObject({ ok: false, reason: 'damaged' });
  });

  test('a job that was called off before it began is not begun', async () => {
    const workers = workersAnswering({});
    measuring = createMeasuring(workers.start);
    const calledOff = new AbortController();
    calledOff.abort();
    expect(await measuring.measure(question, calledOff.signal, () => {})).toMatchObject({ reason: 'cancelled' });
    expect(workers.asked).toEqual([]);
  });

  test('calling off a running job ends it at once; the next one starts afresh', async () => {
    let first = true;
    const begun = gate();
    const workers = workersAnswering({
      async measure(asking) {
        begun.open();
        if (first) await never();
        return { ...askedBy(asking), ok: true, result: measuredResult };
      },
    });
    measuring = createMeasuring(workers.start);
    const impatient = new AbortController();
    const running = measuring.measure(question, impatient.signal, () => {});
    await begun.opened;
    impatient.abort();
    expect(await running).toMatchObject({ job: 'job-a', ok: false, reason: 'cancelled' });
    first = false;
    expect(await measuring.measure(question, goOn(), () => {})).toMatchObject({ ok: true });
    expect(workers.asked).toHaveLength(2);
  });

  test('an engine that breaks down is told as such, and the one after it works', async () => {
    let broken = true;
    const workers = workersAnswering({
      async measure(asking) {
        if (broken) throw new Error('heap');
        return { ...askedBy(asking), ok: true, result: measuredResult };
      },
    });
    measuring = createMeasuring(workers.start);
    expect(await measuring.measure(question, goOn(), () => {})).toMatchObject({ ok: false, reason: 'engine-failed' });
    broken = false;
    expect(await measuring.measure(question, goOn(), () => {})).toMatchObject({ ok: true });
  });

  test('stages are told as they begin', async () => {
    const workers = workersAnswering({
      async measure(asking, onStage) {
        await onStage('card');
        await onStage('outline');
        return { ...askedBy(asking), ok: true, result: measuredResult };
      },
    });
    measuring = createMeasuring(workers.start);
    const stages: string[] = [];
    await measuring.measure(question, goOn(), (stage) => stages.push(stage));
    expect(stages).toEqual(['card', 'outline']);
  });
});

describe('a worker that owes an answer and is not at work on it', () => {
  test('is replaced, and the question is asked once more', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    let lost = true;
    const workers = workersAnswering({
      async measure(asking) {
        if (lost) await never();
        return { ...askedBy(asking), ok: true, result: measuredResult };
      },
    });
    measuring = createMeasuring(workers.start);
    const answer = measuring.measure(question, goOn(), () => {});
    await beats(() => workers.asked.length === 1);
    lost = false;
    await beats(() => workers.asked.length === 2);
    expect(await answer).toMatchObject({ ok: true, job: 'job-a' });
  });

  test('is given up when the second one goes astray, too', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    const workers = workersAnswering({ measure: never });
    measuring = createMeasuring(workers.start);
    let answer: unknown = null;
    void measuring
      .measure(question, goOn(), () => {})
      .then((answered) => {
        answer = answered;
      });
    await beats(() => answer !== null);
    expect(answer).toMatchObject({ ok: false, reason: 'engine-failed' });
    expect(workers.asked).toHaveLength(2);
  });

  test('and says nothing at all is taken for hanging in the end', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    const workers = workersAnswering({ measure: never, ping: never });
    measuring = createMeasuring(workers.start);
    let answer: unknown = null;
    void measuring
      .measure(question, goOn(), () => {})
      .then((answered) => {
        answer = answered;
      });
    await beats(() => answer !== null);
    expect(answer).toMatchObject({ ok: false, reason: 'engine-failed' });
  });

  test('is left alone while it waits for something', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    const file = gate();
    const workers = workersAnswering({
      async ping() {
        return { waiting: 1 };
      },
      async measure(asking) {
        await file.opened;
        return { ...askedBy(asking), ok: true, result: measuredResult };
      },
    });
    measuring = createMeasuring(workers.start);
    const answer = measuring.measure(question, goOn(), () => {});
    for (let k = 0; k < 200; k += 1) await beat();
    file.open();
    expect(await answer).toMatchObject({ ok: true });
    expect(workers.asked).toHaveLength(1);
  });
});

/** One look at the worker, with time for it to answer. */
async function beat(): Promise<void> {
  vi.advanceTimersByTime(2000);
  await new Promise((resolve) => setTimeout(resolve, 1));
}

async function beats(until: () => boolean): Promise<void> {
  for (let k = 0; k < 1000 && !until(); k += 1) await beat();
}
