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
      together: null,
      warnings: [],
      tape: { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 },
      photo: null,
    };
    await store.put(container, { containerId: container.id, blanked: new Blob(['x']), original: null });
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

describe('nothing already kept is lost', () => {
  test('when a record in the database is damaged: it is left as it is and counted, the others are listed', async () => {
    const sound = gauge();
    await store.put(sound);
    const damaged = { id: 'damaged-00001', kind: 'gauge', label: null } as never;
    await store.database.put('gauge', damaged);
    expect((await store.list('gauge')).map(({ id }) => id)).toEqual([sound.id]);
    expect(await store.countDamaged()).toBe(1);
    expect(await store.get('gauge', 'damaged-00001')).toBeNull();
    expect(await store.database.get('gauge', 'damaged-00001')).toEqual(damaged);
  });

  test('when a file brings an older version of it; news and equals are written', async () => {
    const kept = gauge();
    await store.put(kept);
    const older = { ...kept, label: 'older', changedAt: 1 };
    const news = { ...gauge(), changedAt: 1 };
    expect(await store.bringIn([older, news], [])).toBe(1);
    expect(await store.get('gauge', kept.id)).toMatchObject({ label: 'harbour cotton' });
    expect(await store.get('gauge', news.id)).not.toBeNull();
  });

  test('when one of several records cannot be written: then none is', async () => {
    const unwritable = { ...gauge(), gauge: { hookMm: () => 4 } };
    await expect(store.bringIn([gauge(), unwritable], [])).rejects.toMatchObject({ reason: 'broken' });
    expect(await store.list('gauge')).toEqual([]);
  });

  test('when the connection is closed under the page: it says so instead of losing the change silently', async () => {
    store.database.close();
    await expect(store.put(gauge())).rejects.toMatchObject({ reason: 'newer-version' });
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
