import { describe, expect, it } from 'vitest';
import { gaugeFromYarnCategory } from '../../sizing/gauge.ts';
import {
  categoryOfLength,
  categoryStitchWidthMm,
  heldMetresPer100g,
  YARN_CATEGORIES,
} from '../../sizing/yarn-standards.ts';

describe('Craft Yarn Council, Standard Yarn Weight System (2018 table as printed in a crochet magazine, Oct 2018, p. 64)', () => {
  it.each([
    [1, 'Super Fine', 21, 32, 2.25, 3.5],
    [2, 'Fine', 16, 20, 3.5, 4.5],
    [3, 'Light', 12, 17, 4.5, 5.5],
    [4, 'Medium', 11, 14, 5.5, 6.5],
    [5, 'Bulky', 8, 11, 6.5, 9],
    [6, 'Super Bulky', 6, 9, 9, 16],
  ])('category %i %s has %i-%i sc in 4 in and hooks of %f-%f mm', (number, name, fewest, most, finest, thickest) => {
    expect(YARN_CATEGORIES[number]).toMatchObject({
      number,
      name,
      stitchesPer4In: [fewest, most],
      hookMm: [finest, thickest],
    });
  });

  it('counts stitches over 4 in = 101.6 mm, not over 10 cm', () => {
    expect(categoryStitchWidthMm(YARN_CATEGORIES[3])).toBeCloseTo(101.6 / 14.5, 6);
  });
});

describe('Craft Yarn Council, wraps per inch (reprinted with source line)', () => {
  it.each([
    [1, 14, 30],
    [2, 12, 18],
    [3, 11, 15],
    [4, 9, 12],
    [5, 6, 9],
    [6, 5, 6],
    [7, 1, 4],
  ])('category %i wraps %i to %i times in an inch', (number, fewest, most) => {
    expect(YARN_CATEGORIES[number].wrapsPerInch).toEqual([fewest, most]);
  });
});

describe('strands held together', () => {
  it.each([
    [800, 2, 400],
    [400, 2, 200],
    [300, 2, 150],
    [600, 2, 300],
    [600, 3, 200],
    [600, 4, 150],
    [600, 5, 120],
  ])('%i m per 100 g, %i strands: %i m (published strand tables, exact)', (metres, strands, expected) => {
    expect(heldMetresPer100g(metres, strands)).toBe(expected);
  });

  it('makes two strands of sport a worsted (rule quoted from a yarn company)', () => {
    expect(categoryOfLength(heldMetresPer100g(300, 2)).name).toBe('Medium');
    expect(categoryOfLength(heldMetresPer100g(300, 1)).name).toBe('Fine');
  });
});

describe('a gauge guessed from the category alone', () => {
  it.each([1, 2, 3, 4, 5, 6])('is marked a guess and its 95 %% interval covers the band of category %i', (number) => {
    const gauge = gaugeFromYarnCategory(number, { hookMm: middleHook(number) });
    const [fewest, most] = YARN_CATEGORIES[number].stitchesPer4In;
    const { value, sd } = gauge.stitchWidthMm;
    expect(gauge.origin).toBe('guess');
    expect(value - 2 * sd).toBeLessThan(101.6 / most);
    expect(value + 2 * sd).toBeGreaterThan(101.6 / fewest);
  });

  it('finds 16 stitches on 10 cm for light cotton on a 4 mm hook (yarn-company leaflet) within its uncertainty', () => {
    const { value, sd } = gaugeFromYarnCategory(3, { hookMm: 4 }).stitchWidthMm;
    expect(Math.abs(value - 100 / 16)).toBeLessThan(sd);
  });
});

function middleHook(number: number): number {
  const [finest, thickest] = YARN_CATEGORIES[number].hookMm;
  return (finest + thickest) / 2;
}
