import { fitContainer } from '../../../vision/container/fit-container.ts';
import { type FittedPhoto, fitSameContainer } from '../../../vision/container/fit-same-container.ts';
import type { Arrangement } from '../../../vision/measurement.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { type SimulatedScene, simulateScene } from '../../support/simulated-scene.ts';

export const SIZES = ['maxDiameterMm', 'heightMm'] as const;

/** Photos of the container and card of one seed, from a different place each time. */
export function photosOf(containerSeed: number, arrangements: readonly Arrangement[]) {
  const scenes = arrangements.map((arrangement, k) =>
    simulateScene(seededRandom(100 * containerSeed + k), {
      arrangement,
      focalCase: 'rounded',
      longSidePx: 1600,
      containerSeed,
    }),
  );
  return { scenes, photos: scenes.map((scene) => fitted(scene)) };
}

export function fitted({ sight, arrangement }: SimulatedScene, findingSd = 0): FittedPhoto {
  const result = fitContainer(sight, { arrangement });
  if (!result.ok) throw new Error(result.reason);
  return { fit: result.fit, findingSd };
}

export function together(photos: readonly FittedPhoto[]) {
  const joint = fitSameContainer(photos);
  if (!joint) throw new Error('no joint fit');
  return joint;
}
