import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { readTruth, type Truth } from '../../web/commands/truth.ts';

/** The truth beside a sample photo, card and outline included. */
export interface SampleTruth extends Truth {
  readonly cornersPx: CornersPx;
  readonly outlinePx: readonly ImagePoint[];
}

/** @param name  of the photo in sample-images, without its ending */
export async function sampleTruth(name: string): Promise<SampleTruth> {
  const truth = await readTruth(`sample-images/${name}.jpg`);
  if (!truth?.cornersPx || !truth.outlinePx) throw new Error(`${name} has no truth with card and outline beside it`);
  return { ...truth, cornersPx: truth.cornersPx, outlinePx: truth.outlinePx };
}
