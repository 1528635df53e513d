import { describe, expect, test } from 'vitest';
import { type Container, containerFromTape } from '../../../sizing/container.ts';
import { stallAnswer, stallAnswers } from '../../../web/stall/answer.ts';
import type { FinishedCarrier } from '../../../web/stall/finished-carrier.ts';

/** A net for a 70 mm bottle that holds 65.8 to 75.6 mm. */
const net: FinishedCarrier = {
  kind: 'net',
  madeFor: { baseDiameterMm: 70, widestMm: 70, heightMm: 200 },
  coverHeightMm: 150,
  holds: [0.94, 1.08],
  relativeSd: 0.01,
  colour: null,
  price: null,
  strapMm: null,
  reservedFor: '',
};

const taped = (diameterMm: number, heightMm = 200) => containerFromTape({ diameterMm, heightMm, sdMm: 0.4 });
/** As from a poor photo: across known to so many mm (1 sd). */
const snapped = (diameterMm: number, sd: number): Container => ({
  ...taped(diameterMm),
  maxDiameterMm: { value: diameterMm, sd },
  baseDiameterMm: { value: diameterMm, sd },
});

describe('at the stall a finished net for 70 mm', () => {
  test('fits the bottle it was made for, easily', () => {
    expect(stallAnswer(net, taped(70))).toMatchObject({ verdict: 'fits', sits: 'easy' });
  });

  test('fits near the ends of what it holds, and says how', () => {
    expect(stallAnswer(net, taped(73.9))).toMatchObject({ verdict: 'fits', sits: 'snug' });
    expect(stallAnswer(net, taped(67.3))).toMatchObject({ verdict: 'fits', sits: 'a-little-loose' });
  });

  test('asks for one measure with the tape where the photo leaves it open, and names the girths that fit', () => {
    const answer = stallAnswer(net, snapped(75, 3));
    expect(answer.verdict).toBe('measure-once');
    const [from, to] = answer.fitsAroundMm as readonly [number, number];
    expect(from).toBeGreaterThan(Math.PI * 65.8);
    expect(to).toBeLessThan(Math.PI * 75.6);
    expect(to - from).toBeGreaterThan(Math.PI * 5);
  });

  test('is to be tried on where its own size leaves it open', () => {
    expect(stallAnswer({ ...net, relativeSd: 0.05 }, taped(74.5)).verdict).toBe('try-on');
  });

  test('nearly fits a bottle just beyond what it holds, and says what would have to give', () => {
    expect(stallAnswer(net, taped(78.5))).toMatchObject({ verdict: 'nearly', fit: { risk: 'tight' } });
    expect(stallAnswer(net, taped(63.5))).toMatchObject({ verdict: 'nearly', fit: { risk: 'loose' } });
    expect(stallAnswer(net, taped(70, 320))).toMatchObject({ verdict: 'nearly', fit: { risk: 'tips' } });
  });

  test('is not for a mug', () => {
    expect(stallAnswer(net, taped(95)).verdict).toBe('no');
  });
});

test('the girths that fit for sure are those for which the answer is yes', () => {
  const [from, to] = stallAnswer(net, taped(70)).fitsAroundMm as readonly [number, number];
  for (const girthMm of [from, (from + to) / 2, to]) {
    const acrossMm = girthMm / Math.PI;
    const bottle = containerFromTape({ diameterMm: acrossMm, heightMm: 200, sdMm: 1.5 / Math.PI });
    expect(stallAnswer(net, bottle).verdict).toBe('fits');
  }
});

test('five hundred pieces are ordered with what fits first', () => {
  const items = Array.from({ length: 500 }, (_, index) => {
    const widestMm = 40 + (index % 80);
    return { carrier: { ...net, madeFor: { ...net.madeFor, widestMm, baseDiameterMm: widestMm } } };
  });
  const answers = stallAnswers(items, taped(70));
  const verdicts = answers.map(({ answer }) => answer.verdict);
  expect(answers).toHaveLength(500);
  expect(verdicts[0]).toBe('fits');
  expect(verdicts.lastIndexOf('fits')).toBeLessThan(verdicts.indexOf('no'));
});
