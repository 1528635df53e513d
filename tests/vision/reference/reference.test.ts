import { describe, expect, it } from 'vitest';
import { ID1_CARD, parseReference, REFERENCES } from '../../../vision/reference/reference.ts';

describe('reference sizes', () => {
  it.each([
    ['ID-1', 85.6, 53.98, 'ISO/IEC 7810'],
    ['ID-2', 105, 74, 'ISO/IEC 7810'],
    ['ID-3', 125, 88, 'ISO/IEC 7810'],
    ['A4', 297, 210, 'ISO 216'],
    ['A5', 210, 148, 'ISO 216'],
    ['A6', 148, 105, 'ISO 216'],
    ['US Letter', 279.4, 215.9, 'ANSI/ASME Y14.1, from memory'],
  ])('%s is %f × %f mm (%s)', (name, widthMm, heightMm) => {
    expect(REFERENCES.find((reference) => reference.name === name)).toMatchObject({ widthMm, heightMm });
  });

  it('gives an ID-1 card its corner radius of 3.18 mm and thickness of 0.76 mm (ISO/IEC 7810)', () => {
    expect(ID1_CARD).toMatchObject({ cornerRadiusMm: 3.18, thicknessMm: 0.76 });
  });

  it('trusts a card several times more than a sheet of paper', () => {
    const a4 = parseReference('A4');
    expect(a4?.relativeSd).toBeGreaterThan(3 * ID1_CARD.relativeSd);
  });
});

describe('parseReference', () => {
  it('takes names in any case', () => {
    expect(parseReference('id-1')).toBe(ID1_CARD);
    expect(parseReference('us letter')?.widthMm).toBe(279.4);
  });

  it('takes width × height × thickness in mm, the longer side first', () => {
    expect(parseReference('210x297x0.1')).toMatchObject({ widthMm: 297, heightMm: 210, thicknessMm: 0.1 });
    expect(parseReference('100 × 60')).toMatchObject({ widthMm: 100, heightMm: 60, thicknessMm: 0 });
  });

  it('refuses what is neither a name nor a sensible size', () => {
    for (const text of ['', 'card', '10x10', '5000x200', '85.6x53.98x90', '85,6x53,98']) {
      expect(parseReference(text)).toBeNull();
    }
  });
});
