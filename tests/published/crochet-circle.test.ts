import { describe, expect, it } from 'vitest';
import { coneHalfAngleRad, flatIncreases, flatShape } from '../../sizing/base/flat-circle.ts';

describe('flat circles', () => {
  it('with rounds as high as stitches are wide, rounds hold 6, 13, 19 stitches (published from C = 2 pi r)', () => {
    const perRound = flatIncreases(1, 1);
    expect([1, 2, 3].map((round) => Math.round(round * perRound))).toEqual([6, 13, 19]);
  });

  // Derived from k = 2 pi h / w; the h/w of 0.8, 0.9, 1.25 and 1.6 are leaflet gauges.
  it.each([
    [0.8, 5.03],
    [0.9, 5.65],
    [1.0, 6.28],
    [1.19, 7.48],
    [1.25, 7.85],
    [1.6, 10.05],
    [2.0, 12.57],
  ])('h/w %f lies flat with %f increases a round', (ratio, increases) => {
    expect(flatIncreases(ratio, 1)).toBeCloseTo(increases, 1);
    expect(Math.abs(flatIncreases(ratio, 1) - increases)).toBeLessThan(0.01);
  });

  // One maker's published series: 6 rounds of single crochet, worsted yarn, 3.75 mm hook, flat at about 7.5 a round.
  it.each([
    [4, 'cone'],
    [5, 'cupped'],
    [6, 'cupped'],
    [7, 'flat'],
    [8, 'flat'],
    [9, 'ruffle onset'],
    [10, 'ruffle'],
  ])('%i increases where 7.5 are flat look: %s', (increases, shape) => {
    expect(flatShape(increases / 7.5)).toBe(shape);
  });

  it('a disc with four fifths of its stitches is a cone of 53 degrees half angle (derived)', () => {
    expect((coneHalfAngleRad(0.8) * 180) / Math.PI).toBeCloseTo(53.13, 2);
  });
});
