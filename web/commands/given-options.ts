import { readFile } from 'node:fs/promises';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { MeasureOptions } from '../../vision/measure-photo.ts';
import { ARRANGEMENTS } from '../../vision/measurement.ts';
import {
  cornersOption,
  numberOption,
  oneOf,
  pointOption,
  pointsOption,
  referenceOption,
  refuseBoth,
  roundReferenceOption,
  UsageError,
} from './command-line.ts';
import { readTruth } from './truth.ts';

/** Options that `measure` and `accuracy` share: what to take as given instead of finding it. */
export const GIVEN_OPTIONS = {
  arrangement: { type: 'string' },
  reference: { type: 'string' },
  round: { type: 'string' },
  'round-at': { type: 'string' },
  rim: { type: 'string' },
  focal35: { type: 'string' },
  at: { type: 'string' },
  card: { type: 'string' },
  outline: { type: 'string' },
} as const;

export const GIVEN_OPTIONS_HELP = `  --arrangement A   standing, lying, card-on-front or card-leaning (default: found)
  --reference R     ID-1 (default), ID-2, ID-3, A4, A5, A6, "US Letter", or WIDTHxHEIGHT[xTHICKNESS] in mm
  --round NAME      a coin or disc instead, on the table the container stands or lies on: "2 euro", "US quarter",
                    "optical disc", ..., or dDIAMETER[xTHICKNESS]; expect two to four times the error of a card
  --round-at X,Y    a point on it, in pixels, when something else is taken for it
  --rim R           its outer rim "x,y x,y ..." (6 points or more, all round, in order) instead of finding it
  --focal35 MM      35 mm-equivalent focal length, instead of what the file says
  --at X,Y|truth    a point inside the container, in pixels
  --card C|truth    the card's corners "x,y x,y x,y x,y" instead of finding them
  --outline F|truth a JSON file [[x,y],...] with the container's outline instead of finding it
                    "truth" takes it from the truth file beside the photo`;

export type Given = { readonly [K in keyof typeof GIVEN_OPTIONS]?: string };

/** Corners and outlines from a truth file are exact to about this, px (sample-images/README.md). */
const TRUTH_SD_PX = 0.3;

/** Turns the shared options into MeasureOptions for one photo. */
export async function givenOptions(given: Given, photoPath: string): Promise<MeasureOptions> {
  refuseBoth(given, 'reference', 'round');
  refuseBoth(given, 'card', 'round');
  refuseBoth(given, 'rim', 'round-at');
  if (given.round === undefined && (given.rim ?? given['round-at']) !== undefined) {
    throw new UsageError('--rim and --round-at need --round');
  }
  const usesTruth = [given.at, given.card, given.outline].includes('truth');
  const truth = usesTruth ? await readTruth(photoPath) : null;
  if (usesTruth && !truth) throw new UsageError(`${photoPath}: no truth file beside this photo`);
  // A true outline without the true card would mix what is known with what is found.
  const trueCard = given.card === 'truth' || (given.outline === 'truth' && given.card === undefined);
  return {
    arrangement: oneOf('arrangement', given.arrangement, ARRANGEMENTS),
    reference: roundReferenceOption(given.round) ?? referenceOption(given.reference),
    referencePx: given['round-at'] === undefined ? undefined : pointOption('round-at', given['round-at']),
    rimPx: given.rim === undefined ? undefined : pointsOption('rim', given.rim, 6),
    focal35Mm: numberOption('focal35', given.focal35, 8, 1000),
    tapPx:
      given.at === 'truth'
        ? (truth?.insidePx ?? undefined)
        : given.at === undefined
          ? undefined
          : pointOption('at', given.at),
    cornersPx: trueCard
      ? (truth?.cornersPx ?? undefined)
      : given.card === undefined
        ? undefined
        : cornersOption(given.card),
    outlinePx:
      given.outline === 'truth'
        ? (truth?.outlinePx ?? undefined)
        : given.outline === undefined
          ? undefined
          : await readOutline(given.outline),
    placementSdPx: usesTruth && given.at === undefined ? TRUTH_SD_PX : undefined,
  };
}

async function readOutline(path: string): Promise<readonly ImagePoint[]> {
  let points: unknown;
  try {
    points = JSON.parse(await readFile(path, 'utf8'));
  } catch {
    throw new UsageError(`--outline ${path}: not a readable JSON file`);
  }
  const isPoint = (point: unknown): point is [number, number] =>
    Array.isArray(point) && point.length === 2 && point.every((n) => typeof n === 'number' && Number.isFinite(n));
  if (!Array.isArray(points) || points.length < 8 || !points.every(isPoint)) {
    throw new UsageError(`--outline ${path}: expected a JSON list of at least 8 points [x,y]`);
  }
  return points;
}
