import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, test } from 'vitest';
import { type AppState, type Job, newJob } from '../../../web/app/app-state.ts';
import { createJobKeeper, type InHand, type JobKeeper } from '../../../web/keep/job-keeper.ts';
import { jobOfContainer, jobOfPlan } from '../../../web/keep/job-of-record.ts';
import type { Session } from '../../../web/keep/session.ts';
import { openStore, type Store } from '../../../web/keep/store.ts';
import { NO_TAPE } from '../../../web/keep/tape.ts';
import { measuredResult } from '../../support/measured-result.ts';

const photo = { id: 'photo-0001', widthPx: 1200, heightPx: 1600, lens: { focal35Mm: null, looksCropped: false } };
const found: Job = { ...newJob('job-00000001', photo, NO_TAPE, null), result: measuredResult };
const taped = { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 };
const ticks = (roundsDone: number) => ({ roundsDone, readings: [] });

let count = 0;
let store: Store;
beforeEach(async () => {
  count += 1;
  store = await openStore(`keeper-${count}`);
});

const session = (id: string): Session => ({
  id,
  restored: null,
  damaged: false,
  record: (state, pictures) => ({ id, savedAt: 1, state, ...pictures }),
});

function tab(id = 'tab-1') {
  const renamed: string[] = [];
  const failed: unknown[] = [];
  const told = {
    keptBeside: ({ id }: { id: string }) => renamed.push(id),
    failed: (thrown: unknown) => failed.push(thrown),
  };
  return { keeper: createJobKeeper(store, session(id), told), renamed, failed };
}

function has(keeper: JobKeeper, job: Job | null, more: Partial<InHand> = {}): void {
  const state: Pick<AppState, 'screen' | 'job' | 'lastGauge'> = { screen: 'sizes', job, lastGauge: null };
  keeper.note({ state, picture: null, keepOriginal: false, ...more });
}

describe('there is no unkept job', () => {
  test('one with sizes is stored without being asked, a plan with it once it is begun', async () => {
    const { keeper } = tab();
    has(keeper, found);
    await keeper.flush();
    expect(await store.list('container')).toMatchObject([{ id: found.id, label: '' }]);
    expect(await store.list('plan')).toEqual([]);
    has(keeper, { ...found, planBegun: true, progress: ticks(3) });
    await keeper.flush();
    expect(await store.list('plan')).toMatchObject([{ containerId: found.id, progress: ticks(3) }]);
  });

  test.each(['another photo', 'the tape', 'a kept thing', 'nothing'])(
    'what is in hand is written when %s takes its place',
    async (what) => {
      const { keeper } = tab();
      has(keeper, { ...found, label: 'ferry flask', planBegun: true, progress: ticks(4) });
      const next = {
        'another photo': newJob('job-00000002', { ...photo, id: 'photo-0002' }, NO_TAPE, null),
        'the tape': newJob('job-00000003', null, taped, null),
        'a kept thing': { ...newJob('job-00000004', null, taped, null), stored: { container: 1, plan: null } },
        nothing: null,
      }[what];
      has(keeper, next ?? null);
      await keeper.flush();
      expect(await store.get('container', found.id)).toMatchObject({ label: 'ferry flask' });
      expect(await store.get('plan', found.planId)).toMatchObject({ progress: ticks(4) });
    },
  );

  test('a photo in which nothing was measured leaves nothing but the session', async () => {
    const { keeper } = tab();
    has(keeper, null);
    has(keeper, { ...found, result: null });
    await keeper.flush();
    expect(await store.list('container')).toEqual([]);
    expect(await store.sessions()).toHaveLength(1);
  });

  test('its picture comes later and is written when it does', async () => {
    const { keeper } = tab();
    has(keeper, found);
    await keeper.flush();
    has(keeper, found, { picture: { blanked: new Blob(['covered']), original: new Blob(['CARD']) } });
    await keeper.flush();
    expect(await store.picture(found.id)).toMatchObject({ original: null });
    expect(await store.picture(found.id).then((picture) => picture?.blanked)).not.toBeNull();
  });
});

describe('a job that was taken up from the store', () => {
  test('is not written until something is changed', async () => {
    const first = tab();
    has(first.keeper, { ...found, planBegun: true, progress: ticks(3) });
    await first.keeper.flush();
    const [container] = await store.list('container');
    const [plan] = await store.list('plan');
    let changes = 0;
    store.onChange(() => {
      changes += 1;
    });
    const second = tab('tab-2');
    has(second.keeper, jobOfPlan(plan, container));
    await second.keeper.flush();
    expect(changes).toBe(0);
    expect(await store.sessions()).toHaveLength(1);
  });

  test('with older ticks does not write over newer ones; both are kept once it is changed', async () => {
    const first = tab();
    has(first.keeper, { ...found, planBegun: true, progress: ticks(3) });
    await first.keeper.flush();
    const opened = jobOfPlan((await store.list('plan'))[0], (await store.list('container'))[0]);
    const second = tab('tab-2');
    has(second.keeper, opened);
    has(second.keeper, { ...opened, progress: ticks(8) });
    await second.keeper.flush();
    has(first.keeper, { ...found, planBegun: true, progress: ticks(4) });
    await first.keeper.flush();
    const kept = (await store.list('plan')).map(({ progress }) => progress?.roundsDone).sort();
    expect(kept).toEqual([4, 8]);
    expect(first.renamed).toHaveLength(1);
    expect(second.renamed).toEqual([]);
  });

  test('hears what another tab made of it', async () => {
    const first = tab();
    const job = { ...found, planBegun: true, progress: ticks(3) };
    has(first.keeper, job);
    await first.keeper.flush();
    expect(await first.keeper.changedElsewhere()).toBeNull();
    const second = tab('tab-2');
    const opened = jobOfPlan((await store.list('plan'))[0], (await store.list('container'))[0]);
    has(second.keeper, opened);
    has(second.keeper, { ...opened, progress: ticks(8) });
    await second.keeper.flush();
    const changed = await first.keeper.changedElsewhere();
    expect(changed).toMatchObject({ id: job.id, planId: job.planId, progress: ticks(8) });
    has(first.keeper, changed);
    await first.keeper.flush();
    expect(await store.list('plan')).toMatchObject([{ progress: ticks(8) }]);
  });

  test('a plan opens from its own record when its container is gone, and goes on being kept', async () => {
    const first = tab();
    has(first.keeper, { ...found, planBegun: true, progress: ticks(3) });
    await first.keeper.flush();
    await store.remove('container', found.id);
    const opened = jobOfPlan((await store.list('plan'))[0], null);
    expect(opened.container?.maxDiameterMm.value).toBe(measuredResult.measurement.maxDiameterMm.value);
    const second = tab('tab-2');
    has(second.keeper, opened);
    has(second.keeper, { ...opened, progress: ticks(5) });
    await second.keeper.flush();
    expect(await store.list('container')).toEqual([]);
    expect(await store.list('plan')).toMatchObject([{ progress: ticks(5), containerId: null }]);
  });

  test('keeps the sizes, the places of the card and the time it was begun', async () => {
    const { keeper } = tab();
    const cardPlaces = [measuredResult.measurement.card.cornersPx];
    has(keeper, { ...found, cardPlaces });
    await keeper.flush();
    const job = jobOfContainer((await store.list('container'))[0]);
    expect(job).toMatchObject({ cardPlaces, createdAt: found.createdAt, stored: { container: 1 } });
  });
});
