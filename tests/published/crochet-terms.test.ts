import { describe, expect, it } from 'vitest';
import { type FabricStitch, STITCH_FACTS, type Stitch, stitchName } from '../../sizing/stitches.ts';

describe('Craft Yarn Council, Standards & Guidelines (2018), p. 2: US and UK terms', () => {
  it.each<[Stitch, string]>([
    ['ch', 'ch'],
    ['sl st', 'ss'],
    ['sc', 'dc'],
    ['hdc', 'htr'],
    ['dc', 'tr'],
    ['tr', 'dtr'],
  ])('US %s is UK %s', (us, uk) => {
    expect(stitchName(us, 'us')).toBe(us);
    expect(stitchName(us, 'uk')).toBe(uk);
  });
});

describe('turning chains (crochet guild lesson, 1997)', () => {
  it.each<[FabricStitch, number]>([
    ['sc', 1],
    ['hdc', 2],
    ['dc', 3],
    ['tr', 4],
  ])('%s turns on a chain of %i', (stitch, chains) => {
    expect(STITCH_FACTS[stitch].turningChain).toBe(chains);
  });
});

describe('height over width of a stitch, from gauges in yarn-company leaflets (stitches x rows on 10 cm)', () => {
  const SINGLE_CROCHET = [
    [15.5, 17],
    [13, 14],
    [10, 11],
    [16, 20],
    [7, 8],
    [22, 24],
    [10, 10],
    [12, 14],
    [8, 9],
    [9, 10],
    [16, 18],
  ];

  it('sc is the mean of eleven leaflets', () => {
    const ratios = SINGLE_CROCHET.map(([stitches, rows]) => stitches / rows);
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    expect(Math.abs(STITCH_FACTS.sc.heightOverWidth - mean)).toBeLessThan(0.005);
  });

  it('hdc is the mean of 10 x 8 (herringbone), 13 x 10 and 13 x 9, dc of 8 x 5 and 13 x 8', () => {
    expect(Math.abs(STITCH_FACTS.hdc.heightOverWidth - (10 / 8 + 13 / 10 + 13 / 9) / 3)).toBeLessThan(0.005);
    expect(Math.abs(STITCH_FACTS.dc.heightOverWidth - (8 / 5 + 13 / 8) / 2)).toBeLessThan(0.005);
  });
});
