import { readFileSync } from 'node:fs';
import Ajv from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { checkWork as main } from '../../../web/commands/check-work.ts';
import { runCommand } from '../../support/run-command.ts';

const WORK = new URL('../../../sample-images/work/', import.meta.url).pathname;
const schema = JSON.parse(
  readFileSync(new URL('../../../web/commands/work-line.schema.json', import.meta.url), 'utf8'),
);
const isWorkLine = new Ajv().compile(schema);

const checkWork = (...args: string[]) => runCommand('check-work', main, args);

describe('check-work', () => {
  it.each([
    ['swatch', 'cotton-swatch', ['--rounds', '15', '--stitches', '16', '--rows-run', 'up'], 'width_mm'],
    ['tube', 'sleeve-in-progress', ['--stitches', '36', '--rows-run', 'longer'], 'width_mm'],
  ])(
    'measures the sample %s from the file alone, to the schema and within 3 standard uncertainties',
    async (piece, name, counts, truth) => {
      const { code, out } = await checkWork(piece, `${WORK}${name}.jpg`, ...counts, '--json');
      const line = JSON.parse(out);
      expect(isWorkLine(line), JSON.stringify(isWorkLine.errors)).toBe(true);
      expect(code).toBe(0);
      const { work } = JSON.parse(readFileSync(`${WORK}${name}.json`, 'utf8'));
      const size = piece === 'disc' ? line.disc.meanDiameterMm : line[piece].widthMm;
      expect(Math.abs(size.value - work[truth])).toBeLessThan(3 * size.sd);
    },
  );

  it('takes the thickness in inches, and the disc is surer for it', async () => {
    const flask = async (...more: string[]) =>
      JSON.parse((await checkWork('disc', `${WORK}flask-base-finished.jpg`, ...more, '--json')).out);
    const [guessed, typed] = [await flask(), await flask('--thickness', '0.134in')];
    expect(guessed.thicknessMm).toEqual({ value: 4, sd: 1.6 });
    expect(typed.thicknessMm.value).toBeCloseTo(3.4, 2);
    expect(typed.disc.meanDiameterMm.sd).toBeLessThan(guessed.disc.meanDiameterMm.sd);
  });
});
