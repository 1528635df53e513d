import { describe, expect, test } from 'vitest';
import { rulerRangeText, rulerText, timeText, valueText } from '../../../web/text/estimate-text.ts';
import { numberToType, typedLengthMm, typedNumber } from '../../../web/ui/typed-number.ts';

describe('a number as it is typed', () => {
  test('may have a comma, a point or a fraction', () => {
    expect(['84,3', '84.3', '3 1/4', '3/8', ' 12 '].map(typedNumber)).toEqual([84.3, 84.3, 3.25, 0.375, 12]);
  });

  test('is nothing when nothing is typed, and no number when it is none', () => {
    expect(typedNumber('  ')).toBeNull();
    for (const text of ['abc', '1/0', '3 mm', '1.2.3', '-5']) expect(typedNumber(text)).toBeNaN();
  });

  test('as a length takes the unit of its field, or its own', () => {
    expect(typedLengthMm('26,4', 'cm')).toBeCloseTo(264, 10);
    expect(typedLengthMm('26.4 cm', 'mm')).toBeCloseTo(264, 10);
    expect(typedLengthMm('10 1/4 in', 'mm')).toBeCloseTo(260.35, 10);
    expect(typedLengthMm('4"', 'cm')).toBeCloseTo(101.6, 10);
    expect(typedLengthMm('cm', 'cm')).toBeNaN();
  });

  test('is shown ready to be typed over', () => {
    expect(numberToType(1234.5, 2, 'de')).toBe('1234,5');
    expect(numberToType(null, 2, 'en')).toBe('');
  });
});

describe('a length for a ruler', () => {
  const inches = { language: 'en', units: 'in' } as const;
  const metric = { language: 'en', units: 'cm' } as const;

  test('is in whole mm or sixteenths of an inch, reduced', () => {
    expect(rulerText(66.4, metric)).toBe('66 mm');
    expect([50.8, 54, 55.6, 22.2].map((mm) => rulerText(mm, inches))).toEqual([
      '2 in',
      '2 1/8 in',
      '2 3/16 in',
      '7/8 in',
    ]);
  });

  test('says its unit once in a range', () => {
    expect(rulerRangeText([53.2, 61], metric)).toBe('53–61 mm');
    expect(rulerRangeText([50.8, 57.15], inches)).toBe('2–2 1/4 in');
  });

  test('is in cm from half a metre on', () => {
    expect(rulerText(1193, metric)).toBe('119 cm');
  });
});

test('a value without its ± shows the same digits as with it', () => {
  expect(valueText({ value: 72.46, sd: 1.2 }, { language: 'en', units: 'cm' })).toBe('72 mm');
});

test('time is said to five minutes', () => {
  expect([3, 54, 62, 120].map(timeText)).toEqual(['5 min', '55 min', '1 h', '2 h']);
});
