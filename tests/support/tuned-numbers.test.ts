import { describe, expect, it } from 'vitest';
import { tunedNumbers } from '../studies/tuned-numbers.ts';

const SOURCE = `
/** Half of what is usual; tests/vision/known.test.ts */
const SHARE = 0.35;
const OTHER = 3;

const BARE = 0.7;
/** Source: ISO/IEC 7810:2019, 5.1. */
export const WIDTH_MM = 85.6;
const halve = (x: number) => x / 2;

/** See tests/vision/missing.test.ts. */
export function far(x: number, reach = 0.25): number {
  // what a thumb covers; tests/vision/known.test.ts
  const most = 44;
  return x * 2 > most ? reach : 1;
}
`;

describe('tunedNumbers', () => {
  const found = tunedNumbers('a.ts', SOURCE, (path) => path === 'tests/vision/known.test.ts');
  const by = (text: string) => found.find((number) => number.text === text);

  it('finds constants with the comment they share, and numbers inside functions', () => {
    expect(found.map(({ text }) => text)).toEqual([
      'SHARE = 0.35',
      'OTHER = 3',
      'BARE = 0.7',
      'WIDTH_MM = 85.6',
      '0.25',
      '44',
    ]);
    expect(by('OTHER = 3')).toMatchObject({ kind: 'named', line: 4, evidence: 'tests/vision/known.test.ts' });
  });

  it('takes a test that exists or a published source for evidence, and nothing else', () => {
    expect(by('BARE = 0.7')).toMatchObject({ reason: null, evidence: null });
    expect(by('WIDTH_MM = 85.6')?.evidence).toContain('ISO/IEC 7810');
    expect(by('0.25')).toMatchObject({ kind: 'inline', evidence: null });
    expect(by('44')?.evidence).toBe('tests/vision/known.test.ts');
  });

  it('leaves halves, counts and right angles alone', () => {
    expect(tunedNumbers('b.ts', 'const f = (x: number) => (x / 2 + 90) * 0.5;')).toEqual([]);
  });
});
