import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
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
};
const gauge = { ...newRecord('gauge', 'harbour cotton', 1_760_000_000_000), gauge: { hookMm: 4 } };

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

  test('is refused when its content nests deeper than anything of ours', async () => {
    const json = await writeTransferFile({ records: [gauge], pictures: [] });
    for (const levels of [100, 100_000]) {
      const deep = json.replace('{"hookMm":4}', `{"hookMm":${'['.repeat(levels)}${']'.repeat(levels)}}`);
      expect(readTransferFile(deep)).toEqual({ ok: false, reason: 'invalid', path: 'gauges.0.gauge' });
    }
  });

  test('takes large pictures, and refuses one that is no base64', () => {
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
    expect(file('A'.repeat(6_000_000)).ok).toBe(true);
    expect(file('no base64!')).toEqual({ ok: false, reason: 'invalid', path: 'pictures.0.jpegBase64' });
  });

  test('cannot reach the prototypes of our objects', async () => {
    const json = await writeTransferFile({ records: [gauge], pictures: [] });
    const evil = json.replace(
      '{"hookMm":4}',
      '{"hookMm":4,"__proto__":{"owned":1},"constructor":{"prototype":{"owned":1}}}',
    );
    const read = readTransferFile(evil);
    expect(read.ok && read.records[0]).toEqual(gauge);
    expect(({} as { owned?: number }).owned).toBeUndefined();
  });

  test('is refused as a whole when one number in it is no number, naming the place', async () => {
    const json = await writeTransferFile({ records: [container], pictures: [] });
    const damaged = json.replace('"widthPx":1200', '"widthPx":"wide"');
    expect(readTransferFile(damaged)).toEqual({ ok: false, reason: 'invalid', path: 'containers.0.photo.widthPx' });
  });
});

test('search finds records whose label holds every word, newest first', () => {
  const older = { ...gauge, label: 'Harbour wool', changedAt: 1 };
  const newer = { ...gauge, label: 'wool of the harbour mill', changedAt: 2 };
  expect(searchRecords([older, newer, gauge], 'HARBOUR wool')).toEqual([newer, older]);
});
