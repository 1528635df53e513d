import type { MeshChoices } from '../choices.ts';
import type { Container } from '../container.ts';
import { type Gauge, roundHeightMm } from '../gauge.ts';
import type { Hole, MeshZone, Plan } from '../plan.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';

const MOST_SKIPPED = 8;

/** Lower posts make lower holes; one of single crochets is no net any more. */
const POSTS = ['tr', 'dc', 'hdc'] as const satisfies readonly FabricStitch[];

/**
 * Meshes that may keep to a hole, the one with the largest holes first: as many stitches passed over, and posts as high,
 * as the hole allows at the container's widest place; then ever fewer. What they come to on the container is for the plan
 * to say.
 */
export function meshesByHole(
  { maxDiameterMm, baseDiameterMm }: Container,
  gauge: Gauge,
  mesh: MeshChoices,
  mostMm: number,
): MeshChoices[] {
  const postStitch = highestPost(gauge, mesh.postStitch, mostMm);
  const stitchMm = (gauge.stitchWidthMm.value * maxDiameterMm.value) / baseDiameterMm.value;
  // One more than fits, since the base may have a stitch more or fewer than it is round.
  const most = Math.max(1, Math.min(MOST_SKIPPED, Math.floor(mostMm / stitchMm)));
  return Array.from({ length: most }, (_, less) => ({ ...mesh, postStitch, skip: most - less }));
}

/** The one that is chosen, or the next lower one whose round is no higher than the hole. */
function highestPost(gauge: Gauge, chosen: FabricStitch, mostMm: number): FabricStitch {
  const lower = POSTS.filter((post) => STITCH_FACTS[post].heightOverWidth <= STITCH_FACTS[chosen].heightOverWidth);
  return lower.find((post) => roundHeightMm(gauge, post) <= mostMm) ?? lower[lower.length - 1] ?? chosen;
}

/** Widest and highest of all zones; null without a mesh. */
export function largestHole(zones: readonly MeshZone[]): Hole | null {
  if (zones.length === 0) return null;
  return {
    widthMm: Math.max(...zones.map(({ hole }) => hole.widthMm)),
    heightMm: Math.max(...zones.map(({ hole }) => hole.heightMm)),
  };
}

export function largestHoleMm({ zones }: Plan): number {
  const hole = largestHole(zones);
  return hole ? Math.max(hole.widthMm, hole.heightMm) : 0;
}
