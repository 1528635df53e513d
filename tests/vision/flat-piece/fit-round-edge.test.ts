import { describe, expect, it } from 'vitest';
import { fitRoundEdge, roughCircle } from '../../../vision/flat-piece/fit-round-edge.ts';
import type { TablePoint } from '../../../vision/reference/table-view.ts';
import { seededRandom } from '../../support/seeded-random.ts';

function edge(radiusAt: (turn: number) => number, count = 360): TablePoint[] {
  return Array.from({ length: count }, (_, i): TablePoint => {
    const turn = (2 * Math.PI * i) / count;
    return [12 + radiusAt(turn) * Math.cos(turn), -7 + radiusAt(turn) * Math.sin(turn)];
  });
}

describe('fitRoundEdge', () => {
  it('returns mean radius and oval of r = 40 + 0.6 cos 2θ exactly', () => {
    const fit = fitRoundEdge(
      edge((turn) => 40 + 0.6 * Math.cos(2 * turn)),
      [11, -6],
    );
    expect(fit?.coefficients[0]).toBeCloseTo(40, 3);
    expect(Math.hypot(fit?.coefficients[3] ?? 0, fit?.coefficients[4] ?? 0)).toBeCloseTo(0.6, 3);
    expect(fit?.centre[0]).toBeCloseTo(12, 3);
  });

  it('averages scallops over crowns and valleys', () => {
    const fit = fitRoundEdge(
      edge((turn) => 40 + 0.8 * Math.cos(30 * turn)),
      [12, -7],
    );
    expect(fit?.coefficients[0]).toBeCloseTo(40, 2);
  });

  it('is not pulled by a strand of yarn that leaves the edge', () => {
    const random = seededRandom(4);
    const fit = fitRoundEdge(
      edge((turn) => 40 + random.normal(0.2) + (Math.abs(turn - 2) < 0.08 ? 5 : 0)),
      [12, -7],
    );
    expect(Math.abs((fit?.coefficients[0] ?? 0) - 40)).toBeLessThan(0.05);
  });
});

describe('roughCircle', () => {
  it('goes through the circle when a tenth of the points lies elsewhere', () => {
    const points = edge((turn) => (turn < 0.5 ? 60 : 40));
    expect(roughCircle(points)?.radius).toBeCloseTo(40, 1);
  });

  it('returns null for fewer than eight points', () => {
    expect(roughCircle(edge(() => 40, 5))).toBeNull();
  });
});
