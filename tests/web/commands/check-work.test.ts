import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import Ajv from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';

const COMMAND = new URL('../../../web/commands/check-work.ts', import.meta.url).pathname;
const WORK = new URL('../../../sample-images/work/', import.meta.url).pathname;
const schema = JSON.parse(
  readFileSync(new URL('../../../web/commands/work-line.schema.json', import.meta.url), 'utf8'),
);
const isWorkLine = new Ajv().compile(schema);

function checkWork(...args: string[]) {
  const run = spawnSync(process.execPath, ['--import', 'tsx', COMMAND, ...args], { encoding: 'utf8' });
  return { status: run.status, stdout: run.stdout, stderr: run.stderr };
}

describe('check-work', () => {
  it.each([
    ['disc', 'flask-base-finished', ['--rounds', '7', '--stitches', '44'], 'mean_diameter_mm'],
    ['swatch', 'cotton-swatch', ['--rounds', '15', '--stitches', '16', '--rows-run', 'up'], 'width_mm'],
    ['tube', 'sleeve-in-progress', ['--stitches', '36', '--rows-run', 'longer'], 'width_mm'],
  ])(
    'measures the sample %s from the file alone, to the schema and within 3 standard uncertainties',
    (piece, name, counts, truth) => {
      const { status, stdout } = checkWork(piece, `${WORK}${name}.jpg`, ...counts, '--json');
      const line = JSON.parse(stdout);
      expect(isWorkLine(line), JSON.stringify(isWorkLine.errors)).toBe(true);
      expect(status).toBe(0);
      const { work } = JSON.parse(readFileSync(`${WORK}${name}.json`, 'utf8'));
      const size = piece === 'disc' ? line.disc.meanDiameterMm : line[piece].widthMm;
      expect(Math.abs(size.value - work[truth])).toBeLessThan(3 * size.sd);
    },
  );

  it('takes the thickness in inches, and the disc is surer for it', () => {
    const flask = (...more: string[]) =>
      JSON.parse(checkWork('disc', `${WORK}flask-base-finished.jpg`, ...more, '--json').stdout);
    const [guessed, typed] = [flask(), flask('--thickness', '0.134in')];
    expect(guessed.thicknessMm).toEqual({ value: 4, sd: 1.6 });
    expect(typed.thicknessMm.value).toBeCloseTo(3.4, 2);
    expect(typed.disc.meanDiameterMm.sd).toBeLessThan(guessed.disc.meanDiameterMm.sd);
  });

  it('refuses an unreadable photo in one sentence, with exit code 1 and a line to the schema', () => {
    const { status, stdout } = checkWork('disc', 'missing.jpg', '--json');
    expect(status).toBe(1);
    const line = JSON.parse(stdout);
    expect(isWorkLine(line), JSON.stringify(isWorkLine.errors)).toBe(true);
    expect(line.reason.code).toBe('unreadable-photo');
  });

  it.each([
    [['ring', 'a.jpg'], 'expected disc, swatch or tube'],
    [['disc'], 'one photo'],
    [['disc', 'a.jpg', '--rounds', 'two'], '--rounds two'],
    [['disc', 'a.jpg', '--thickness', '60'], '--thickness 60: expected 0.2 to 40 mm'],
    [['disc', 'a.jpg', '--edge', '1,2 3,4'], '--edge'],
  ])('answers the wrong call %j with exit code 2 and what is wrong', (args, words) => {
    const { status, stderr } = checkWork(...args);
    expect(status).toBe(2);
    expect(stderr).toContain(words);
  });

  it('prints help', () => {
    const { status, stdout } = checkWork('--help');
    expect(status).toBe(0);
    expect(stdout).toContain('--rows-run');
  });
});
