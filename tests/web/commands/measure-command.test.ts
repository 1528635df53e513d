import { spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import type { MeasureLine } from '../../../web/commands/measure-line.ts';

const PHOTO = 'sample-images/tumbler-standing-on-dark-desk.jpg';
const schema = JSON.parse(readFileSync('web/commands/measure-line.schema.json', 'utf8'));
const isMeasureLine = new Ajv2020().compile(schema);

function command(name: 'measure' | 'plan' | 'accuracy', args: readonly string[], input = '') {
  const run = spawnSync(process.execPath, ['--import', 'tsx', `web/commands/${name}.ts`, ...args], {
    encoding: 'utf8',
    input,
    maxBuffer: 1e8,
  });
  return { code: run.status, out: run.stdout, err: run.stderr };
}

describe('measure', () => {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'roundwise-'));
    writeFileSync(join(folder, 'cut-off.jpg'), readFileSync(PHOTO).subarray(0, 5000));
    writeFileSync(join(folder, 'letter.jpg'), 'Dear all, the refill stall opens at nine.');
  });

  it('prints one JSON line a photo in input order; an unreadable file is a refused line and stops nothing', () => {
    const photos = [join(folder, 'letter.jpg'), PHOTO, join(folder, 'cut-off.jpg'), join(folder, 'missing.jpg')];
    const { code, out, err } = command('measure', [...photos, '--json']);
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
    expect(code).toBe(1);
    expect(err).toMatch(/4 of 4/);
  });

  it('pipes into plan: one photo in, a plan out', () => {
    const measured = command('measure', [PHOTO, '--json']);
    expect(measured.code).toBe(0);
    const plan = command('plan', ['--from', '-'], measured.out);
    expect(plan.code).toBe(0);
    expect(plan.out).toMatch(/Rnd 1 /);
  });

  it('measures one container from several photos together: one line that plan takes, with how well they agree', () => {
    const { code, out } = command('measure', [PHOTO, PHOTO, '--same-container', '--json']);
    expect(code).toBe(0);
    const line: MeasureLine = JSON.parse(out);
    expect(isMeasureLine(line), JSON.stringify(isMeasureLine.errors)).toBe(true);
    expect(line.together?.photos.map(({ used }) => used)).toEqual([true, true]);
    expect(line.together?.gain.heightMm).toBeLessThan(0.9);
    expect(command('plan', ['--from', '-'], out).code).toBe(0);
  });

  it('says so when photos of different containers are put together, and when there is nothing to put together', () => {
    const other = 'sample-images/tumbler-lying-on-planks.jpg';
    expect(command('measure', [PHOTO, other, '--same-container']).out).toMatch(/These photos do not agree/);
    const { code, err } = command('measure', [PHOTO, join(folder, 'letter.jpg'), '--same-container']);
    expect(code).toBe(1);
    expect(err).toMatch(/fewer than two photos/);
  });

  it('prints a table with ± for people', () => {
    const { code, out } = command('measure', [PHOTO]);
    expect(code).toBe(0);
    expect(out).toMatch(/\d+\.\d ± \d+\.\d/);
    expect(out).toMatch(/standing/);
  });

  it('answers a wrong call with one line and exit code 2', () => {
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
    ];
    for (const args of wrongCalls) {
      const { code, err } = command('measure', args);
      expect(code).toBe(2);
      expect(err).toMatch(/^measure: .*\nTry: npm run measure -- --help\n$/);
    }
  });
});

describe('accuracy', () => {
  it('scores a folder against its truth files, from given outline and corners, in the documented shape', () => {
    const { code, out } = command('accuracy', ['sample-images', '--outline', 'truth', '--json']);
    expect(code).toBe(0);
    const report = JSON.parse(out);
    const score = {
      n: report.photos,
      medianAbsPct: expect.any(Number),
      p90AbsPct: expect.any(Number),
      worstAbsPct: expect.any(Number),
      medianAbsMm: expect.any(Number),
      coverage95: expect.any(Number),
    };
    expect(report).toMatchObject({
      measured: report.photos,
      refused: 0,
      widestDiameter: score,
      height: score,
      cardCorners: { found: report.photos },
      arrangementRight: 1,
    });
    expect(Object.keys(report.byArrangement).sort()).toEqual(['card-leaning', 'card-on-front', 'lying', 'standing']);
  });
});
