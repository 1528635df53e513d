import { describe, expect, test } from 'vitest';
import { NO_EDITS } from '../../../web/app/app-state.ts';
import { measureOptions } from '../../../web/engine/measure-options.ts';
import { measuredResult } from '../../support/measured-result.ts';

describe('what the engine is told', () => {
  test('nothing when the maker said nothing: everything is found in the photo', () => {
    expect(measureOptions(NO_EDITS, null)).toEqual({});
  });

  test('only what the maker placed, to be laid onto the edges nearby, so that the rest is found anew', () => {
    const cornersPx = measuredResult.measurement.card.cornersPx;
    expect(measureOptions({ ...NO_EDITS, cornersPx }, null)).toEqual({ cornersPx, snapCorners: true });
  });

  test('while dragging, what was found before as well, so that no pixel is looked at', () => {
    const { card, outlinePx, arrangement } = measuredResult.measurement;
    expect(measureOptions(NO_EDITS, measuredResult)).toEqual({ cornersPx: card.cornersPx, outlinePx, arrangement });
  });

  test('a coin or disc by name becomes its diameter', () => {
    expect(measureOptions({ ...NO_EDITS, reference: '2 euro' }, null).reference).toMatchObject({ diameterMm: 25.75 });
  });

  test('a reference by name becomes its size', () => {
    expect(measureOptions({ ...NO_EDITS, reference: 'A5' }, null).reference).toMatchObject({
      widthMm: 210,
      heightMm: 148,
    });
  });

  test('the base of a container lying down stays where it was seen once card and outline are placed', () => {
    const { card, outlinePx, axisPx } = measuredResult.measurement;
    const lying = { ...measuredResult, measurement: { ...measuredResult.measurement, arrangement: 'lying' as const } };
    const placed = { ...NO_EDITS, cornersPx: card.cornersPx, outlinePx };
    expect(measureOptions(placed, null, lying).baseNearPx).toEqual(axisPx[0]);
    expect(measureOptions({ ...placed, basePx: axisPx[1] }, null, lying).baseNearPx).toEqual(axisPx[1]);
    expect(measureOptions({ ...placed, outlinePx: null }, null, lying).baseNearPx).toBeUndefined();
  });

  test('a point inside the container counts only while the outline is not placed', () => {
    const outlinePx = measuredResult.measurement.outlinePx;
    expect(measureOptions({ ...NO_EDITS, tapPx: [5, 6] }, null)).toEqual({ tapPx: [5, 6] });
    expect(measureOptions({ ...NO_EDITS, tapPx: [5, 6], outlinePx }, null)).toEqual({ outlinePx });
  });
});
