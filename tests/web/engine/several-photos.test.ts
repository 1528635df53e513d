import { describe, expect, test } from 'vitest';
import { estimate } from '../../../vision/estimate.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { agreementOf, combinedMeasurement } from '../../../web/engine/several-photos.ts';
import { measuredResult } from '../../support/measured-result.ts';

const { measurement } = measuredResult;
const withWidest = (value: number, sd: number) => ({ ...measurement, maxDiameterMm: estimate(value, sd) });

describe('several photos of one container', () => {
  test('one photo stays as it is', () => {
    expect(combinedMeasurement([measurement])).toBe(measurement);
  });

  test('two equally sure photos meet in the middle, sd smaller by the square root of two', () => {
    const { maxDiameterMm } = combinedMeasurement([withWidest(72, 0.4), withWidest(72.4, 0.4)]);
    expect(maxDiameterMm.value).toBeCloseTo(72.2, 9);
    expect(maxDiameterMm.sd).toBeCloseTo(0.4 / Math.SQRT2, 9);
  });

  test('a surer photo weighs more: weights are 1/sd²', () => {
    const { maxDiameterMm } = combinedMeasurement([withWidest(70, 0.2), withWidest(71, 0.4)]);
    expect(maxDiameterMm.value).toBeCloseTo((70 * 4 + 71) / 5, 9);
  });

  test('photos that disagree make the sd wider, not smaller', () => {
    const { maxDiameterMm } = combinedMeasurement([withWidest(70, 0.3), withWidest(74, 0.3)]);
    expect(maxDiameterMm.sd).toBeGreaterThan(0.3);
    expect(maxDiameterMm.low95).toBeLessThan(71);
    expect(maxDiameterMm.high95).toBeGreaterThan(73);
  });

  test('a photo of another container is named and does not count', () => {
    const photos = [withWidest(72, 0.3), withWidest(94, 0.4), withWidest(72.3, 0.3)];
    expect(agreementOf(photos).leftOut).toEqual([1]);
    expect(combinedMeasurement(photos).maxDiameterMm.value).toBeCloseTo(72.15, 9);
  });

  test('of two that disagree nobody knows which is wrong: both count', () => {
    const { leftOut, probability } = agreementOf([withWidest(72, 0.3), withWidest(94, 0.4)]);
    expect(leftOut).toEqual([]);
    expect(probability).toBeLessThan(0.01);
  });

  test('no number of photos goes below the tolerance of the card', () => {
    const many = Array.from({ length: 400 }, () => withWidest(72, 0.3));
    expect(combinedMeasurement(many).maxDiameterMm.sd).toBeCloseTo(72 * ID1_CARD.relativeSd, 9);
  });

  test('a base hidden in one photo comes from the other', () => {
    const hidden = { ...measurement, baseDiameterMm: null };
    expect(combinedMeasurement([hidden, measurement]).baseDiameterMm?.value).toBeCloseTo(70, 9);
    expect(combinedMeasurement([hidden, hidden]).baseDiameterMm).toBeNull();
  });

  test('the profile follows the combined sizes', () => {
    const combined = combinedMeasurement([withWidest(72, 0.2), withWidest(72.4, 0.2)]);
    const widestMm = 2 * Math.max(...combined.profile.map((point) => point.radiusMm));
    expect(widestMm).toBeCloseTo(72.2, 9);
  });
});
