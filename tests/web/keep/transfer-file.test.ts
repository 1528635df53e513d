import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { FIRST_GAUGE_ENTRY } from '../../../web/gauge/gauge-entry.ts';
import { type ContainerRecord, newRecord, searchRecords } from '../../../web/keep/records.ts';
import { readTransferFile, writeTransferFile } from '../../../web/keep/transfer-file.ts';
import { measuredResult } from '../../support/measured-result.ts';

const container: ContainerRecord = {
  ...newRecord('container', 'jar of the ferry kiosk', 1_760_000_000_000),
  measurement: structuredClone(measuredResult.measurement) as ContainerRecord['measurement'],
  furtherPhotos: [],
  together: null,
  warnings: [],
  tape: { circumferenceMm: null, baseCircumferenceMm: null, heightMm: 141 },
  photo: { widthPx: 1200, heightPx: 1600, lens: { focal35Mm: null, looksCropped: false } },
  cardPlaces: [],
  order: { customer: 'Mia', due: '2026-12-12', price: 18, paid: true, doneAt: 1_760_000_000_000 },
};
const gauge = {
  ...newRecord('gauge', 'harbour cotton', 1_760_000_000_000),
  gauge: { ...FIRST_GAUGE_ENTRY, hookMm: 4 },
};

describe('the file with everything', () => {
  test('brings back what went in', async () => {
    const blanked = new Blob([new Uint8Array([0xff, 0xd8, 1, 2, 3])], { type: 'image/jpeg' });
    const json = await writeTransferFile({
      records: [container, gauge],
      pictures: [{ containerId: container.id, blanked, original: null }],
    });
    const read = readTransferFile(json);
    if (!read.ok) throw new Error(read.reason);
    expect(read.records).toEqual([container, gauge]);
    expect(new Uint8Array(await (read.pictures[0].blanked as Blob).arrayBuffer())).toEqual(
      new Uint8Array([0xff, 0xd8, 1, 2, 3]),
    );
  });

  test('never holds an original photo', async () => {
    const original = new Blob(['CARD NUMBER 1234'], { type: 'image/jpeg' });
    const json = await writeTransferFile({
      records: [container],
      pictures: [{ containerId: container.id, blanked: null, original }],
    });
    expect(json).not.toContain(btoa('CARD NUMBER 1234'));
    expect(JSON.parse(json).pictures).toEqual([]);
  });

  test('of the first version is still read', () => {
    const first = readFileSync(new URL('./kept-version-1.json', import.meta.url), 'utf8');
    const read = readTransferFile(first);
    expect(read.ok && read.records.map((record) => record.label)).toEqual(['jar of the ferry kiosk', 'harbour cotton']);
  });

  test.each([
    ['not JSON', '{', { reason: 'not-json' }],
    ['some other JSON', '{"hello":1}', { reason: 'not-ours' }],
    ['a newer version', '{"format":"roundwise-kept","version":99}', { reason: 'newer' }],
    ['a file cut short', '{"format":"roundwise-kept","version":1}', { reason: 'invalid' }],
  ])('is refused when it is %s', (_what, json, expected) => {
    expect(readTransferFile(json)).toMatchObject({ ok: false, ...expected });
  });

  test('leaves out what nests deeper than anything of ours', async () => {
    const json = await writeTransferFile({ records: [gauge], pictures: [] });
    for (const levels of [100, 100_000]) {
      const deep = json.replace('"hookMm":4', `"hookMm":${'['.repeat(levels)}${']'.repeat(levels)}`);
      expect(readTransferFile(deep)).toMatchObject({
        records: [],
        leftOut: [{ label: 'harbour cotton', path: 'gauge' }],
      });
    }
  });

  test('takes large pictures, and leaves out one that is no base64', () => {
    const file = (jpegBase64: string) =>
      readTransferFile(
        JSON.stringify({
          format: 'roundwise-kept',
          version: 1,
          savedAt: '',
          containers: [],
          gauges: [],
          plans: [],
          carriers: [],
          pictures: [{ containerId: 'a', jpegBase64 }],
        }),
      );
    expect(file('A'.repeat(6_000_000))).toMatchObject({ pictures: [{ containerId: 'a' }], leftOut: [] });
    expect(file('no base64!')).toMatchObject({ pictures: [], leftOut: [{ kind: 'picture', path: 'jpegBase64' }] });
  });

  test('cannot reach the prototypes of our objects', async () => {
    const json = await writeTransferFile({ records: [gauge], pictures: [] });
    const evil = json.replace(
      '"hookMm":4',
      '"hookMm":4,"__proto__":{"owned":1},"constructor":{"prototype":{"owned":1}}',
    );
    const read = readTransferFile(evil);
    expect(read.ok && read.records[0]).toEqual(gauge);
    expect(({} as { owned?: number }).owned).toBeUndefined();
  });

  const { measurement } = container;
  if (!measurement) throw new Error('the container of these tests is measured');
  const size = (value: number) => ({ ...measurement.maxDiameterMm, value });
  test.each<[string, object]>([
    ['photo.widthPx', { photo: { ...container.photo, widthPx: 'wide' } }],
    ['measurement.maxDiameterMm.value', { measurement: { ...measurement, maxDiameterMm: size(-73.2) } }],
    ['measurement.heightMm.value', { measurement: { ...measurement, heightMm: size(1e9) } }],
    ['measurement.capacityMl.value', { measurement: { ...measurement, capacityMl: size(Number.POSITIVE_INFINITY) } }],
    ['measurement.profile', { measurement: { ...measurement, profile: [] } }],
    [
      'measurement.profile.0.radiusMm',
      { measurement: { ...measurement, profile: [{ zMm: 0, radiusMm: -1, sdMm: 0 }] } },
    ],
    ['tape.heightMm', { tape: { ...container.tape, heightMm: -20 } }],
    ['changedAt', { changedAt: Date.now() + 90 * 24 * 3600_000 }],
    ['createdAt', { createdAt: 'yesterday' }],
  ])('leaves out by name what has an impossible %s, and brings in the rest', (path, change) => {
    const json = JSON.stringify({
      format: 'roundwise-kept',
      version: 1,
      savedAt: '',
      containers: [
        { ...container, ...change },
        { ...container, id: '55555555-5555-4555-8555-555555555555' },
      ],
      gauges: [gauge],
      plans: [],
      carriers: [],
      pictures: [],
    });
    const read = readTransferFile(json);
    expect(read).toMatchObject({ ok: true, leftOut: [{ kind: 'container', label: 'jar of the ferry kiosk', path }] });
    expect(read.ok && read.records.map(({ kind }) => kind)).toEqual(['container', 'gauge']);
  });

  test('holds no name of a photo file, also when an earlier version kept one', () => {
    const named = { ...container, photo: { ...container.photo, name: 'IMG_20260711_1830.jpg' } };
    const file = { format: 'roundwise-kept', version: 1, savedAt: '', containers: [named] };
    const read = readTransferFile(JSON.stringify({ ...file, gauges: [], plans: [], carriers: [], pictures: [] }));
    expect(read.ok && JSON.stringify(read.records)).not.toContain('IMG_');
  });
});

test('search finds records whose label holds every word, newest first', () => {
  const older = { ...gauge, label: 'Harbour wool', changedAt: 1 };
  const newer = { ...gauge, label: 'wool of the harbour mill', changedAt: 2 };
  expect(searchRecords([older, newer, gauge], 'HARBOUR wool')).toEqual([newer, older]);
});
