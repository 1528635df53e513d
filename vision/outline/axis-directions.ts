import type { Camera } from '../geometry/camera-ray.ts';
import { type CardPose, cardPoses, focalFromCard } from '../geometry/card-pose.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { multiply, type Vector3 } from '../geometry/linear3.ts';
import type { FocalPrior } from '../picture/photo.ts';
import type { FlatReference } from '../reference/reference.ts';
import type { CardSighting } from '../sighting.ts';

/** The camera and the card before the container is known: good enough to look along the right directions. */
export interface CardView {
  readonly camera: Camera;
  /** Better pose first. */
  readonly poses: readonly CardPose[];
}

/** A corner of the card is off by about this much, px; decides between the focal prior and the card's own word. */
const CORNER_SD_PX = 1;

/** Camera and card poses at the focal length that suits both the prior and the card; null when no pose exists. */
export function viewFromCard(
  card: CardSighting,
  prior: FocalPrior,
  reference: FlatReference,
  centrePx: ImagePoint,
): CardView | null {
  const hint = focalFromCard(card.cornersPx, card.longSide, reference, centrePx[0], centrePx[1]);
  const reach = 2 * prior.relativeSd;
  let best: { cost: number; view: CardView } | null = null;
  const logs = [-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1].map((share) => share * reach);
  if (hint) logs.push(Math.min(Math.max(Math.log(hint / prior.focalPx), -reach), reach));
  for (const log of logs) {
    const camera = { focalPx: prior.focalPx * Math.exp(log), centreXPx: centrePx[0], centreYPx: centrePx[1], k1: 0 };
    const poses = cardPoses(card.cornersPx, card.longSide, reference, camera);
    if (poses.length === 0) continue;
    const cost = 4 * (poses[0].cornerErrorPx / CORNER_SD_PX) ** 2 + (log / prior.relativeSd) ** 2;
    if (!best || cost < best.cost) best = { cost, view: { camera, poses } };
  }
  return best?.view ?? null;
}

/** Direction of the card's normal towards the camera, camera frame: the axis of a container that stands beside it. */
export function cardNormal(pose: CardPose): Vector3 {
  return multiply(pose.rotation, [0, 0, 1]);
}

/** Direction in the card's plane at an angle from its long side, camera frame. */
export function cardDirection(pose: CardPose, angleRad: number): Vector3 {
  return multiply(pose.rotation, [Math.cos(angleRad), Math.sin(angleRad), 0]);
}
