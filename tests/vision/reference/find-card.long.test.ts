import { describe, expect, it } from 'vitest';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { choose, cornerError, errorOn, rad, strayed, TABLE } from './card-on-table.ts';
import { drawTable, type Light, type Surface } from './draw-table.ts';
import {
  bankArt,
  card,
  chequeredCloth,
  cuttingMat,
  DARK,
  NAVY,
  plain,
  SKIN,
  sheet,
  stripes,
  WHITE,
  wood,
} from './surfaces.ts';

describe('findCards puts the corners within 0.3 % of the card width', () => {
  it.each([0, 90, 140, 200, 315])('when the card is turned by %i degrees', (turn) => {
    expect(errorOn({}, [card(bankArt(NAVY), { yawRad: rad(turn) })])).toBeLessThan(0.003);
  });

  it.each([0, 20, 60])('when it is seen %i degrees from square-on', (tilt) => {
    expect(errorOn({ tiltRad: rad(tilt), rollRad: rad(12) }, [card(bankArt(NAVY), { yawRad: 0.4 })])).toBeLessThan(
      0.003,
    );
  });

  it.each([
    ['a white card on a white desk', plain(WHITE), plain([0.62, 0.61, 0.6])],
    ['a dark card on a dark desk', plain(DARK), plain([0.1, 0.1, 0.12])],
    ['a white card on a chequered cloth', chequeredCloth(12), plain([0.62, 0.61, 0.6])],
    ['a white card on a cutting mat', cuttingMat(), plain(WHITE)],
    ['a dark card on a cutting mat', cuttingMat(), plain(DARK)],
    ['striped art on wood', wood(), stripes(6)],
  ] as const)('for %s', (_, ground, face) => {
    expect(errorOn({ ground }, [card(face, { yawRad: 0.5, xMm: 10, yMm: -6 })])).toBeLessThan(0.003);
  });

  it('when nothing is known about the lens', () => {
    const { photo, cornersPx } = drawTable({ ...TABLE, things: [card(bankArt(NAVY), { yawRad: 0.3 })] });
    const unknown = { ...photo, lens: { focal35Mm: null, looksCropped: false } };
    expect(cornerError(unknown, cornersPx[0])).toBeLessThan(0.003);
  });

  it('when nothing is known about the lens and it is a long one', () => {
    const scene = { ...TABLE, focalPx: 2000, distanceMm: 780, tiltRad: rad(40) };
    const { photo, cornersPx } = drawTable({ ...scene, things: [card(bankArt(NAVY), { yawRad: 0.3 })] });
    const unknown = { ...photo, lens: { focal35Mm: null, looksCropped: false } };
    expect(cornerError(unknown, cornersPx[0])).toBeLessThan(0.003);
  });

  it.each([
    ['three grey levels brighter than the table', [0.5, 0.5, 0.48], [0.52, 0.52, 0.5]],
    ['of a hardly different hue', [0.4, 0.4, 0.4], [0.42, 0.39, 0.39]],
  ] as const)('of a card %s, with a guess that is far off at one corner', (_, ground, face) => {
    const faint = card(plain(face), { yawRad: 0.4, edge: ground });
    const { photo, cornersPx } = drawTable({ ...TABLE, ground: plain(ground), things: [faint] });
    const hint = { cornersPx: strayed(cornersPx[0], [3, 3, 30, 3]) };
    expect(cornerError(photo, cornersPx[0], ID1_CARD, hint)).toBeLessThan(0.003);
  });
});

describe('findCards puts the corners within 1 % of the card width', () => {
  it('when the card is only 130 px wide', () => {
    expect(errorOn({ distanceMm: 470 }, [card(bankArt(NAVY), { yawRad: 0.4 })])).toBeLessThan(0.01);
  });

  it('when a finger hides one corner and a guess is far off there', () => {
    const finger = sheet(16, 60, 8, plain(SKIN), { xMm: 40, yMm: -42, yawRad: 0.5 });
    const { photo, cornersPx } = drawTable({ ...TABLE, things: [card(bankArt(NAVY)), finger] });
    const hint = { cornersPx: strayed(cornersPx[0], [2, 3, 40, 2]) };
    expect(cornerError(photo, cornersPx[0], ID1_CARD, hint)).toBeLessThan(0.01);
  });

  it('when a stripe is printed beside a border that is hardly seen', () => {
    const ground: Light = [0.6, 0.59, 0.57];
    const face: Surface = (_, y) => (y > 12 && y < 22 ? [0.15, 0.3, 0.2] : [0.63, 0.62, 0.6]);
    const faint = card(face, { yawRad: 0.4, edge: ground });
    const { photo, cornersPx } = drawTable({ ...TABLE, ground: plain(ground), things: [faint] });
    const hint = { cornersPx: strayed(cornersPx[0], [5, 5, 3, 3]) };
    expect(cornerError(photo, cornersPx[0], ID1_CARD, hint)).toBeLessThan(0.01);
  });

  it('when a lamp is mirrored across one edge', () => {
    const glare = (x: number, y: number): [number, number, number] => {
      const light = 0.9 * Math.exp(-(((x - 25) / 14) ** 2) - ((y - 26) / 9) ** 2);
      return [light, light, light];
    };
    expect(errorOn({ glare }, [card(bankArt(NAVY))])).toBeLessThan(0.01);
  });
});

