import { measureSameContainer } from '../../vision/measure-same-container.ts';
import { ID1_CARD } from '../../vision/reference/reference.ts';
import { fitFile } from './measure-file.ts';
import type { MeasureJob } from './measure-files.ts';
import { type MeasureLine, measureLine, type Together } from './measure-line.ts';

/**
 * Measures photo files of one container, each alone and then all together.
 * @param onLine  called as soon as a photo is measured alone
 * @returns the line of all photos together, null when fewer than two could be measured or nothing fits them all
 */
export async function measureSameContainerFiles(
  jobs: readonly MeasureJob[],
  onLine: (line: MeasureLine) => void,
): Promise<MeasureLine | null> {
  const start = performance.now();
  const alone: Awaited<ReturnType<typeof fitFile>>[] = [];
  for (const job of jobs) {
    const fitted = await fitFile(job);
    alone.push(fitted);
    onLine(fitted.line);
  }
  const together = measureSameContainer(alone.map(({ measured }) => measured));
  if (!together) return null;
  const { measurement, shownPhoto, agreement, warnings } = together;
  const { chiSquared, degreesOfFreedom, probability, leftOut } = agreement;
  const photos = alone.map(({ line }, k) => ({
    photo: line.photo,
    used: line.outcome === 'measured' && !leftOut.includes(k),
    reason: line.reason,
    baseDiameterMm: line.baseDiameterMm,
    maxDiameterMm: line.maxDiameterMm,
    heightMm: line.heightMm,
  }));
  const gain = (size: 'maxDiameterMm' | 'heightMm') =>
    measurement[size].sd / Math.min(...photos.flatMap(({ used, [size]: own }) => (used && own ? [own.sd] : [])));
  const reference = (jobs[shownPhoto].options.reference ?? ID1_CARD).name;
  const result = { outcome: 'measured', measurement, warnings } as const;
  return {
    ...measureLine(jobs[shownPhoto].path, result, reference, performance.now() - start),
    together: {
      photos,
      chiSquared,
      degreesOfFreedom,
      probability,
      gain: { maxDiameterMm: gain('maxDiameterMm'), heightMm: gain('heightMm') },
    } satisfies Together,
  };
}
