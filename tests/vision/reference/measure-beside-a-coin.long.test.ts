import { describe, it } from 'vitest';
import { expectMeasured, LYING, middleOf, type Sample, STANDING } from './coin-samples.ts';

describe('a sample photo of a container beside a coin', () => {
  it.each([
    ['the coin found, lying', LYING, () => ({})],
    ['the coin tapped', STANDING, ({ rimPx }: Sample) => ({ referencePx: middleOf(rimPx) })],
    ['the rim placed by hand', STANDING, ({ rimPx }: Sample) => ({ rimPx })],
  ] as const)('is measured within its interval with %s, and says by what', (_, name, options) =>
    expectMeasured(name, options),
  );
});
