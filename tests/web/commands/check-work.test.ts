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

// Swatch, tube and thickness: check-work.long.test.ts
describe('check-work', () => {
  it.each([['disc', 'flask-base-finished', ['--rounds', '7', '--stitches', '44'], 'mean_diameter_mm']])(
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

  it('refuses an unreadable photo in one sentence, with exit code 1 and a line to the schema', async () => {
    const { code, out } = await checkWork('disc', 'missing.jpg', '--json');
    expect(code).toBe(1);
    const line = JSON.parse(out);
    expect(isWorkLine(line), JSON.stringify(isWorkLine.errors)).toBe(true);
    expect(line.reason.code).toBe('unreadable-photo');
  });

  it.each([
    [['ring', 'a.jpg'], 'expected disc, swatch or tube'],
    [['disc'], 'one photo'],
    [['disc', 'a.jpg', '--rounds', 'two'], '--rounds two'],
    [['disc', 'a.jpg', '--thickness', '60'], '--thickness 60: expected 0.2 to 40 mm'],
    [['disc', 'a.jpg', '--edge', '1,2 3,4'], '--edge'],
    [['tube', 'a.jpg', '--rounds', '5'], '--rounds is for a disc or a swatch'],
    [['disc', 'a.jpg', '--rows-run', 'up'], '--rows-run is for a swatch or a tube'],
    [['disc', 'a.jpg', '--round', '2 euro', '--reference', 'A4'], '--reference and --round do not go together'],
    [['disc', 'a.jpg', '--stitches', '6', '--stitches', '7'], '--stitches is given twice'],
  ])('answers the wrong call %j with exit code 2 and what is wrong', async (args, words) => {
    const { code, err } = await checkWork(...args);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });

  it('prints help', async () => {
    const { code, out } = await checkWork('--help');
    expect(code).toBe(0);
    expect(out).toContain('--rows-run');
  });
});
