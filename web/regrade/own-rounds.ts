import * as v from 'valibot';
import { CONTAINER_LIMITS, type Container, containerFromTape } from '../../sizing/container.ts';

const lengthMm = ([least, most]: readonly [number, number]) =>
  v.pipe(v.number(), v.finite(), v.minValue(least), v.maxValue(most));

/** Her own rounds as she wrote them, and the container they fit: what a plan that keeps to them is made from. */
export const OwnRoundsSchema = v.object({
  rounds: v.pipe(v.string(), v.maxLength(2000)),
  madeFor: v.object({
    diameterMm: lengthMm(CONTAINER_LIMITS.diameterMm),
    heightMm: lengthMm(CONTAINER_LIMITS.heightMm),
  }),
  /** Her stitches are those of the gauge beside; else they are worked out from rounds and container. */
  gaugeKnown: v.boolean(),
});
export type OwnRounds = v.InferOutput<typeof OwnRoundsSchema>;

export function containerOf(sizes: OwnRounds['madeFor']): Container {
  return containerFromTape(sizes);
}
