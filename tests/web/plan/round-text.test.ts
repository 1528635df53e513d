import { describe, expect, test } from 'vitest';
import type { Round, Step } from '../../../sizing/plan.ts';
import { longStitch, shortStitch } from '../../../web/plan/stitch-words.ts';
import { countText, roundText } from '../../../web/plan/words/round-words.ts';
import { voiceOf } from '../../../web/plan/words/voice.ts';

const us = voiceOf({ language: 'en', terms: 'us', units: 'cm', hand: 'right' });
const uk = voiceOf({ language: 'en', terms: 'uk', units: 'cm', hand: 'right' });
const german = voiceOf({ language: 'de', terms: 'de', units: 'cm', hand: 'right' });

describe('a round in crochet language', () => {
  test('dc names different stitches in US and UK terms (Craft Yarn Council Standards & Guidelines, 2018)', () => {
    const round = roundOf([{ do: 'stitch', stitch: 'dc', into: 'stitch', times: 12 }], 12);
    expect(roundText(round, us)).toBe('Dc in each st around');
    expect(roundText(round, uk)).toBe('Tr in each st around');
    expect(roundText(round, german)).toBe('Je 1 Stb in jede M');
    expect([us, uk, german].map((voice) => countText(round, voice))).toEqual(['12 dc', '12 tr', '12 Stb']);
  });

  test('an increase round names its increases, brackets what repeats, and joins where the trade joins', () => {
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
    expect(roundText(round, us)).toBe(
      'Ch 3 (counts as dc), (dc in next st, inc) 9 times, join with sl st in top of beg ch-3',
    );
    expect(roundText(round, german)).toBe('3 Lm (zählen als 1 Stb), (1 Stb, 1 M verd) 9×, 1 Km in die 3. Anfangs-Lm');
  });

  test('after a join the first stitch is told where to go', () => {
    const steps: Step[] = [
      { do: 'turning-chain', chains: 1, countsAs: null },
      { do: 'stitch', stitch: 'sc', into: 'stitch', times: 1 },
      { do: 'increase', stitch: 'sc', made: 2 },
      { do: 'join' },
    ];
    const round = { ...roundOf(steps, 3), stitch: 'sc', starts: 'joining stitch' } as const;
    expect(roundText(round, us)).toBe(
      'Ch 1 (does not count as st), sc in same st as join, inc, join with sl st in first sc',
    );
    expect(roundText(round, german)).toBe(
      '1 Lm (zählt nicht als M), 1 fM in dieselbe M, 1 M verd, 1 Km in die erste fM',
    );
  });

  test('stitches into one chain space are counted together', () => {
    const round = roundOf(
      [
        { do: 'stitch', stitch: 'sc', into: 'space', times: 1 },
        { do: 'stitch', stitch: 'sc', into: 'same', times: 2 },
      ],
      3,
    );
    expect(roundText(round, us)).toBe('3 sc in next ch-sp');
    expect(roundText(round, german)).toBe('3 fM um den nächsten Lm-Bogen');
  });

  test('a cord turns the other way in the left hand', () => {
    const cord = { ...roundOf([{ do: 'cord', stitches: 270, pieces: 1 }], 270), closing: 'cord' } as const;
    const left = voiceOf({ language: 'en', terms: 'us', units: 'cm', hand: 'left' });
    expect(roundText(cord, us)).toContain(
      'turn the work anticlockwise, insert hook under the 2 loops at its left edge',
    );
    expect(roundText(cord, left)).toContain('turn the work clockwise, insert hook under the 2 loops at its right edge');
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
    starts: 'next stitch',
    closing: 'joined',
    stitch: 'dc',
    steps,
    stitches,
    spaces: 0,
    widthMm: null,
    heightMm: null,
    flatness: null,
    notes: [],
  };
}
