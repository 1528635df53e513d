import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { newRecord } from '../../../web/keep/records.ts';
import { storageTrouble } from '../../../web/keep/storage-trouble.ts';
import { openStore, type Store } from '../../../web/keep/store.ts';

let count = 0;
let store: Store;
beforeEach(async () => {
  count += 1;
  store = await openStore(`test-${count}`);
});
afterEach(() => store.database.close());

const gauge = () => ({ ...newRecord('gauge', 'harbour cotton'), gauge: { hookMm: 4 } });

describe('what a maker keeps', () => {
  test('comes back as it was put', async () => {
    const record = gauge();
    await store.put(record);
    expect(await store.get('gauge', record.id)).toMatchObject({ label: 'harbour cotton', gauge: { hookMm: 4 } });
  });

  test('is listed by kind', async () => {
    await store.put(gauge());
    expect(await store.list('gauge')).toHaveLength(1);
    expect(await store.list('plan')).toHaveLength(0);
  });

  test('once deleted comes back by undo, pictures too', async () => {
    const container = {
      ...newRecord('container', 'flask'),
      measurement: null,
      furtherPhotos: [],
      warnings: [],
      tape: { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 },
      photo: null,
    };
    await store.put(container);
    await store.putPicture({ containerId: container.id, blanked: new Blob(['x']), original: null });
    const undo = await store.remove('container', container.id);
    expect(await store.get('container', container.id)).toBeNull();
    expect(await store.picture(container.id)).toBeNull();
    await undo();
    expect(await store.get('container', container.id)).toMatchObject({ label: 'flask' });
    expect(await store.picture(container.id)).not.toBeNull();
  });

  test('tells listeners about every change until they stop listening', async () => {
    let told = 0;
    const stop = store.onChange(() => {
      told += 1;
    });
    await store.put(gauge());
    stop();
    await store.put(gauge());
    expect(told).toBe(1);
  });
});

test('data of the first version opens in the version of today', async () => {
  const name = 'first-version';
  // The first version's stores, written out here so that later changes of the schema cannot touch this test.
  const first = await openDB(name, 1, {
    upgrade(database) {
      for (const kind of ['container', 'gauge', 'plan', 'carrier']) database.createObjectStore(kind, { keyPath: 'id' });
      database.createObjectStore('picture', { keyPath: 'containerId' });
      database.createObjectStore('session', { keyPath: 'id' });
      database.createObjectStore('setting');
    },
  });
  await first.put('gauge', gauge());
  first.close();
  const today = await openStore(name);
  expect(await today.list('gauge')).toHaveLength(1);
  today.database.close();
});

test('data of a newer Roundwise is refused, not damaged', async () => {
  const newer = await openDB('newer-version', 99);
  newer.close();
  await expect(openStore('newer-version')).rejects.toMatchObject({ reason: 'newer-version' });
});

test.each([
  ['QuotaExceededError', 'full'],
  ['SecurityError', 'blocked'],
  ['DataError', 'broken'],
])('what the browser calls %s the maker is told as "%s"', (name, reason) => {
  expect(storageTrouble(new DOMException('x', name)).reason).toBe(reason);
});
