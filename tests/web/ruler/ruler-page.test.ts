import { describe, expect, it } from 'vitest';
import { CHECK_LENGTH_MM } from '../../../web/reference/printed-frame.ts';
import { rulerPage } from '../../../web/ruler/ruler-page.ts';
import { ruler as german } from '../../../web/text/de/ruler.ts';
import { ruler as english } from '../../../web/text/en/ruler.ts';

describe('the page to print', () => {
  it('is A4 (ISO 216) or Letter in true mm, with a frame of ID-1 size (ISO/IEC 7810)', () => {
    expect(rulerPage('A4', english.sheet)).toContain('width="210mm" height="297mm" viewBox="0 0 210 297"');
    expect(rulerPage('Letter', english.sheet)).toContain('width="215.9mm" height="279.4mm"');
    expect(rulerPage('A4', english.sheet)).toContain('width="85.6" height="53.98" rx="3.18"');
  });

  it('draws the check line 150 mm long and asks for its length', () => {
    expect(rulerPage('A4', english.sheet)).toContain(`h${CHECK_LENGTH_MM}`);
    expect(rulerPage('A4', german.sheet)).toContain('Prüfstrecke');
  });
});
