import 'fake-indexeddb/auto';
import { expect, test } from 'vitest';
import { newJob } from '../../../web/app/app-state.ts';
import { keepWorkedJob } from '../../../web/keep/keep-worked-job.ts';
import { NO_TAPE } from '../../../web/keep/records.ts';
import { openStore } from '../../../web/keep/store.ts';
import { measuredResult } from '../../support/measured-result.ts';

const photo = { id: 'photo-0001', widthPx: 1200, heightPx: 1600, lens: { focal35Mm: null, looksCropped: false } };
const measured = { ...newJob('job-00000001', photo, NO_TAPE, null), result: measuredResult };

test('a job somebody worked on is kept, plan and progress with it, before another takes its place', async () => {
  const store = await openStore('worked');
  await keepWorkedJob(
    store,
    { ...measured, label: 'ferry flask', progress: { roundsDone: 4, readings: [] } },
    null,
    false,
  );
  expect(await store.list('container')).toMatchObject([{ id: 'job-00000001', label: 'ferry flask' }]);
  expect(await store.list('plan')).toMatchObject([
    { containerId: 'job-00000001', progress: { roundsDone: 4, readings: [] } },
  ]);
  store.database.close();
});

test('a photo that was only looked at leaves nothing behind', async () => {
  const store = await openStore('looked-at');
  await keepWorkedJob(store, measured, null, false);
  expect(await store.list('container')).toEqual([]);
  store.database.close();
});
