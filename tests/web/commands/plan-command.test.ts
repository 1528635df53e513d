import { readFileSync } from 'node:fs';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { plan as main } from '../../../web/commands/plan.ts';
import { runCommand } from '../../support/run-command.ts';

const SIZES = ['--diameter', '73', '--height', '210'];
const plan = (args: readonly string[], input?: string) => runCommand('plan', main, args, input);

describe('plan', () => {
  it('prints a plan from two tape numbers, with its term set, rounds and cautions', async () => {
    const { code, out } = await plan(SIZES);
    expect(code).toBe(0);
    expect(out).toMatch(/US terms/);
    expect(out).toMatch(/Rnd 1: /);
    expect(out).toMatch(/child/i);
  });

  it('speaks UK terms and inches when asked', async () => {
    const { out } = await plan([...SIZES, '--terms', 'uk', '--units', 'in']);
    expect(out).toMatch(/UK terms/);
    expect(out).toMatch(/ in /);
  });

  it('refuses a size no carrier can be made for with exit code 1, naming the field and the range', async () => {
    const { code, err } = await plan(['--diameter', '5', '--height', '210']);
    expect(code).toBe(1);
    expect(err).toMatch(/15 to 400 mm/);
  });

  it('answers a wrong call with one line, a hint and exit code 2', async () => {
    for (const args of [[], ['--diameter', 'wide'], ['--colour', 'red'], [...SIZES, '--terms', 'fr']]) {
      const { code, out, err } = await plan(args);
      expect(code).toBe(2);
      expect(out).toBe('');
      expect(err).toMatch(/^plan: .*\nTry: npm run plan -- --help\n$/);
    }
  });

  it('passes on why a photo was refused, with exit code 1', async () => {
    const line = JSON.stringify({
      photo: 'a.jpg',
      outcome: 'refused',
      reason: { code: 'no-card', message: 'No card.' },
    });
    const { code, err } = await plan(['--from', '-'], line);
    expect(code).toBe(1);
    expect(err).toMatch(/a\.jpg was not measured: No card\./);
  });

  it('takes hostile input for what it is: no plan, no stack trace', async () => {
    for (const input of ['', 'null', '{"outcome":"measured"}', '[[[[', '{"__proto__":{"outcome":"measured"}}']) {
      const { code, err } = await plan(['--from', '-'], input);
      expect(code).toBe(1);
      expect(err).not.toMatch(/\n {4}at /);
    }
  });

  it('prints JSON lines that keep to their schema, planned and refused', async () => {
    const isPlanLine = new Ajv2020({ strictTypes: false }).compile(
      JSON.parse(readFileSync('web/commands/plan-line.schema.json', 'utf8')),
    );
    for (const args of [
      SIZES,
      [...SIZES, '--carrier', 'sleeve', '--stitch', 'sc'],
      [...SIZES, '--carrier', 'mat', '--language', 'de'],
      [...SIZES, '--mesh', 'loop', '--price-per-ball', '3', '--hourly-rate', '12'],
      ['--diameter', '180', '--height', '250'],
      ['--diameter', '5', '--height', '210'],
    ]) {
      const { out } = await plan([...args, '--json']);
      isPlanLine(JSON.parse(out));
      expect(isPlanLine.errors ?? [], args.join(' ')).toEqual([]);
    }
  });

  it('says in the JSON what it said before there were codes: sentences where sentences were', async () => {
    const { plan: made } = JSON.parse((await plan([...SIZES, '--json'])).out);
    for (const sentence of [made.coverReason, made.fit.message, made.strap.sewOn, made.checkpoints[0].ifLess]) {
      expect(sentence).toMatch(/^[A-Z].*\.$/);
    }
    expect(made.parts[0].notes[0]).toMatch(/joined rnds/);
    expect(made.cautions.join(' ')).toMatch(/children/);
    expect(made.warnings[0]).toMatch(/guess/);
  });

  it('asks whether centimetres were meant', async () => {
    const { err } = await plan(['--diameter', '7.3', '--height', '210']);
    expect(err).toContain('Did you mean 73 mm (7.3 cm)?');
  });

  it.each([
    [['--carrier', 'mat', '--strap', 'wrist'], '--strap does nothing with --carrier mat'],
    [['--carrier', 'sleeve', '--mesh', 'loop'], '--mesh does nothing with --carrier sleeve'],
  ])('does not pass over %j in silence', async (args, words) => {
    const { code, err } = await plan([...SIZES, ...args]);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });

  it('writes the charts as drawings of their own', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'roundwise-charts-'));
    const { code } = await plan([...SIZES, '--svg-chart', join(folder, 'chart.svg')]);
    expect(code).toBe(0);
    for (const name of ['chart.svg', 'chart-net.svg']) {
      expect(await readFile(join(folder, name), 'utf8')).toMatch(/^<svg width="[\d.]+mm" height="[\d.]+mm"/);
    }
    await rm(folder, { recursive: true });
  });

  it('explains itself', async () => {
    const help = (await plan(['--help'])).out;
    expect(help).toMatch(/--diameter MM/);
  });

  it('takes --ease -5 as its help says, and a number with a decimal comma', async () => {
    const narrow = await plan([...SIZES, '--ease', '-5', '--json']);
    expect(narrow.code).toBe(0);
    expect(narrow.out).toBe((await plan([...SIZES, '--ease=-5', '--json'])).out);
    expect(narrow.out).not.toBe((await plan([...SIZES, '--ease', '5', '--json'])).out);
    expect((await plan([...SIZES, '--ease', '-2,5', '--json'])).out).toBe(
      (await plan([...SIZES, '--ease', '-2.5', '--json'])).out,
    );
  });

  it.each([
    ['7.3cm', '73'],
    ['7,3 cm', '73'],
    ['73,0', '73'],
    ['2.5in', '63.5'],
  ])('takes a diameter of %s for %s mm', async (typed, mm) => {
    const [asTyped, inMm] = await Promise.all(
      [typed, mm].map((diameter) => plan(['--diameter', diameter, '--height', '210', '--json'])),
    );
    expect(asTyped.code).toBe(0);
    expect(asTyped.out).toBe(inMm.out);
  });

  it.each([
    [['--rounds', '0.5', '--stitches', '16'], '--rounds 0.5: expected a number from 1 to 200'],
    [['--yarn-category', '3.5'], '--yarn-category 3.5: expected a whole number from 0 to 7'],
    [['--top-diameter', '0'], '--top-diameter 0: expected 1 to 10000 mm'],
    [['--shoulder', '0'], '--shoulder 0: expected 1 to 210 mm'],
    [['--chains', '2.5'], '--chains 2.5: expected a whole number from 1 to 15'],
    [['--diameter', '80'], '--diameter is given twice'],
    [
      ['--yarn-category', '3', '--stitches', '16', '--rounds', '18'],
      '--yarn-category and --stitches do not go together',
    ],
    [['--json', '--markdown'], '--json and --markdown do not go together'],
    [['--from', '-'], '--from and --diameter do not go together'],
  ])('says what is wrong with %j, also in JSON', async (args, words) => {
    const { code, err } = await plan([...SIZES, ...args]);
    expect(code).toBe(2);
    expect(err).toContain(words);
    const json = await plan([...SIZES, ...args.filter((arg) => arg !== '--json'), '--json']);
    expect(json.code).toBe(2);
    expect(JSON.parse(json.out)).toMatchObject({ outcome: 'refused', reason: { code: 'wrong-call' } });
  });

  it('refuses tape readings beside a measured line', async () => {
    for (const option of ['--top-diameter', '--shoulder', '--tape-sd']) {
      const { code, err } = await plan(['--from', '-', option, '1'], '{}');
      expect(code).toBe(2);
      expect(err).toContain(`--from and ${option} do not go together`);
    }
  });

  it('shows what a terminal would obey instead of sending it there', async () => {
    const line = {
      photo: 'a\u001b[2J\n.jpg',
      outcome: 'refused',
      reason: { code: 'no-card', message: 'No\u009b31m.' },
    };
    const { err } = await plan(['--from', '-'], JSON.stringify(line));
    expect(err).toBe('plan: a\\u001b[2J\\u000a.jpg was not measured: No\\u009b31m.\n');
    const { err: wrongCall } = await plan(['--from', 'no\u001b]0;such\u0007']);
    expect(wrongCall).toMatch(/^plan: --from no\\u001b\]0;such\\u0007: There is no such file/);
  });
});
