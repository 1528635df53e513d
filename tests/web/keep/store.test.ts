import 'fake-indexeddb/auto';
import { readFileSync } from 'node:fs';
import { openDB } from 'idb';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { containerFromTape } from '../../../sizing/container.ts';
import { FIRST_GAUGE_ENTRY } from '../../../web/gauge/gauge-entry.ts';
import { type ContainerRecord, type GaugeRecord, newRecord, type PlanRecord } from '../../../web/keep/records.ts';
import { storageTrouble } from '../../../web/keep/storage-trouble.ts';
import { openStore, type Store } from '../../../web/keep/store.ts';

let count = 0;
let store: Store;
beforeEach(async () => {
  count += 1;
  store = await openStore(`test-${count}`);
});
afterEach(() => store.close());

const gauge = (): GaugeRecord => ({
  ...newRecord('gauge', 'harbour cotton'),
  gauge: { ...FIRST_GAUGE_ENTRY, hookMm: 4 },
});
const container = (): ContainerRecord => ({
  ...newRecord('container', 'flask'),
  measurement: null,
  furtherPhotos: [],
  together: null,
  warnings: [],
  tape: { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 },
  photo: null,
  cardPlaces: [],
  order: null,
});
const plan = (containerId: string, roundsDone: number): PlanRecord => ({
  ...newRecord('plan', 'flask'),
  containerId,
  container: containerFromTape({ diameterMm: 73, heightMm: 200 }) as PlanRecord['container'],
  gauge: null,
  choices: null,
  progress: { roundsDone, readings: [] },
});
const picture = (containerId: string) => ({ containerId, blanked: new Blob(['x']), original: null });

/** Puts a row in past the store, as an earlier or a broken page would have left it. */
async function putRaw(kind: string, row: unknown): Promise<void> {
  const database = await openDB(`test-${count}`);
  await database.put(kind, row);
  database.close();
}

