import { describe, expect, it } from 'vitest';
import { drawProfile, newProfileCurve } from '../../../vision/container/profile-curve.ts';

describe('drawProfile', () => {
  it('draws rounded edges that a ray from any side touches within 0.12 % of their radius, without leaning in or out', () => {
    const edgeMm = 7;
    const wallMm = 30;
    const curve = newProfileCurve({ knotShares: Float64Array.of(0, 0.5, 1), edgeShares: new Float64Array(0) });
    const shape = {
      heightMm: 100,
      baseEdgeMm: edgeMm,
      topEdgeMm: 2,
      wallMm: [wallMm, wallMm, wallMm],
      edgeShiftMm: [],
    };
    expect(drawProfile(curve, shape)).toBe(true);
    // how far the drawn solid reaches beyond the edge's centre, seen at every angle between base and wall
    const off = Array.from({ length: 400 }, (_, i) => {
      const angle = ((i + 0.5) / 400) * (Math.PI / 2);
      let reach = 0;
      for (let v = 0; v < curve.count; v++) {
        const outwards = curve.radiusMm[v] - (wallMm - edgeMm);
        reach = Math.max(reach, outwards * Math.sin(angle) + (edgeMm - curve.zMm[v]) * Math.cos(angle));
      }
      return reach / edgeMm - 1;
    });
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(0.0012);
    expect(Math.abs(off.reduce((a, b) => a + b, 0) / off.length)).toBeLessThan(0.0001);
  });
});
