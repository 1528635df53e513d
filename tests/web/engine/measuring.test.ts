import { expose } from 'comlink';
import { afterEach, describe, expect, test } from 'vitest';
import { problem } from '../../../vision/measurement.ts';
import { createMeasuring, type Measuring } from '../../../web/engine/measuring.ts';
import type { VisionWorkerApi } from '../../../web/engine/worker/worker-api.ts';
import { measuredResult } from '../../support/measured-result.ts';

const facts = { widthPx: 4, heightPx: 3, lens: { focal35Mm: null, looksCropped: false } };
const photo = new Blob(['photo']);
const goOn = () => new AbortController().signal;

/** Workers over message ports, answering by `api`; counts what was asked of each. */
function workersAnswering(api: Partial<VisionWorkerApi>) {
  const asked: string[][] = [];
  const start = (): Worker => {
    const { port1, port2 } = new MessageChannel();
    const log: string[] = [];
    asked.push(log);
    const full: VisionWorkerApi = {
      async warmUp() {},
      async open() {
        log.push('open');
        return { ok: true, facts, display: null };
      },
      async openWithoutPixels() {
        log.push('open without pixels');
      },
      async measureWork(piece) {
        log.push(`measure ${piece}`);
        const found = { cornersPx: null, edgePx: null };
        return { piece, outcome: 'refused', reason: problem('no-work'), found };
      },
      async measure() {
        log.push('measure');
        return measuredResult;
      },
      async measureTogether(photos) {
        log.push(`together ${photos.length}`);
        return measuredResult.measurement;
      },
      async snapOutline(outlinePx) {
        log.push('snap');
        return outlinePx;
      },
      async follow() {
        log.push('follow');
        return measuredResult;
      },
      ...api,
    };
    expose(full, port2 as never);
    return Object.assign(port1, { terminate: () => port1.close() }) as unknown as Worker;
  };
  return { start, asked };
}

let measuring: Measuring;
afterEach(() => measuring.stop());

describe('the measuring engine as the page sees it', () => {
  test('opens a photo once and measures it as often as asked', async () => {
    const workers = workersAnswering({});
    measuring = createMeasuring(workers.start);
    expect(await measuring.open(goOn(), photo)).toMatchObject({ ok: true, facts });
    expect(await measuring.measure(goOn(), {}, () => {})).toEqual({ ok: true, result: measuredResult });
    await measuring.follow({});
    await measuring.snapOutline([], 9);
    expect(workers.asked).toEqual([['open', 'measure', 'follow', 'snap']]);
  });

  test('several photos are fitted together; the one on screen is opened again when it is next measured', async () => {
    const workers = workersAnswering({});
    measuring = createMeasuring(workers.start);
    await measuring.open(goOn(), photo);
    const photos = [photo, new Blob(['other'])].map((file) => ({ file, options: {} }));
    expect(await measuring.measureTogether(goOn(), photos)).toEqual(measuredResult.measurement);
    await measuring.measure(goOn(), {}, () => {});
    expect(workers.asked).toEqual([['open', 'together 2', 'open', 'measure']]);
  });

  test('a photo of work takes its turn; the container is opened again when it is next measured', async () => {
    const workers = workersAnswering({});
    measuring = createMeasuring(workers.start);
    const work = new Blob(['work']);
    await measuring.open(goOn(), photo);
    const first = await measuring.measureWork(goOn(), work, 'disc', {}, () => {});
    expect(first).toMatchObject({ ok: true, opened: { facts }, result: { outcome: 'refused' } });
    expect(await measuring.measureWork(goOn(), work, 'disc', {}, () => {})).toMatchObject({ ok: true, opened: null });
    await measuring.measure(goOn(), {}, () => {});
    expect(workers.asked).toEqual([['open', 'open', 'measure disc', 'measure disc', 'open', 'measure']]);
  });

  test('a job that was called off before it began is not begun', async () => {
    const workers = workersAnswering({});
    measuring = createMeasuring(workers.start);
    const calledOff = new AbortController();
    calledOff.abort();
    expect(await measuring.measure(calledOff.signal, {}, () => {})).toEqual({ ok: false, reason: 'cancelled' });
    expect(workers.asked).toEqual([]);
  });

  test('calling off a running job ends it at once; the next one starts afresh and opens the photo again', async () => {
    let first = true;
    const workers = workersAnswering({
      async measure() {
        if (first) await new Promise(() => {});
        return measuredResult;
      },
    });
    measuring = createMeasuring(workers.start);
    await measuring.open(goOn(), photo);
    const impatient = new AbortController();
    const running = measuring.measure(impatient.signal, {}, () => {});
    setTimeout(() => impatient.abort(), 20);
    expect(await running).toEqual({ ok: false, reason: 'cancelled' });
    first = false;
    expect(await measuring.measure(goOn(), {}, () => {})).toMatchObject({ ok: true });
    expect(workers.asked.map((log) => log[0])).toEqual(['open', 'open']);
  });

  test('an engine that breaks down is told as such, and the one after it works', async () => {
    let broken = true;
    const workers = workersAnswering({
      async measure() {
        if (broken) throw new Error('heap');
        return measuredResult;
      },
    });
    measuring = createMeasuring(workers.start);
    await measuring.open(goOn(), photo);
    expect(await measuring.measure(goOn(), {}, () => {})).toEqual({ ok: false, reason: 'engine-failed' });
    broken = false;
    expect(await measuring.measure(goOn(), {}, () => {})).toMatchObject({ ok: true });
  });

  test('a job whose pixels were not kept goes on without them', async () => {
    const workers = workersAnswering({});
    measuring = createMeasuring(workers.start);
    measuring.resume(facts);
    await measuring.measure(goOn(), {}, () => {});
    expect(workers.asked).toEqual([['open without pixels', 'measure']]);
  });

  test('stages are told as they begin', async () => {
    const workers = workersAnswering({
      async measure(_options, onStage) {
        await onStage('card');
        await onStage('outline');
        return measuredResult;
      },
    });
    measuring = createMeasuring(workers.start);
    const stages: string[] = [];
    await measuring.open(goOn(), photo);
    await measuring.measure(goOn(), {}, (stage) => stages.push(stage));
    expect(stages).toEqual(['card', 'outline']);
  });
});
