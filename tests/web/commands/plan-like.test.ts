import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { plan as main } from '../../../web/commands/plan.ts';
import { runCommand } from '../../support/run-command.ts';

const plan = (args: readonly string[]) => runCommand('plan', main, args);
const MADE_FOR = ['--like-diameter', '70', '--like-height', '200'];
const OTHER = ['--diameter', '88', '--height', '250'];

let folder: string;
const file = async (text: string) => {
  const path = join(folder, `${Math.random().toString(36).slice(2)}.txt`);
  await writeFile(path, text);
  return path;
};
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'own-pattern-'));
});

describe('plan --like', () => {
  it('makes the same design for another container and says what was kept and what had to change', async () => {
    const like = await file('6, 12, 18, 24, 30, 36 sc\n12 x ch5\n10 rounds\nband 2\n');
    const { code, out } = await plan(['--like', like, ...MADE_FOR, ...OTHER]);
    expect(code).toBe(0);
    expect(out).toMatch(/6 sc in ring/);
    expect(out).toMatch(/\(36 sc;/);
    expect(out).toMatch(/The base starts with 6 and adds 6 a round, as yours\./);
    expect(out).toMatch(/Round 8 adds 3 instead of 6, to meet the size\./);
  });

  it('says it in German, too', async () => {
    const like = await file('12, 24, 36 dc; 12 x dc ch2; 11 rounds');
    const { out } = await plan(['--like', like, ...MADE_FOR, ...OTHER, '--language', 'de']);
    expect(out).toMatch(/Der Boden beginnt mit 12 und nimmt je Runde 12 zu, wie deiner\./);
  });

  it('names the place in a pattern that it cannot read', async () => {
    const like = await file('6, 12, 18; loops');
    const { code, err } = await plan(['--like', like, ...MADE_FOR, ...OTHER]);
    expect(code).toBe(2);
    expect(err).toMatch(/“loops” is not understood.*\(Place 12\.\)/);
  });

  it('says when rounds and bottle disagree', async () => {
    const like = await file('6, 12, 18 sc; 9 x ch5');
    const gauge = ['--stitch', 'sc', '--stitches', '16', '--rounds', '18'];
    const { code, err } = await plan(['--like', like, ...MADE_FOR, ...OTHER, ...gauge]);
    expect(code).toBe(1);
    expect(err).toMatch(/Your base comes out 3\d mm across, the bottle it is for is 70 mm/);
  });

  it('wants to know what the pattern was made for', async () => {
    const like = await file('6, 12, 18');
    expect(await plan(['--like', like, ...OTHER])).toMatchObject({ code: 2 });
    expect(await plan([...MADE_FOR, ...OTHER])).toMatchObject({ code: 2 });
  });

  it('keeps the plan as data and adds what was kept', async () => {
    const like = await file('6, 12, 18, 24, 30, 36 sc; 12 x ch5; 10 rounds');
    const { out } = await plan(['--like', like, ...MADE_FOR, ...OTHER, '--json']);
    const line = JSON.parse(out);
    expect(line.outcome).toBe('planned');
    expect(line.regraded.codes[0].code).toBe('gauge-from-pattern');
    expect(line.regraded.sentences).toHaveLength(line.regraded.codes.length);
  });
});

describe('plan --sizes', () => {
  it('writes several sizes as one graded pattern, smallest first in the order given', async () => {
    const { code, out } = await plan([
      '--sizes',
      '66x115,73x210,95x127',
      '--stitch',
      'sc',
      '--stitches',
      '16',
      '--rounds',
      '18',
    ]);
    expect(code).toBe(0);
    expect(out).toMatch(/Sizes: S \(M, L\)\. One number stands for all of them\./);
    expect(out).toMatch(/Rnd 1: start with \d+ sts\./);
    expect(out).toMatch(/Rnd \d+: inc [\d–]+ \([\d–]+, \d+\) times, evenly spread\. \([\d–]+ \([\d–]+, \d+\) sts\)/);
    expect(out).toMatch(/Band: \d+ \(\d+, \d+\) sts, 2 rnds\./);
  });

  it('refuses what is no size', async () => {
    for (const sizes of ['66', '66x115', '66x115,wide', '1x2,3x4,5x6,7x8,9x9,9x9,9x9']) {
      expect(await plan(['--sizes', sizes])).toMatchObject({ code: 2 });
    }
  });
});
