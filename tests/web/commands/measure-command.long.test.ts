import { readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { measure as main } from '../../../web/commands/measure.ts';
import type { MeasureLine } from '../../../web/commands/measure-line.ts';
import { plan } from '../../../web/commands/plan.ts';
import { readTruth } from '../../../web/commands/truth.ts';
import { runCommand } from '../../support/run-command.ts';

const PHOTO = 'sample-images/tumbler-standing-on-dark-desk.jpg';
const schema = JSON.parse(readFileSync('web/commands/measure-line.schema.json', 'utf8'));
const isMeasureLine = new Ajv2020().compile(schema);
const measure = (args: readonly string[]) => runCommand('measure', main, args);

let letter = '';
beforeAll(async () => {
  letter = join(await mkdtemp(join(tmpdir(), 'roundwise-')), 'letter.jpg');
  writeFileSync(letter, 'Dear all, the refill stall opens at nine.');
});

describe('measure', () => {
  it('measures one container from several photos together: one line that plan takes, with how well they agree', async () => {
    const { code, out } = await measure([PHOTO, PHOTO, '--same-container', '--json']);
    expect(code).toBe(0);
    const line: MeasureLine = JSON.parse(out);
    expect(isMeasureLine(line), JSON.stringify(isMeasureLine.errors)).toBe(true);
    expect(line.together?.photos.map(({ used }) => used)).toEqual([true, true]);
    expect(line.together?.gain.heightMm).toBeLessThan(0.9);
    expect((await runCommand('plan', plan, ['--from', '-'], out)).code).toBe(0);
  });

  it('says so when photos of different containers are put together, and when there is nothing to put together', async () => {
    const other = 'sample-images/tumbler-lying-on-planks.jpg';
    expect((await measure([PHOTO, other, '--same-container'])).out).toMatch(/These photos do not agree/);
    const { code, err } = await measure([PHOTO, letter, '--same-container']);
    expect(code).toBe(1);
    expect(err).toMatch(/fewer than two photos/);
  });

  it('measures a HEIC photo, which is the sample of its name at two thirds of its size', async () => {
    const { code, out } = await measure(['tests/browser/files/jam-jar-standing-on-dark-desk.heic', '--json']);
    expect(code).toBe(0);
    const line: MeasureLine = JSON.parse(out);
    const truth = await readTruth('sample-images/jam-jar-standing-on-dark-desk.jpg');
    expect(line.maxDiameterMm?.low95).toBeLessThan(truth?.maxDiameterMm ?? 0);
    expect(line.maxDiameterMm?.high95).toBeGreaterThan(truth?.maxDiameterMm ?? 0);
  });
});
