import { describe, expect, test } from 'vitest';
import { estimate } from '../../../vision/estimate.ts';
import { lengthText, tapeText, volumeText } from '../../../web/text/estimate-text.ts';

const metric = { language: 'en', units: 'cm' } as const;
const imperial = { language: 'en', units: 'in' } as const;

describe('a length with its ±', () => {
  test('shows tenths of a mm and half the 95 % interval', () => {
    expect(lengthText(estimate(84.31, 0.3), metric)).toBe('84.3 ± 0.6 mm');
  });

  test('never prints the ± smaller than it is', () => {
    expect(lengthText(estimate(84.31, 0.31), metric)).toBe('84.3 ± 0.7 mm');
    expect(lengthText(estimate(84.31, 0.001), metric)).toBe('84.3 ± 0.1 mm');
  });

  test('drops tenths that mean nothing', () => {
    expect(lengthText(estimate(213.4, 1.6), metric)).toBe('213 ± 4 mm');
  });

  test('uses the decimal comma in German', () => {
    expect(lengthText(estimate(84.31, 0.3), { language: 'de', units: 'cm' })).toBe('84,3 ± 0,6 mm');
  });

  test('an inch is 25.4 mm exactly (international yard and pound agreement, 1959)', () => {
    expect(lengthText(estimate(76.2, 0.2), imperial)).toBe('3.00 ± 0.02 in');
  });

  test('a lopsided interval counts with its wider side', () => {
    expect(lengthText({ value: 70, sd: 0.5, low95: 68, high95: 70.9 }, metric)).toBe('70 ± 2 mm');
  });
});

test('volume is given in ml or US fluid ounces (29.5735 ml)', () => {
  expect(volumeText(estimate(591.47, 6), metric)).toBe('591 ± 12 ml');
  expect(volumeText(estimate(591.47, 6), imperial)).toBe('20.0 ± 0.4 fl oz');
});

test('a tape is read to half a centimetre or a quarter of an inch', () => {
  expect(tapeText(231, { language: 'de', units: 'cm' })).toBe('23 cm');
  expect(tapeText(233, { language: 'de', units: 'cm' })).toBe('23,5 cm');
  expect(tapeText(231, { language: 'en', units: 'in' })).toBe('9 in');
});
