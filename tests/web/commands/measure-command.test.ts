import { readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { measure as main } from '../../../web/commands/measure.ts';
import type { MeasureLine } from '../../../web/commands/measure-line.ts';
import { plan } from '../../../web/commands/plan.ts';
import { runCommand } from '../../support/run-command.ts';

const PHOTO = 'sample-images/tumbler-standing-on-dark-desk.jpg';
const schema = JSON.parse(readFileSync('web/commands/measure-line.schema.json', 'utf8'));
const isMeasureLine = new Ajv2020().compile(schema);
const measure = (args: readonly string[]) => runCommand('measure', main, args);

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'roundwise-'));
  writeFileSync(join(folder, 'cut-off.jpg'), readFileSync(PHOTO).subarray(0, 5000));
  writeFileSync(join(folder, 'letter.jpg'), 'Dear all, the refill stall opens at nine.');
});

// Several photos of one container: measure-command.long.test.ts
describe('measure', () => {
  it('prints one JSON line a photo in input order; an unreadable file is a refused line and stops nothing', async () => {
    const photos = [join(folder, 'letter.jpg'), PHOTO, join(folder, 'cut-off.jpg'), join(folder, 'missing.jpg')];
    const { code, out } = await measure([...photos, '--json']);
    const lines: MeasureLine[] = out
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.map((line) => line.photo)).toEqual(photos);
    for (const line of lines) expect(isMeasureLine(line), JSON.stringify(isMeasureLine.errors)).toBe(true);
    expect(lines.map((line) => line.reason?.code ?? line.outcome)).toEqual([
      'unreadable-photo',
      'measured',
      'unreadable-photo',
      'unreadable-photo',
    ]);
    expect(lines[3].reason?.message).toMatch(/no such file/);
    expect(code).toBe(1);
    const planned = await runCommand('plan', plan, ['--from', '-'], out.split('\n')[1]);
    expect(planned.code).toBe(0);
    expect(planned.out).toMatch(/Rnd 1: /);
  });

  it('prints a table with ± for people', async () => {
    const { code, out } = await measure([PHOTO]);
    expect(code).toBe(0);
    expect(out).toMatch(/\d+\.\d ± \d+\.\d/);
    expect(out).toMatch(/standing/);
  });

  it('shows what a terminal would obey in a file name instead of sending it there', async () => {
    const { out } = await measure([join(folder, 'no\u001b[2J\n\u202esuch.jpg')]);
    expect(out).toContain('no\\u001b[2J\\u000a\\u202esuch.jpg');
  });

  it('answers a wrong call with one line and exit code 2', async () => {
    const wrongCalls = [
      [],
      [PHOTO, '--arrangement', 'upside-down'],
      [PHOTO, '--same-container'],
      [PHOTO, '--reference', 'postcard'],
      [PHOTO, '--reference', '2 euro'],
      [PHOTO, '--round', '3 euro'],
      [PHOTO, '--round-at', '1,2'],
      [PHOTO, '--focal35', '0'],
      [PHOTO, '--card', '1,2 3,4'],
      [PHOTO, '--at', 'middle'],
      [PHOTO, '--at', '1,2', '--at', '3,4'],
      [PHOTO, '--round', '2 euro', '--reference', 'A4'],
      [PHOTO, '--round', '2 euro', '--card', '1,2 3,4 5,6 7,8'],
      [PHOTO, '--round', '2 euro', '--round-at', '1,2', '--rim', '1,2 3,4 5,6 7,8 9,10 11,12'],
    ];
    for (const args of wrongCalls) {
      const { code, err } = await measure(args);
      expect(code, args.join(' ')).toBe(2);
      expect(err).toMatch(/^measure: .*\nTry: npm run measure -- --help\n$/);
    }
  });
});
