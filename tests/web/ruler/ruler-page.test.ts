import { describe, expect, it } from 'vitest';
import { ID1_CARD } from '../../../vision/reference.ts';
import { CHECK_LENGTH_MM, printedReference, rulerPage } from '../../../web/ruler/ruler-page.ts';
import { ruler as german } from '../../../web/text/de/ruler.ts';

describe('the page to print', () => {
  it('is A4 (ISO 216) or Letter in true mm, with a frame of ID-1 size (ISO/IEC 7810)', () => {
    expect(rulerPage('A4')).toContain('width="210mm" height="297mm" viewBox="0 0 210 297"');
    expect(rulerPage('Letter')).toContain('width="215.9mm" height="279.4mm"');
    expect(rulerPage('A4')).toContain('width="85.6" height="53.98" rx="3.18"');
  });

  it('draws the check line 150 mm long and asks for its length', () => {
    expect(rulerPage('A4')).toContain(`h${CHECK_LENGTH_MM}`);
    expect(rulerPage('A4', german)).toContain('Prüfstrecke');
  });
});

describe('printedReference', () => {
  it('shrinks the frame as the printer shrank the check line', () => {
    const reference = printedReference(145.5);
    expect(reference?.widthMm).toBeCloseTo(ID1_CARD.widthMm * 0.97, 9);
    expect(reference?.thicknessMm).toBeLessThan(ID1_CARD.thicknessMm);
  });

  it('trusts the print less than a card', () => {
    expect(printedReference(150)?.relativeSd).toBeGreaterThan(ID1_CARD.relativeSd);
  });

  it('takes a length that no printer makes for a misreading', () => {
    expect(printedReference(100)).toBeNull();
    expect(printedReference(Number.NaN)).toBeNull();
  });
});
