import { describe, expect, test } from 'vitest';
import { FIRST_GAUGE_ENTRY, gaugeEntryFrom, gaugeOf, usableGauge } from '../../../web/gauge/gauge-entry.ts';

const swatch = {
  ...FIRST_GAUGE_ENTRY,
  source: 'swatch',
  stitch: 'sc',
  swatch: { stitches: 16, widthMm: 101.6, rounds: 20, heightMm: 101.6 },
} as const;

describe('a gauge entry', () => {
  test('from a swatch over 4 in is 101.6 mm wide, not 100 (Craft Yarn Council tables count over 4 in)', () => {
    const result = gaugeOf(swatch);
    expect(result.outcome === 'gauge' && result.gauge.stitchWidthMm.value).toBeCloseTo(101.6 / 16, 10);
    expect(result.outcome === 'gauge' && result.gauge.origin).toBe('measured');
  });

  test('from the yarn band alone is marked as a guess and is much less sure', () => {
    const guess = gaugeOf({ ...swatch, source: 'guess' });
    const measured = gaugeOf(swatch);
    if (guess.outcome !== 'gauge' || measured.outcome !== 'gauge') throw new Error('refused');
    expect(guess.gauge.origin).toBe('guess');
    expect(guess.gauge.stitchWidthMm.sd / guess.gauge.stitchWidthMm.value).toBeGreaterThan(
      2 * (measured.gauge.stitchWidthMm.sd / measured.gauge.stitchWidthMm.value),
    );
  });

  test('half typed is incomplete, and the plan then goes by the guess', () => {
    const half = { ...swatch, swatch: { ...swatch.swatch, rounds: null } };
    expect(gaugeOf(half).outcome).toBe('incomplete');
    expect(usableGauge(half).origin).toBe('guess');
  });

  test('with width and height that cannot belong together is refused, naming both', () => {
    const result = gaugeOf({ ...swatch, swatch: { ...swatch.swatch, rounds: 60 } });
    expect(result.outcome === 'refused' && result.reason.field).toContain(' / ');
  });

  test('turns the length on the band into metres per 100 g', () => {
    const result = gaugeOf({ ...swatch, yarn: { ...swatch.yarn, ballGrams: 50, metresPerBall: 125 } });
    expect(result.outcome === 'gauge' && result.gauge.yarn.metresPer100g).toBe(250);
  });

  test('takes samples into the gauge: 20 chains, ten unravelled stitches, 10 cm of cord', () => {
    const result = gaugeOf({
      ...swatch,
      samples: {
        ...swatch.samples,
        twentyChainsMm: 120,
        yarnInTenStitchesMm: 560,
        yarnInTenCmOfCordMm: 1300,
        stitchesInTenCmOfCord: 22,
      },
    });
    if (result.outcome !== 'gauge') throw new Error('refused');
    expect(result.gauge.chainLengthMm?.value).toBe(6);
    expect(result.gauge.yarnPerStitchMm?.value).toBe(56);
    expect(result.gauge.cordSample?.yarnPerLength.value).toBe(13);
    expect(result.gauge.cordSample?.stitchLengthMm.value).toBeCloseTo(100 / 22, 10);
  });
});

describe('a kept gauge entry', () => {
  test('comes back as it was', () => {
    expect(gaugeEntryFrom(JSON.parse(JSON.stringify(swatch)))).toEqual(swatch);
  });

  test('that cannot be read gives the first guess', () => {
    expect(gaugeEntryFrom(null)).toBe(FIRST_GAUGE_ENTRY);
    expect(gaugeEntryFrom({ ...swatch, category: 12 })).toBe(FIRST_GAUGE_ENTRY);
  });
});
