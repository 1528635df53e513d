import { describe, expect, it } from 'vitest';
import { parseRoundReference } from '../../../vision/reference/round-reference.ts';

describe('round references', () => {
  it.each([
    ['2 euro', 25.75, 'European Central Bank'],
    ['1 euro', 23.25, 'European Central Bank'],
    ['50 cent', 24.25, 'European Central Bank'],
    ['1 cent', 16.25, 'European Central Bank'],
    ['US quarter', 24.26, 'United States Mint'],
    ['US cent', 19.05, 'United States Mint'],
    ['US dime', 17.91, 'United States Mint'],
    ['optical disc', 120, 'ISO/IEC 10149 = ECMA-130'],
  ])('%s is %f mm across (%s)', (name, diameterMm) => {
    expect(parseRoundReference(name)?.diameterMm).toBe(diameterMm);
  });

  it('takes sizes in mm', () => {
    expect(parseRoundReference('d60x1.5')).toMatchObject({ diameterMm: 60, thicknessMm: 1.5 });
    expect(parseRoundReference('D42')).toMatchObject({ diameterMm: 42, thicknessMm: 0 });
  });

  it('refuses what is neither a name nor a sensible size', () => {
    for (const text of ['', 'coin', 'd5', 'd900', '60']) expect(parseRoundReference(text)).toBeNull();
  });
});
