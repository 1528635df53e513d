import { describe, expect, it } from 'vitest';
import { silhouetteExcessMm } from '../../../vision/flat-piece/silhouette.ts';
import type { TableView } from '../../../vision/reference/table-view.ts';

/** Only the eye counts here. */
function viewFrom(elevationRad: number, distanceMm: number): TableView {
  const eyeMm = [distanceMm * Math.cos(elevationRad), 0, distanceMm * Math.sin(elevationRad)] as const;
  return { eyeMm } as unknown as TableView;
}

/**
 * How far a torus of tube radius `rho` reaches along the direction φ on the plane through its middle, seen from afar
 * under elevation e: the farthest of its surface points carried along the line of sight.
 */
function reachOfTorus(radius: number, rho: number, phi: number, elevation: number): number {
  let farthest = 0;
  for (let turn = -60; turn <= 60; turn++) {
    const theta = phi + turn / 60;
    for (let k = 0; k < 720; k++) {
      const alpha = (2 * Math.PI * k) / 720;
      const r = radius - rho + rho * Math.cos(alpha);
      const z = rho * Math.sin(alpha);
      const x = r * Math.cos(theta) - z / Math.tan(elevation);
      const y = r * Math.sin(theta);
      farthest = Math.max(farthest, x * Math.cos(phi) + y * Math.sin(phi));
    }
  }
  return farthest;
}

describe('outline of a thick edge as seen', () => {
  it('is the plan outline when seen straight from above', () => {
    expect(silhouetteExcessMm(viewFrom(Math.PI / 2, 1e6), [30, 10], [0.6, 0.8], 2)).toBeCloseTo(0, 2);
  });

  it.each([0, 0.5, 1.2, Math.PI / 2, 2.5])(
    'stands outside the plan outline as the surface of a torus does, at %f rad from the line of sight',
    (phi) => {
      const [radius, rho, elevation] = [40, 2.5, 0.7];
      const far = viewFrom(elevation, 1e6);
      const normal = [Math.cos(phi), Math.sin(phi)] as const;
      const excess = silhouetteExcessMm(far, [radius * normal[0], radius * normal[1]], normal, rho);
      expect(radius + excess).toBeCloseTo(reachOfTorus(radius, rho, phi, elevation), 2);
    },
  );
});
