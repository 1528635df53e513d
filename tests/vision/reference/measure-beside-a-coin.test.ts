import { describe, expect, it } from 'vitest';
import type { MeasureOptions } from '../../../vision/measure-photo.ts';
import { expectMeasured, measure, STANDING, sample } from './coin-samples.ts';

// Lying, tapped, placed by hand: measure-beside-a-coin.long.test.ts
describe('a sample photo of a container beside a coin', () => {
  it('is measured within its interval with the coin found, standing, and says by what', () =>
    expectMeasured(STANDING, () => ({})));

  it.each([
    ['where something else is tapped', 'no-round-reference', { referencePx: [800, 100] }],
    ['when the coin is said to lean', 'round-not-on-table', { arrangement: 'card-leaning' }],
    [
      'when the rim is placed along a line',
      'no-round-reference',
      { rimPx: [100, 120, 140, 160, 180, 200].map((x) => [x, 50]) },
    ],
  ] as const)('is refused %s, with the way out', async (_, code, options) => {
    const result = await measure(await sample(STANDING), options as MeasureOptions);
    expect(result.outcome === 'refused' && result.reason.code).toBe(code);
  });
});
