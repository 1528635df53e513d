import { describe, expect, it } from 'vitest';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { liveOpenCvObjects } from '../../../vision/opencv/mat-scope.ts';
import { findCards } from '../../../vision/reference/find-card.ts';
import { ID1_CARD, parseReference } from '../../../vision/reference/reference.ts';
import { choose, cornerError, cv, errorOn, rad, TABLE } from './card-on-table.ts';
import { drawTable } from './draw-table.ts';
import { bankArt, card, chequeredCloth, DARK, NAVY, plain, SKIN, sheet, WHITE } from './surfaces.ts';

describe('findCards puts the corners within 0.3 % of the card width', () => {
  it.each([35])('when the card is turned by %i degrees', (turn) => {
    expect(errorOn({}, [card(bankArt(NAVY), { yawRad: rad(turn) })])).toBeLessThan(0.003);
  });

  it.each([40])('when it is seen %i degrees from square-on', (tilt) => {
    expect(errorOn({ tiltRad: rad(tilt), rollRad: rad(12) }, [card(bankArt(NAVY), { yawRad: 0.4 })])).toBeLessThan(
      0.003,
    );
  });

  it.each([['a bank card on a chequered cloth', chequeredCloth(8), bankArt(NAVY)]] as const)(
    'for %s',
    (_, ground, face) => {
      expect(errorOn({ ground }, [card(face, { yawRad: 0.5, xMm: 10, yMm: -6 })])).toBeLessThan(0.003);
    },
  );
});

describe('findCards puts the corners within 1 % of the card width', () => {
  it('when a finger hides one corner', () => {
    const finger = sheet(16, 60, 8, plain(SKIN), { xMm: 40, yMm: -42, yawRad: 0.5 });
    expect(errorOn({}, [card(bankArt(NAVY)), finger])).toBeLessThan(0.01);
  });
});

describe('cardInPhoto', () => {
  it.each([['a playing card', sheet(63.5, 88.9, 3.2, plain(WHITE), { yawRad: 0.3 })]])(
    'does not take %s for the card',
    (_, thing) => {
      const { photo } = drawTable({ ...TABLE, distanceMm: 380, things: [thing] });
      expect(choose(photo)).toEqual({ problem: 'no-card' });
    },
  );

  it('finds the card among other rectangles', () => {
    const others = [
      sheet(105, 74, 3.18, plain(WHITE), { xMm: -80, yMm: 60, yawRad: 0.2 }),
      sheet(63.5, 88.9, 3.2, plain(WHITE), { xMm: 85, yMm: 50, yawRad: -0.3 }),
      sheet(147, 71, 9, plain(DARK), { xMm: 20, yMm: -90, yawRad: 0.1 }),
    ];
    expect(errorOn({ distanceMm: 420 }, [card(bankArt(NAVY)), ...others])).toBeLessThan(0.005);
  });

  it.each([['a bare chequered cloth', chequeredCloth(12)]] as const)('reports no card on %s', (_, ground) => {
    const { photo } = drawTable({ ...TABLE, ground, things: [] });
    expect(choose(photo)).toEqual({ problem: 'no-card' });
  });

  it('says that the card is cut off when it runs out of the picture', () => {
    const { photo } = drawTable({ ...TABLE, things: [card(bankArt(NAVY), { xMm: 150, yawRad: 0.2 })] });
    expect(choose(photo)).toEqual({ problem: 'card-cut-off' });
  });

  it('says that the card is too small when a millimetre is hardly a pixel', () => {
    const { photo } = drawTable({
      ...TABLE,
      distanceMm: 650,
      ground: plain(DARK),
      things: [card(plain(WHITE), { yawRad: 0.2 })],
    });
    expect(choose(photo)).toEqual({ problem: 'card-too-small' });
  });

  it('finds a card seen from 70 degrees: whether it lies too flat to measure by is for the camera to tell', () => {
    const flat = { tiltRad: rad(70), distanceMm: 220 };
    expect(errorOn(flat, [card(bankArt(NAVY), { yawRad: 0.4 })])).toBeLessThan(0.01);
  });

  it('says that the picture is too dark when hardly any light is in it', () => {
    const { photo } = drawTable({ ...TABLE, things: [card(bankArt(NAVY))] });
    const dark = Uint8ClampedArray.from(photo.rgba, (level, i) => (i % 4 === 3 ? 255 : level * 0.02));
    expect(choose({ ...photo, rgba: dark })).toEqual({ problem: 'too-dark' });
  });
});

describe('findCards', () => {
  it('finds another reference when told its size', () => {
    const a6 = parseReference('A6');
    if (!a6) throw new Error('A6 is a known reference');
    const { photo, cornersPx } = drawTable({
      ...TABLE,
      distanceMm: 420,
      things: [sheet(148, 105, 0, plain(WHITE), { yawRad: 0.3, thicknessMm: 0.1 })],
    });
    expect(cornerError(photo, cornersPx[0], a6)).toBeLessThan(0.005);
  });

  it('takes a guess from elsewhere as one more candidate', () => {
    const { photo, cornersPx } = drawTable({ ...TABLE, things: [card(bankArt(NAVY))] });
    const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
    const shifted = cornersPx[0].map(([x, y]) => [x + 3, y - 2] as const) as unknown as CornersPx;
    const [best] = findCards(cv, photo, { focalPrior, reference: ID1_CARD, hint: { cornersPx: shifted } });
    expect(
      Math.hypot(best.card.cornersPx[0][0] - cornersPx[0][0][0], best.card.cornersPx[0][1] - cornersPx[0][0][1]),
    ).toBeLessThan(1);
  });

  it('leaves no OpenCV object behind', () => {
    const { photo } = drawTable({ ...TABLE, widthPx: 320, heightPx: 240, focalPx: 260, things: [card(bankArt(NAVY))] });
    const before = liveOpenCvObjects();
    for (let k = 0; k < 5; k++) choose(photo);
    expect(liveOpenCvObjects()).toBe(before);
  });
});
