import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';

function plan(args: readonly string[], input = '') {
  const run = spawnSync(process.execPath, ['--import', 'tsx', 'web/commands/plan.ts', ...args], {
    encoding: 'utf8',
    input,
  });
  return { code: run.status, out: run.stdout, err: run.stderr };
}

describe('plan', () => {
  it('prints a plan from two tape numbers, with its term set, rounds and cautions', () => {
    const { code, out } = plan(['--diameter', '73', '--height', '210']);
    expect(code).toBe(0);
    expect(out).toMatch(/US terms/);
    expect(out).toMatch(/Rnd 1 /);
    expect(out).toMatch(/child/i);
  });

  it('speaks UK terms and inches when asked', () => {
    const { out } = plan(['--diameter', '73', '--height', '210', '--terms', 'uk', '--units', 'in']);
    expect(out).toMatch(/UK terms/);
    expect(out).toMatch(/ in /);
  });

  it('refuses a size no carrier can be made for with exit code 1, naming the field and the range', () => {
    const { code, err } = plan(['--diameter', '5', '--height', '210']);
    expect(code).toBe(1);
    expect(err).toMatch(/15 to 400 mm/);
  });

  it('answers a wrong call with one line, a hint and exit code 2', () => {
    for (const args of [
      [],
      ['--diameter', 'wide'],
      ['--colour', 'red'],
      ['--diameter', '73', '--height', '210', '--terms', 'fr'],
    ]) {
      const { code, out, err } = plan(args);
      expect(code).toBe(2);
      expect(out).toBe('');
      expect(err).toMatch(/^plan: .*\nTry: npm run plan -- --help\n$/);
    }
  });

  it('passes on why a photo was refused, with exit code 1', () => {
    const line = JSON.stringify({
      photo: 'a.jpg',
      outcome: 'refused',
      reason: { code: 'no-card', message: 'No card.' },
    });
    const { code, err } = plan(['--from', '-'], line);
    expect(code).toBe(1);
    expect(err).toMatch(/a\.jpg was not measured: No card\./);
  });

  it('takes hostile input for what it is: no plan, no stack trace', () => {
    for (const input of ['', 'null', '{"outcome":"measured"}', '[[[[', '{"__proto__":{"outcome":"measured"}}']) {
      const { code, err } = plan(['--from', '-'], input);
      expect(code).toBe(1);
      expect(err).not.toMatch(/\n {4}at /);
    }
  });

  it('explains itself', () => {
    const help = plan(['--help']).out;
    expect(help).toMatch(/--diameter MM/);
  });
});