describe('cardInPhoto', () => {
  it.each([
    ['an ID-2 card', sheet(105, 74, 3.18, bankArt(NAVY), { yawRad: 0.3 })],
    ['a sheet of A6', sheet(148, 105, 0, plain(WHITE), { yawRad: 0.3 })],
    ['a phone', sheet(147, 71, 9, plain(DARK), { yawRad: 0.3 })],
    ['a sharp-cornered label of card size', sheet(85.6, 53.98, 0, plain(WHITE), { yawRad: 0.3 })],
  ])('does not take %s for the card', (_, thing) => {
    const { photo } = drawTable({ ...TABLE, distanceMm: 380, things: [thing] });
    expect(choose(photo)).toEqual({ problem: 'no-card' });
  });

  it.each([
    ['a bare cutting mat', cuttingMat()],
    ['bare wood', wood()],
  ] as const)('reports no card on %s', (_, ground) => {
    const { photo } = drawTable({ ...TABLE, ground, things: [] });
    expect(choose(photo)).toEqual({ problem: 'no-card' });
  });

  it('says that glare hides an edge when a lamp makes a whole side as bright as the table', () => {
    const glare = (x: number, y: number): [number, number, number] => {
      const light = 3 * Math.exp(-((x / 70) ** 4) - ((y - 27) / 7) ** 2);
      return [light, light, light];
    };
    const { photo } = drawTable({ ...TABLE, ground: plain([1, 1, 1]), glare, things: [card(bankArt(NAVY))] });
    expect(choose(photo)).toEqual({ problem: 'glare-on-card-edge' });
  });

  it.each([
    ['an ID-2 card', sheet(105, 74, 3.18, bankArt(NAVY), { yawRad: 0.3 })],
    ['a playing card', sheet(63.5, 88.9, 3.2, plain(WHITE), { yawRad: 0.3 })],
    ['a sharp-cornered label of card size', sheet(85.6, 53.98, 0, plain(WHITE), { yawRad: 0.3 })],
  ])('does not take %s for the card although a guess points at it', (_, thing) => {
    const { photo, cornersPx } = drawTable({ ...TABLE, things: [thing] });
    expect(choose(photo, ID1_CARD, { cornersPx: cornersPx[0] })).toHaveProperty('problem');
    const oneCornerOff = strayed(cornersPx[0], [0, 0, 40, 0]);
    expect(choose(photo, ID1_CARD, { cornersPx: oneCornerOff })).toHaveProperty('problem');
  });

  it('does not take a playing card for the card although a finger hides one corner', () => {
    const finger = sheet(16, 60, 8, plain(SKIN), { xMm: 40, yMm: -42, yawRad: 0.5 });
    const playing = sheet(88.9, 63.5, 3.2, plain(WHITE));
    const { photo, cornersPx } = drawTable({ ...TABLE, things: [playing, finger] });
    const hint = { cornersPx: strayed(cornersPx[0], [2, 3, 40, 2]) };
    expect(choose(photo, ID1_CARD, hint)).toHaveProperty('problem');
  });

  it('reports no card on a bare table although a guess points there', () => {
    const { photo, cornersPx } = drawTable({ ...TABLE, ground: plain([0.5, 0.5, 0.48]), things: [card(plain(WHITE))] });
    const { photo: bare } = drawTable({ ...TABLE, ground: plain([0.5, 0.5, 0.48]), things: [] });
    expect(choose(bare, ID1_CARD, { cornersPx: cornersPx[0] })).toEqual({ problem: 'no-card' });
    expect(choose(photo, ID1_CARD, { cornersPx: cornersPx[0] })).toHaveProperty('card');
  });
});
