import { beforeAll, describe, expect, it } from 'vitest';
import { type Camera, castRay, projectPoint, RAY_SIZE } from '../../vision/geometry/camera-ray.ts';
import { cardCornersMm, cardPoses, homography } from '../../vision/geometry/card-pose.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { add, multiply, rotationFromVector, type Vector3 } from '../../vision/geometry/linear3.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { ID1_CARD } from '../../vision/reference/reference.ts';
import { seededRandom } from '../support/seeded-random.ts';

/** The functions of OpenCV 4 (calib3d) that our camera is held against; not part of what the product uses. */
interface CalibCv {
  readonly CV_64F: number;
  readonly SOLVEPNP_IPPE: number;
  Mat: new () => CalibMat;
  matFromArray(rows: number, cols: number, type: number, values: readonly number[]): CalibMat;
  projectPoints(points: CalibMat, r: CalibMat, t: CalibMat, k: CalibMat, distortion: CalibMat, out: CalibMat): void;
  solvePnP(
    points: CalibMat,
    pixels: CalibMat,
    k: CalibMat,
    distortion: CalibMat,
    r: CalibMat,
    t: CalibMat,
    guess: boolean,
    flags: number,
  ): boolean;
  findHomography(from: CalibMat, to: CalibMat): CalibMat;
}
interface CalibMat {
  readonly data64F: Float64Array;
  delete(): void;
}

const CAMERA: Camera = { focalPx: 2900, centreXPx: 1510.5, centreYPx: 2007.25, k1: -0.021 };

describe('OpenCV', () => {
  let cv: CalibCv;
  const owned: CalibMat[] = [];
  const matrix = (rows: number, cols: number, values: readonly number[]) => {
    const mat = cv.matFromArray(rows, cols, cv.CV_64F, values);
    owned.push(mat);
    return mat;
  };
  const empty = () => {
    const mat = new cv.Mat();
    owned.push(mat);
    return mat;
  };
  beforeAll(async () => {
    cv = (await loadOpenCv()).cv as unknown as CalibCv;
    return () => {
      for (const mat of owned) mat.delete();
    };
  }, 60_000);
  const intrinsics = () =>
    matrix(3, 3, [CAMERA.focalPx, 0, CAMERA.centreXPx, 0, CAMERA.focalPx, CAMERA.centreYPx, 0, 0, 1]);

  it('projectPoints puts points where our camera puts them, distortion included', () => {
    const random = seededRandom(11);
    const turn: Vector3 = [0.4, -0.7, 0.2];
    const shift: Vector3 = [12, -8, 420];
    const points = Array.from(
      { length: 30 },
      (): Vector3 => [random.uniform(-90, 90), random.uniform(-120, 120), random.uniform(-60, 60)],
    );
    const out = empty();
    cv.projectPoints(
      matrix(points.length, 3, points.flat()),
      matrix(3, 1, turn),
      matrix(3, 1, shift),
      intrinsics(),
      matrix(4, 1, [CAMERA.k1, 0, 0, 0]),
      out,
    );
    const rotation = rotationFromVector(turn);
    points.forEach((point, i) => {
      const [u, v] = projectPoint(CAMERA, ...add(multiply(rotation, point), shift));
      expect(u).toBeCloseTo(out.data64F[2 * i], 8);
      expect(v).toBeCloseTo(out.data64F[2 * i + 1], 8);
      const ray = new Float64Array(RAY_SIZE);
      expect(castRay(CAMERA, u, v, ray)).toBe(true);
      const [x, y, z] = add(multiply(rotation, point), shift);
      expect(ray[0]).toBeCloseTo(x / z, 10);
      expect(ray[1]).toBeCloseTo(y / z, 10);
    });
  });

  it('solvePnP finds the pose of the card that we find', () => {
    const turn: Vector3 = [2.3, 0.3, -0.2];
    const shift: Vector3 = [20, 35, 380];
    const rotation = rotationFromVector(turn);
    const corners = cardCornersMm(ID1_CARD, 0);
    const pixels = corners.map((corner) => projectPoint(CAMERA, ...add(multiply(rotation, corner), shift)));
    const r = empty();
    const t = empty();
    cv.solvePnP(
      matrix(4, 3, corners.flat()),
      matrix(4, 2, pixels.flat()),
      intrinsics(),
      matrix(4, 1, [CAMERA.k1, 0, 0, 0]),
      r,
      t,
      false,
      cv.SOLVEPNP_IPPE,
    );
    const [best] = cardPoses(pixels as unknown as CornersPx, 0, ID1_CARD, CAMERA);
    const theirs = rotationFromVector([r.data64F[0], r.data64F[1], r.data64F[2]]);
    for (let i = 0; i < 9; i++) expect(best.rotation[i]).toBeCloseTo(theirs[i], 4);
    for (let i = 0; i < 3; i++) {
      expect(Math.abs(best.translationMm[i] - t.data64F[i])).toBeLessThan(0.02);
      expect(best.translationMm[i]).toBeCloseTo(shift[i], 5);
    }
  });

  it('findHomography maps four points as we do', () => {
    const from: ImagePoint[] = [
      [0, 0],
      [85.6, 0],
      [85.6, 53.98],
      [0, 53.98],
    ];
    const to: ImagePoint[] = [
      [102.5, 880.2],
      [940.1, 700.7],
      [1105.3, 1190.4],
      [180.9, 1420.6],
    ];
    const ours = homography(
      from.map(([x, y]) => [x, y] as const),
      to,
    );
    const theirs = cv.findHomography(matrix(4, 2, from.flat()), matrix(4, 2, to.flat()));
    owned.push(theirs);
    if (!ours) throw new Error('Four points in general position have a homography.');
    // theirs is polished by an iteration that stops at about 1e-6
    for (let i = 0; i < 9; i++) {
      const reference = theirs.data64F[i] / theirs.data64F[8];
      expect(Math.abs(ours[i] / ours[8] - reference)).toBeLessThan(1e-5 * Math.max(1, Math.abs(reference)));
    }
    for (let k = 0; k < 4; k++) {
      const [u, v, w] = multiply(ours, [from[k][0], from[k][1], 1]);
      expect(u / w).toBeCloseTo(to[k][0], 8);
      expect(v / w).toBeCloseTo(to[k][1], 8);
    }
  });
});
