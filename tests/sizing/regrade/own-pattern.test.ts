import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type OwnPattern, parseOwnPattern, writeOwnPattern } from '../../../sizing/regrade/own-pattern.ts';
import { FABRIC_STITCHES } from '../../../sizing/stitches.ts';

function read(text: string): OwnPattern {
  const parsed = parseOwnPattern(text);
  if (parsed.outcome === 'not-read') throw new Error(`${parsed.error.code} at ${parsed.error.at}`);
  return parsed.pattern;
}

function trouble(text: string) {
  const parsed = parseOwnPattern(text);
  if (parsed.outcome === 'read') throw new Error('was read');
  return parsed.error;
}

describe("a maker's own rounds are read as short as she writes them", () => {
  test('counts, loops, rounds and band on lines of their own', () => {
    expect(read('6, 12, 18, 24\n12 x ch5\n14 rounds\nband 3')).toEqual({
      baseCounts: [6, 12, 18, 24],
      stitch: null,
      wallRounds: null,
      mesh: { kind: 'loop', cells: 12, chains: 5, postStitch: null, rounds: 14 },
      bandRounds: 3,
      strapMm: null,
    });
  });

  test('all on one line, with semicolons or commas between', () => {
    expect(read('base 12,24,36 dc; wall 1; 12 × dc ch-2, 9 rounds, band 2; strap 119 cm')).toEqual({
      baseCounts: [12, 24, 36],
      stitch: 'dc',
      wallRounds: 1,
      mesh: { kind: 'post', cells: 12, chains: 2, postStitch: 'dc', rounds: 9 },
      bandRounds: 2,
      strapMm: 1190,
    });
  });

  test('capitals and missing blanks do not matter', () => {
    expect(read('6,12,18 SC;WALL 4')).toEqual(read('base 6, 12, 18 sc\nwall 4'));
  });

  test('inches are taken as 25.4 mm, a comma as a decimal point', () => {
    expect(read('6, 12; strap 40 in').strapMm).toBeCloseTo(1016, 9);
    expect(read('6, 12; strap 101,6 cm').strapMm).toBeCloseTo(1016, 9);
  });
});

describe('what cannot be read is named with its place', () => {
  test.each([
    ['', 'nothing-written', 0],
    ['band 2', 'base-missing', 6],
    ['6, 12, 18; loops everywhere', 'not-understood', 11],
    ['6, 12; band 2; band 3', 'said-twice', 15],
    ['6, 12, 10', 'base-shrinks', 0],
    ['6, 12, 30', 'base-more-than-doubles', 0],
    ['6, 12; 14 rounds', 'rounds-without-cells', 7],
    ['6, 12; 20 x ch5', 'more-cells-than-stitches', 7],
    ['6, 12; band 40', 'count-out-of-range', 7],
    ['6, 12; strap 9 m', 'not-understood', 7],
  ] as const)('%j: %s', (text, code, at) => {
    expect(trouble(text)).toMatchObject({ code, at });
  });

  test('no text makes it throw', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), (text) => ['read', 'not-read'].includes(parseOwnPattern(text).outcome)),
    );
  });
});

test('what is written reads back as the same pattern', () => {
  const stitch = fc.constantFrom(null, ...FABRIC_STITCHES);
  const patterns = fc
    .record({
      start: fc.integer({ min: 6, max: 16 }),
      added: fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 1, maxLength: 12 }),
      stitch,
      wallRounds: fc.option(fc.integer({ min: 0, max: 40 })),
      bandRounds: fc.option(fc.integer({ min: 0, max: 12 })),
      strapMm: fc.option(fc.integer({ min: 50, max: 2500 })),
      mesh: fc.option(
        fc.record({
          cells: fc.integer({ min: 3, max: 6 }),
          chains: fc.integer({ min: 1, max: 15 }),
          postStitch: stitch,
          rounds: fc.option(fc.integer({ min: 1, max: 99 })),
        }),
      ),
    })
    .map(({ start, added, mesh, ...rest }): OwnPattern => {
      const baseCounts = [start];
      for (const more of added) baseCounts.push(baseCounts[baseCounts.length - 1] + more);
      return { ...rest, baseCounts, mesh: mesh && { kind: mesh.postStitch ? 'post' : 'loop', ...mesh } };
    });
  let cases = 0;
  fc.assert(
    fc.property(patterns, (pattern) => {
      cases++;
      expect(read(writeOwnPattern(pattern))).toEqual(pattern);
    }),
    { numRuns: 300 },
  );
  expect(cases).toBeGreaterThanOrEqual(300);
});
