import { describe, expect, test } from 'vitest';
import type { Round, Step } from '../../../sizing/plan.ts';
import { roundText } from '../../../web/plan/round-text.ts';
import { longStitch, shortStitch } from '../../../web/plan/stitch-words.ts';

const us = { terms: 'us', units: 'cm' } as const;
const uk = { terms: 'uk', units: 'cm' } as const;
const german = { terms: 'de', units: 'cm' } as const;

describe('a round in crochet language', () => {
  test('dc names different stitches in US and UK terms (Craft Yarn Council Standards & Guidelines, 2018)', () => {
    const round = roundOf([{ do: 'stitch', stitch: 'dc', into: 'stitch', times: 12 }], 12);
    expect(roundText(round, us)).toBe('Dc in each st around');
    expect(roundText(round, uk)).toBe('Tr in each st around');
    expect(roundText(round, german)).toBe('1 Stb in jede M der Runde');
  });

  test('an increase round reads the same in every vocabulary', () => {
    const round = roundOf(
      [
        { do: 'turning-chain', chains: 3, countsAs: 'dc' },
        {
          do: 'repeat',
          times: 9,
          steps: [
            { do: 'stitch', stitch: 'dc', into: 'stitch', times: 1 },
            { do: 'increase', stitch: 'dc', made: 2 },
          ],
        },
        { do: 'join' },
      ],
      28,
    );
    expect(roundText(round, german)).toBe(
      '3 Lm (zählen als 1 Stb), 9× (1 Stb in die nächste M, 2 Stb in die nächste M), 1 Km in die erste M',
    );
  });

  test('stitches into one chain space are counted together in German', () => {
    const round = roundOf(
      [
        { do: 'stitch', stitch: 'sc', into: 'space', times: 1 },
        { do: 'stitch', stitch: 'sc', into: 'same', times: 2 },
      ],
      3,
    );
    expect(roundText(round, german)).toBe('3 fM um den nächsten Lm-Bogen');
  });
});

test('German trade names: fM, hStb, Stb, DStb (common practice, no source)', () => {
  expect((['sc', 'hdc', 'dc', 'tr'] as const).map((stitch) => shortStitch(stitch, 'de'))).toEqual([
    'fM',
    'hStb',
    'Stb',
    'DStb',
  ]);
  expect(longStitch('sl st', 'de')).toBe('Kettmasche');
});

function roundOf(steps: readonly Step[], stitches: number): Round {
  return {
    number: 2,
    part: 'base',
    closing: 'joined',
    stitch: 'dc',
    steps,
    stitches,
    spaces: 0,
    widthMm: null,
    heightMm: null,
    flatness: null,
    note: null,
  };
}
