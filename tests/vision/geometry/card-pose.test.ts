import { describe, expect, it } from 'vitest';
import { type Camera, projectPoint } from '../../../vision/geometry/camera-ray.ts';
import { cardCornersMm, cardPoses, cardTiltRad, focalFromCard } from '../../../vision/geometry/card-pose.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { add, dot, multiply, rotationFromVector, type Vector3 } from '../../../vision/geometry/linear3.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';

const CAMERA: Camera = { focalPx: 1500, centreXPx: 755.5, centreYPx: 1007.5, k1: 0 };

describe('cardPoses', () => {
  it('gives the pose the corners were projected with', () => {
    const { rotation, shift, corners } = seen([2.4, 0.2, 0.1], [10, 20, 400]);
    const [best] = cardPoses(corners, 0, ID1_CARD, CAMERA);
    expect(best.cornerErrorPx).toBeLessThan(1e-6);
    for (let i = 0; i < 9; i++) expect(best.rotation[i]).toBeCloseTo(rotation[i], 7);
    for (let i = 0; i < 3; i++) expect(best.translationMm[i]).toBeCloseTo(shift[i], 5);
  });

  it('keeps both poses of a card seen from afar, and the true one is among them', () => {
    const { rotation, corners } = seen([2.5, 0.15, 0.05], [40, 60, 2500]);
    const poses = cardPoses(corners, 0, ID1_CARD, CAMERA);
    expect(poses).toHaveLength(2);
    expect(poses[1].cornerErrorPx).toBeLessThan(1);
    const normal = multiply(rotation, [0, 0, 1]);
    const agreement = poses.map((pose) => dot(multiply(pose.rotation, [0, 0, 1]), normal));
    expect(Math.max(...agreement)).toBeCloseTo(1, 6);
    expect(Math.min(...agreement)).toBeLessThan(0.99);
  });

  it('reads a card that stands on its short side through longSide', () => {
    const rotation = rotationFromVector([2.5, 0.1, 0]);
    const corners = cardCornersMm(ID1_CARD, 1).map((corner) =>
      projectPoint(CAMERA, ...add(multiply(rotation, corner), [0, 0, 350])),
    ) as unknown as CornersPx;
    expect(cardPoses(corners, 1, ID1_CARD, CAMERA)[0].cornerErrorPx).toBeLessThan(1e-6);
    expect(cardPoses(corners, 0, ID1_CARD, CAMERA)[0].cornerErrorPx).toBeGreaterThan(5);
  });

  it('has no pose for corners on one line', () => {
    const line = [
      [0, 0],
      [100, 100],
      [200, 200],
      [300, 300],
    ] as unknown as CornersPx;
    expect(cardPoses(line, 0, ID1_CARD, CAMERA)).toEqual([]);
  });

  it('measures the tilt between nought (square-on) and a right angle (edge-on)', () => {
    expect(cardTiltRad(rotationFromVector([Math.PI, 0, 0]), [0, 0, 300])).toBeCloseTo(0, 9);
    expect(cardTiltRad(rotationFromVector([Math.PI / 2, 0, 0]), [0, 0, 300])).toBeCloseTo(Math.PI / 2, 9);
  });
});

describe('focalFromCard', () => {
  it('finds the focal length of a tilted card and says nothing about a square-on one', () => {
    const tilted = seen([2.3, 0.5, 0.2], [0, 0, 260]).corners;
    expect(focalFromCard(tilted, 0, ID1_CARD, CAMERA.centreXPx, CAMERA.centreYPx)).toBeCloseTo(1500, 3);
    const squareOn = seen([Math.PI, 0, 0], [0, 0, 260]).corners;
    const found = focalFromCard(squareOn, 0, ID1_CARD, CAMERA.centreXPx, CAMERA.centreYPx);
    expect(found === null || found > 1e6 || found < 100).toBe(true);
  });
});

function seen(turn: Vector3, shift: Vector3) {
  const rotation = rotationFromVector(turn);
  const corners = cardCornersMm(ID1_CARD, 0).map((corner) =>
    projectPoint(CAMERA, ...add(multiply(rotation, corner), shift)),
  ) as unknown as CornersPx;
  return { rotation, shift, corners };
}
