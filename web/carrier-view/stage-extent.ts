import type { CarrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import type { Plan } from '../../sizing/plan.ts';
import type { Extent } from './projection.ts';

/** A long strap goes on out of the picture: at most this share of the container's height is shown above it. */
const STRAP_SHARE = 0.3;

/** What of a carrier the stage shows. */
export function stageExtent(plan: Plan, { bottomMm, topMm, reachMm }: CarrierGeometry): Extent {
  const heightMm = plan.container.heightMm.value;
  const wide = Math.max(reachMm, plan.container.maxDiameterMm.value / 2);
  return { bottomMm, topMm: Math.max(heightMm, Math.min(topMm, heightMm * (1 + STRAP_SHARE))), reachMm: wide };
}
