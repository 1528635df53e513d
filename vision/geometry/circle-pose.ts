import { type Camera, castRay, RAY_SIZE } from './camera-ray.ts';
import { type CardPose, cardTiltRad, mirroredPose } from './card-pose.ts';
import { ellipseThrough } from './ellipse.ts';
import type { ImagePoint } from './frames.ts';
import {
  add,
  cross,
  dot,
  multiplyMatrices,
  norm,
  rotationFromVector,
  scale,
  subtract,
  unit,
  type Vector3,
} from './linear3.ts';

const FEWEST_POINTS = 6;
/** Seen from nearer to straight above than this, an ellipse hardly tells its tilt: the shorter axis is 0.9 of the longer. */
const HARDLY_TILTED_RAD = 0.45;

/**
 * Both poses under which a circle of known radius looks like an ellipse through image points, x to the right: the one
 * whose far side is towards the top of the upright photo first, then its mirror image about the line of sight. Seen by a
 * camera that looks straight at the circle, the ratio of the ellipse's axes is the cosine of the tilt and the long one
 * gives the distance, but for the perspective within the circle itself.
 * @returns none when the points are on no ellipse
 */
export function circlePoses(rimPx: readonly ImagePoint[], radiusMm: number, camera: Camera): readonly CardPose[] {
  const rays = rimPx.length < FEWEST_POINTS ? null : raysOf(rimPx, camera);
  if (!rays) return [];
  const sight = unit(rays.reduce(add));
  const across = unit(cross([0, 1, 0], sight));
  const down = cross(sight, across);
  const ellipse = ellipseThrough(
    rays.map((ray): ImagePoint => {
      const depth = dot(ray, sight);
      return [dot(ray, across) / depth, dot(ray, down) / depth];
    }),
  );
  if (!ellipse) return [];
  const { middle, long, short, turnRad } = ellipse;
  const fromView = (x: number, y: number): Vector3 => add(scale(across, x), scale(down, y));
  const upwards = Math.cos(turnRad) > 0 ? -1 : 1;
  const cosTilt = Math.min(short / long, 1);
  const lean = scale(fromView(-Math.sin(turnRad), Math.cos(turnRad)), upwards * Math.sqrt(1 - cosTilt * cosTilt));
  const normal = add(scale(sight, -cosTilt), lean);
  const right = unit(subtract([1, 0, 0], scale(normal, normal[0])));
  const away = cross(normal, right);
  const pose: CardPose = {
    rotation: [right[0], away[0], normal[0], right[1], away[1], normal[1], right[2], away[2], normal[2]],
    translationMm: scale(add(sight, fromView(...middle)), radiusMm / long),
    cornerErrorPx: 0,
  };
  const mirrored = mirroredPose(pose);
  return mirrored ? [pose, { ...mirrored, cornerErrorPx: 0 }] : [pose];
}

function raysOf(points: readonly ImagePoint[], camera: Camera): readonly Vector3[] | null {
  const ray = new Float64Array(RAY_SIZE);
  const rays: Vector3[] = [];
  for (const [x, y] of points) {
    if (!castRay(camera, x, y, ray)) return null;
    rays.push(unit([ray[0], ray[1], 1]));
  }
  return rays;
}

/** The pose half-way between both, straight above the circle; null where they are clearly apart. */
export function facingPose(pose: CardPose): CardPose | null {
  const tiltRad = cardTiltRad(pose.rotation, pose.translationMm);
  if (tiltRad > HARDLY_TILTED_RAD) return null;
  const normal: Vector3 = [pose.rotation[2], pose.rotation[5], pose.rotation[8]];
  const turn = cross(normal, scale(unit(pose.translationMm), -1));
  if (!(norm(turn) > 0)) return null;
  const rotation = multiplyMatrices(rotationFromVector(scale(unit(turn), tiltRad)), pose.rotation);
  return { ...pose, rotation };
}
