import * as v from 'valibot';
import { describe, expect, test } from 'vitest';
import { containerFromTape } from '../../../sizing/container.ts';
import { type FinishedCarrier, FinishedCarrierSchema } from '../../../web/stall/finished-carrier.ts';
import { stockFit } from '../../../web/stall/which-fits.ts';

const bottle = (diameterMm: number, heightMm = 200) => containerFromTape({ diameterMm, heightMm, sdMm: 0.3 });

const carrier: FinishedCarrier = {
  kind: 'net',
  madeFor: { baseDiameterMm: 70, widestMm: 70, heightMm: 200 },
  coverHeightMm: 150,
  holds: [0.94, 1.08],
  relativeSd: 0.04,
  colour: null,
  price: null,
  strapMm: null,
  reservedFor: '',
};

describe('a finished carrier', () => {
  test('fits the container it was made for and tried on', () => {
    expect(stockFit(carrier, bottle(70)).probability).toBeGreaterThan(0.9);
  });

  test('fits less and less likely the more the container differs, either way', () => {
    const chance = (diameterMm: number) => stockFit(carrier, bottle(diameterMm)).probability;
    for (const [nearer, farther] of [
      [70, 72],
      [72, 75],
      [75, 80],
      [70, 68],
      [68, 65],
      [65, 60],
    ]) {
      expect(chance(farther)).toBeLessThan(chance(nearer));
    }
    expect(chance(90)).toBeLessThan(0.01);
  });

  test('says whether the risk is too tight or too loose', () => {
    expect(stockFit(carrier, bottle(76)).risk).toBe('tight');
    expect(stockFit(carrier, bottle(65)).risk).toBe('loose');
  });

  test('whose size is known exactly fits just while the container is within its limits', () => {
    const exact = { ...carrier, relativeSd: 0 };
    const sure = (diameterMm: number) => ({ ...bottle(diameterMm), ...exactly(diameterMm) });
    expect(stockFit(exact, sure(70 * 1.079)).probability).toBeCloseTo(1, 3);
    expect(stockFit(exact, sure(70 * 1.081)).probability).toBeCloseTo(0, 3);
  });

  test('does not go with a container so tall that it may tip out, or so low that it is covered', () => {
    expect(stockFit(carrier, bottle(70, 300))).toMatchObject({ probability: 0, risk: 'tips' });
    expect(stockFit(carrier, bottle(70, 150))).toMatchObject({ probability: 0, risk: 'covers' });
  });

  test('is judged by the widest place alone where the base was not seen', () => {
    const unseen = { ...bottle(70), baseDiameterMm: { value: 55, sd: 10 } };
    expect(stockFit(carrier, unseen).probability).toBeCloseTo(stockFit(carrier, bottle(70)).probability, 6);
  });

  test('must suit base and widest place alike', () => {
    const flared = { ...bottle(70), maxDiameterMm: { value: 78, sd: 0.3 } };
    expect(stockFit(carrier, flared).probability).toBeLessThan(stockFit(carrier, bottle(70)).probability);
  });
});

test('what is kept of a carrier is read as it was, and what holds nothing not at all', () => {
  expect(v.parse(FinishedCarrierSchema, JSON.parse(JSON.stringify(carrier)))).toEqual(carrier);
  expect(v.is(FinishedCarrierSchema, { ...carrier, holds: [0, 1] })).toBe(false);
});

function exactly(diameterMm: number) {
  return { maxDiameterMm: { value: diameterMm, sd: 0 }, baseDiameterMm: { value: diameterMm, sd: 0 } };
}
