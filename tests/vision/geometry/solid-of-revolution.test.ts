import { describe, expect, it } from 'vitest';
import {
  findNearestFeature,
  type NearestFeature,
  type Polyline,
  stepToTouch,
  touchingParameter,
} from '../../../vision/geometry/solid-of-revolution.ts';

describe('a ray that grazes a surface of revolution', () => {
  it('touches a cylinder at sin α = r / D, whatever the height of the eye', () => {
    const cylinder = polyline([
      [0, 40],
      [200, 40],
    ]);
    for (const eyeHeight of [-50, 100, 350]) {
      const angle = edgeAngle(cylinder, [300, 0, eyeHeight], (100 - eyeHeight) / 297.3);
      expect(Math.sin(angle)).toBeCloseTo(40 / 300, 9);
    }
  });

  it('touches a sphere along its tangent cone, sin α = R / D', () => {
    const radius = 50;
    const sphere = polyline(
      Array.from({ length: 721 }, (_, k) => {
        const latitude = -Math.PI / 2 + ((k + 0.5) * Math.PI) / 722;
        return [radius + radius * Math.sin(latitude), radius * Math.cos(latitude)] as const;
      }),
    );
    // in the plane of the eye and the equator, and from above
    expect(Math.sin(edgeAngle(sphere, [250, 0, radius], 0))).toBeCloseTo(radius / 250, 4);
    const eye: [number, number, number] = [180, 0, radius + 120];
    const distance = Math.hypot(180, 120);
    const touch = grazing(sphere, eye, [-180 / distance, 0, -120 / distance], [0, 1, 0]);
    expect(Math.abs(Math.sin(Math.atan(touch.step)) - radius / distance)).toBeLessThan(2e-4);
  });

  it('sees the top disc as the ellipse of a circle: rim points lie on X² + Y² = r² in the plane of the top', () => {
    const tin = polyline([
      [0, 35],
      [120, 35],
    ]);
    const eye: [number, number, number] = [0, -300, 260];
    const { step, direction, change, feature } = grazing(tin, eye, [0, 300, -120], [0, 0, 1]);
    const ray = direction.map((d, i) => d + step * change[i]);
    const t = touchingParameter(tin, feature, eye, ray);
    expect(eye[2] + t * ray[2]).toBeCloseTo(120, 9);
    expect(Math.hypot(eye[0] + t * ray[0], eye[1] + t * ray[1])).toBeCloseTo(35, 9);
  });

  it('reads a body narrower than its outline suggests: tan instead of sin overstates the radius', () => {
    const cylinder = polyline([
      [0, 40],
      [200, 40],
    ]);
    const angle = edgeAngle(cylinder, [240, 0, 100], 0);
    expect(240 * Math.tan(angle)).toBeGreaterThan(40.5);
    expect(240 * Math.sin(angle)).toBeCloseTo(40, 9);
  });
});

function polyline(points: readonly (readonly [number, number])[]): Polyline {
  return {
    count: points.length,
    zMm: Float64Array.from(points, ([z]) => z),
    radiusMm: Float64Array.from(points, ([, r]) => r),
  };
}

/** Angle about the axis between the eye's direction to the axis and the grazing ray of the given slope. */
function edgeAngle(solid: Polyline, eye: readonly [number, number, number], slope: number): number {
  const { step } = grazing(solid, eye, [-1, 0, slope], [0, 1, 0]);
  return Math.atan(step);
}

function grazing(
  solid: Polyline,
  eye: readonly [number, number, number],
  direction: readonly number[],
  change: readonly number[],
) {
  const feature: NearestFeature = { index: 0, isCircle: false, clearanceMm: 0 };
  let step = 0;
  for (let round = 0; round < 30; round++) {
    const now = direction.map((d, i) => d + step * change[i]);
    findNearestFeature(solid, eye, now[0], now[1], now[2], feature);
    const more = stepToTouch(solid, feature, eye, Float64Array.from(now), Float64Array.from(change));
    step += more;
    if (Math.abs(more) < 1e-13) break;
  }
  return { step, direction, change, feature };
}
