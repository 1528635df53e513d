import { describe, expect, it } from 'vitest';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { printedFrame } from '../../../web/reference/printed-frame.ts';
import { nameOfRectangle, rectangleNamed, referenceNamed } from '../../../web/reference/reference-named.ts';

describe('the printed frame', () => {
  it('shrinks as the printer shrank the check line', () => {
    const reference = printedFrame(145.5);
    expect(reference?.widthMm).toBeCloseTo(ID1_CARD.widthMm * 0.97, 9);
    expect(reference?.thicknessMm).toBeLessThan(ID1_CARD.thicknessMm);
  });

  it('is trusted less than a card', () => {
    expect(printedFrame(150)?.relativeSd).toBeGreaterThan(ID1_CARD.relativeSd);
  });

  it('is taken for a misreading at a length that no printer makes', () => {
    expect(printedFrame(100)).toBeNull();
    expect(printedFrame(Number.NaN)).toBeNull();
  });

  it('comes back from its name with its corrected size', () => {
    const frame = printedFrame(148.5);
    expect(referenceNamed(frame?.name ?? '')).toEqual(frame);
  });
});

describe('a reference written down by name', () => {
  it('is found by the name of its standard or by its size', () => {
    expect(referenceNamed('A5')?.widthMm).toBe(210);
    expect(referenceNamed('120x80x2')).toMatchObject({ widthMm: 120, heightMm: 80, thicknessMm: 2 });
    expect(referenceNamed('a plate')).toBeNull();
  });

  it('of her own is named once both sides are possible, whichever is longer', () => {
    expect(nameOfRectangle({ longMm: 120, shortMm: null, thicknessMm: 2 })).toBeNull();
    expect(nameOfRectangle({ longMm: 120, shortMm: 3, thicknessMm: 2 })).toBeNull();
    const name = nameOfRectangle({ longMm: 120.5, shortMm: 80, thicknessMm: null });
    expect(rectangleNamed(name ?? '')).toEqual({ longMm: 120.5, shortMm: 80, thicknessMm: 0 });
    expect(rectangleNamed('A4')).toBeNull();
  });
});
