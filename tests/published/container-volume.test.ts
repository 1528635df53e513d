import { describe, expect, it } from 'vitest';
import { centreOfMassZMm, meridianOf, outerSurfaceMm2, outerVolumeMl } from '../../sizing/body/meridian.ts';
import { type Container, containerFromTape, type TapeMeasures } from '../../sizing/container.ts';

describe('frustum of a cone: V = pi h (R^2 + R r + r^2) / 3 (published, worked by integration)', () => {
  it.each([
    [56, 90, 115, 490.02, 116.25],
    [56, 90, 136, 579.5, 137.06],
  ])('%i to %i mm across and %i mm high holds %f ml along a slant of %f mm', (bottom, top, heightMm, ml, slantMm) => {
    const meridian = meridianOf(sharpEdged({ diameterMm: bottom, topDiameterMm: top, heightMm }));
    expect(Math.abs(outerVolumeMl(meridian) / ml - 1)).toBeLessThan(0.001);
    const mantle = outerSurfaceMm2(meridian) - (Math.PI * bottom ** 2) / 4;
    expect(Math.abs(mantle / ((Math.PI * (bottom + top) * slantMm) / 2) - 1)).toBeLessThan(0.001);
  });
});

describe('the outer volume is an upper bound of what a container holds', () => {
  it.each([
    ['paper cup 8 oz (seller page)', { diameterMm: 56, topDiameterMm: 80, heightMm: 90 }, 227],
    ['paper cup 12 oz (seller page)', { diameterMm: 56, topDiameterMm: 90, heightMm: 115 }, 341],
    ['paper cup 16 oz (seller page)', { diameterMm: 56, topDiameterMm: 90, heightMm: 136 }, 455],
    ['can 330 ml, 67 x 115 (secondary source)', { diameterMm: 67, heightMm: 115 }, 330],
    ['can 500 ml, 66 x 168 (page)', { diameterMm: 66, heightMm: 168 }, 500],
    ['US can 355 ml, 2.6 x 4.8 in (maker sheet)', { diameterMm: 66, heightMm: 122 }, 355],
  ])('%s', (_name, tape, nominalMl) => {
    expect(outerVolumeMl(meridianOf(containerFromTape(tape)))).toBeGreaterThan(nominalMl);
  });
});

describe('centre of mass of a full container', () => {
  it('is half way up a cylinder and a quarter of the height from the base of a cone (textbook)', () => {
    expect(centreOfMassZMm(meridianOf(sharpEdged({ diameterMm: 70, heightMm: 200 })))).toBeCloseTo(100, 6);
    const cone = { ...sharpEdged({ diameterMm: 100, heightMm: 120 }), profile: fineCone(100, 120) };
    expect(centreOfMassZMm(meridianOf(cone))).toBeCloseTo(30, 0);
  });
});

function sharpEdged(tape: TapeMeasures): Container {
  return { ...containerFromTape(tape), baseEdgeRadiusMm: { value: 0, sd: 0 } };
}

function fineCone(diameterMm: number, heightMm: number) {
  return Array.from({ length: 101 }, (_, index) => ({
    zMm: (heightMm * index) / 100,
    radiusMm: (diameterMm / 2) * (1 - index / 100),
    sdMm: 0.1,
  }));
}