describe('what a maker keeps', () => {
  test('comes back as it was put', async () => {
    const record = gauge();
    await store.put(record);
    expect(await store.get('gauge', record.id)).toMatchObject({ label: 'harbour cotton', gauge: { hookMm: 4 } });
  });

  test('with an order, and without one as kept before there were orders', async () => {
    const order = { customer: 'Mia', due: '2026-12-12', price: 18, paid: false, doneAt: null };
    const ordered = { ...container(), order };
    const { order: _, ...before } = container();
    await store.put(ordered);
    await putRaw('container', before);
    expect(await store.get('container', ordered.id)).toMatchObject({ order });
    expect(await store.get('container', before.id)).toMatchObject({ label: 'flask', order: null });
  });

  test('is listed by kind', async () => {
    await store.put(gauge());
    expect(await store.list('gauge')).toHaveLength(1);
    expect(await store.list('plan')).toHaveLength(0);
  });

  test('once deleted comes back by undo, pictures too', async () => {
    const record = container();
    await store.write({ records: [record], picture: picture(record.id) });
    const undo = await store.remove('container', record.id);
    expect(await store.get('container', record.id)).toBeNull();
    expect(await store.picture(record.id)).toBeNull();
    await undo();
    expect(await store.get('container', record.id)).toMatchObject({ label: 'flask' });
    expect(await store.picture(record.id)).not.toBeNull();
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

  test('is heard of in other tabs, settings too', async () => {
    const other = await openStore(`test-${count}`);
    const heard = new Promise<boolean>((resolve) => other.onChange(resolve));
    await store.keepSettings({ units: 'in' });
    expect(await heard).toBe(true);
    expect(await other.settings()).toEqual({ units: 'in' });
    other.close();
  });
});

describe('an older revision never wins silently', () => {
  test('ticks made from an older copy are kept beside the newer ones, and it is said', async () => {
    const beside: string[] = [];
    store.onBothKept(({ id }) => beside.push(id));
    const first = plan('container-0001', 3);
    await store.put(first);
    const seen = (await store.get('plan', first.id)) as PlanRecord;
    await store.put({ ...seen, progress: { roundsDone: 8, readings: [] } });
    const written = await store.put({ ...seen, progress: { roundsDone: 4, readings: [] } });
    expect(written.bothKept).toBe(true);
    const ticks = (await store.list('plan')).map(({ id, progress }) => [id === first.id, progress?.roundsDone]);
    expect(ticks.sort()).toEqual([
      [false, 4],
      [true, 8],
    ]);
    expect(beside).toEqual([written.records[0].id]);
  });

  test('a container and its plan that go beside still belong together', async () => {
    const flask = container();
    const base = plan(flask.id, 1);
    await store.write({ records: [flask, base] });
    await store.put({ ...(await store.get('container', flask.id)), label: 'renamed elsewhere' } as ContainerRecord);
    const [mine, myPlan] = [
      { ...flask, label: 'mine', revision: 1 },
      { ...base, label: 'mine', revision: 1 },
    ];
    const { records, bothKept } = await store.write({ records: [mine, myPlan], picture: picture(flask.id) });
    expect(bothKept).toBe(true);
    expect(records[1]).toMatchObject({ containerId: records[0].id });
    expect(await store.picture(records[0].id)).not.toBeNull();
    expect((await store.list('container')).map(({ label }) => label).sort()).toEqual(['mine', 'renamed elsewhere']);
  });

  test('what goes beside takes the picture along that is kept already', async () => {
    const flask = container();
    await store.write({ records: [flask], picture: picture(flask.id) });
    await store.put({ ...(await store.get('container', flask.id)), label: 'renamed elsewhere' } as ContainerRecord);
    const { records } = await store.write({ records: [{ ...flask, label: 'mine', revision: 1 }] });
    expect(records[0].id).not.toBe(flask.id);
    expect(await store.picture(records[0].id)).not.toBeNull();
    expect(await store.picture(flask.id)).not.toBeNull();
  });

  test('the same written twice is one, whatever revision it was taken from', async () => {
    const record = gauge();
    await store.put(record);
    expect((await store.put(record)).bothKept).toBe(false);
    expect(await store.list('gauge')).toMatchObject([{ revision: 1 }]);
  });

  test('two tabs that write at the same moment keep both', async () => {
    const other = await openStore(`test-${count}`);
    const record = plan('container-0001', 0);
    await store.put(record);
    const at = (roundsDone: number) => ({ ...record, revision: 1, progress: { roundsDone, readings: [] } });
    await Promise.all([store.put(at(5)), other.put(at(6))]);
    expect((await store.list('plan')).map(({ progress }) => progress?.roundsDone).sort()).toEqual([5, 6]);
    other.close();
  });

  test('what a tab goes on with after it was deleted is kept again', async () => {
    const record = gauge();
    await store.put(record);
    await store.remove('gauge', record.id);
    await store.put({ ...record, revision: 1, label: 'still at it' });
    expect(await store.list('gauge')).toMatchObject([{ id: record.id, label: 'still at it' }]);
  });
});

describe('nothing already kept is lost', () => {
  test('when a record in the database is damaged: it is left as it is and named, the others are listed', async () => {
    const sound = gauge();
    await store.put(sound);
    const damaged = { id: 'damaged-00001', kind: 'gauge', label: 'of the pilot', gauge: { hookMm: 'thick' } };
    await putRaw('gauge', damaged);
    expect((await store.list('gauge')).map(({ id }) => id)).toEqual([sound.id]);
    expect(await store.damaged()).toEqual([{ kind: 'gauge', label: 'of the pilot' }]);
    expect(await store.get('gauge', 'damaged-00001')).toBeNull();
    await store.put({ ...gauge(), id: 'damaged-00001' });
    expect(await store.damaged()).toHaveLength(1);
    expect(await store.list('gauge')).toHaveLength(2);
  });

  test('when a file brings an older version of it; news are written, and can be taken back', async () => {
    const kept = gauge();
    await store.put(kept);
    const older = { ...kept, label: 'older', changedAt: 1 };
    const news = { ...gauge(), changedAt: 1 };
    const brought = await store.bringIn([older, news], []);
    expect(brought).toMatchObject({ written: 1, older: 1, replaced: 0 });
    expect(await store.get('gauge', kept.id)).toMatchObject({ label: 'harbour cotton' });
    expect(await store.get('gauge', news.id)).not.toBeNull();
    await brought.undo();
    expect(await store.list('gauge')).toMatchObject([{ id: kept.id }]);
  });

  test('when a file brings a newer version: it takes the place, and undo brings the older one back', async () => {
    const kept = gauge();
    await store.put(kept);
    const newer = { ...kept, label: 'newer', changedAt: Date.now() + 3600_000 };
    const brought = await store.bringIn([newer], []);
    expect(brought).toMatchObject({ written: 1, replaced: 1 });
    expect(await store.get('gauge', kept.id)).toMatchObject({ label: 'newer', revision: 2 });
    await brought.undo();
    expect(await store.get('gauge', kept.id)).toMatchObject({ label: 'harbour cotton', revision: 1 });
  });

  test('when one of several records cannot be written: then none is', async () => {
    const unwritable = { ...gauge(), gauge: { ...FIRST_GAUGE_ENTRY, hookMm: () => 4 } } as never;
    await expect(store.bringIn([gauge(), unwritable], [])).rejects.toMatchObject({ reason: 'broken' });
    expect(await store.list('gauge')).toEqual([]);
  });

  test('when the connection is closed under the page: it says so instead of losing the change silently', async () => {
    store.close();
    await expect(store.put(gauge())).rejects.toMatchObject({ reason: 'newer-version' });
  });
});

test('a store written by the version before (520bcd1) opens unchanged', async () => {
  const name = 'before-revisions';
  // That version's stores, written out here so that later changes of the schema cannot touch this test.
  const before = await openDB(name, 1, {
    upgrade(database) {
      for (const kind of ['container', 'gauge', 'plan', 'carrier']) database.createObjectStore(kind, { keyPath: 'id' });
      database.createObjectStore('picture', { keyPath: 'containerId' });
      database.createObjectStore('session', { keyPath: 'id' });
      database.createObjectStore('setting');
    },
  });
  const file = JSON.parse(readFileSync(new URL('./kept-version-1.json', import.meta.url), 'utf8'));
  const [jar] = file.containers;
  const id = '33333333-3333-4333-8333-333333333333';
  const common = { id, label: 'jar of the ferry kiosk', createdAt: 1_760_000_000_000, changedAt: 1_760_000_000_000 };
  const tape = containerFromTape({ diameterMm: 72, heightMm: 141 });
  const progress = { roundsDone: 7, readings: [{ afterRound: 5, measure: 'width', mm: 66 }] };
  const untouched = { ...common, kind: 'plan', containerId: jar.id, container: tape, gauge: {}, choices: {}, progress };
  const carrier = {
    kind: 'carrier',
    madeFor: { baseDiameterMm: 70, widestMm: 72, heightMm: 140 },
    coverHeightMm: 90,
    holds: [0.95, 1.08],
    relativeSd: 0.02,
  };
  const rows = [
    ['container', jar],
    ['gauge', file.gauges[0]],
    ['plan', untouched],
    ['carrier', { ...common, kind: 'carrier', carrier: { ...carrier, kind: 'net' }, planId: id, soldAt: null }],
    ['picture', picture(jar.id)],
  ] as const;
  for (const [kind, row] of rows) await before.put(kind, row);
  await before.put('setting', { units: 'in' }, 'settings');
  before.close();

  const today = await openStore(name);
  expect(await today.damaged()).toEqual([]);
  expect(await today.list('container')).toMatchObject([{ id: jar.id, label: jar.label, tape: jar.tape, revision: 0 }]);
  expect((await today.list('container'))[0].measurement?.maxDiameterMm).toEqual(jar.measurement.maxDiameterMm);
  expect(await today.list('gauge')).toMatchObject([{ label: 'harbour cotton', gauge: { hookMm: 4 } }]);
  expect(await today.list('plan')).toMatchObject([{ gauge: null, choices: null, progress, container: tape }]);
  expect(await today.list('carrier')).toMatchObject([{ carrier: { holds: [0.95, 1.08] }, planId: id }]);
  expect(await today.picture(jar.id)).not.toBeNull();
  expect(await today.settings()).toEqual({ units: 'in' });
  today.close();
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
