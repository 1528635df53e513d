import type { OutlinePoint } from '../sighting.ts';
import type { BorderSample } from './border-profiles.ts';

/** The points in the order of the samples they lie nearest to, so that they run once round the outline. */
export function inOrder(points: readonly OutlinePoint[], samples: readonly BorderSample[]): OutlinePoint[] {
  return points
    .map((point) => ({ point, place: nearest(point, samples) }))
    .sort((a, b) => a.place - b.place)
    .map(({ point }) => point);
}

function nearest({ xPx, yPx }: OutlinePoint, samples: readonly BorderSample[]): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  samples.forEach(({ x, y }, i) => {
    const distance = (x - xPx) ** 2 + (y - yPx) ** 2;
    if (distance < least) [best, least] = [i, distance];
  });
  return best;
}
