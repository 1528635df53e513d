import { focalPriorFromLens } from '../geometry/focal-prior.ts';
import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { Engine } from '../measure-photo.ts';
import { type ProblemCode, problem, type Stage } from '../measurement.ts';
import { coarseSighting } from '../network/coarse-sighting.ts';
import type { FocalPrior, Photo } from '../picture/photo.ts';
import { cardInPhoto } from '../reference/card-in-photo.ts';
import { findRound } from '../reference/find-round.ts';
import { placeCard } from '../reference/place-card.ts';
import { type FlatReference, ID1_CARD } from '../reference/reference.ts';
import type { RoundReference } from '../reference/round-reference.ts';
import { snapCard } from '../reference/snap-card.ts';
import { type DiscResult, measureDisc } from './measure-disc.ts';
import { measureSwatch, type SwatchResult } from './measure-swatch.ts';
import { measureTube, type TubeResult } from './measure-tube.ts';
import { type SeenReference, seenCard, seenRound } from './seen-reference.ts';
import { PLACEMENT_SD_PX, type RowDirection, type WorkPhoto } from './work-photo.ts';

export const WORK_PIECES = ['disc', 'swatch', 'tube'] as const;
export type WorkPiece = (typeof WORK_PIECES)[number];

/** Looking for what gives the scale, then for the work. */
export type WorkStage = Extract<Stage, 'card' | 'outline'>;

/** A coin or disc instead of a card. */
export interface PlacedRound {
  readonly reference: RoundReference;
  /** The rim of its upper face marked by hand: six points or more, all round, in order. Found when left out. */
  readonly rimPx?: readonly ImagePoint[];
}

/** What the maker may say about a photo of her work; everything left out is found in the photo. */
export interface WorkOptions {
  readonly reference?: FlatReference;
  readonly round?: PlacedRound;
  /** 35 mm-equivalent focal length, overriding the photo's metadata. */
  readonly focal35Mm?: number;
  /** A point inside the work. */
  readonly insidePx?: ImagePoint;
  /** The card's corners, placed by hand. */
  readonly cornersPx?: CornersPx;
  /** Corners placed by hand jump onto the card's edges where they lie beside them. */
  readonly snapCorners?: boolean;
  /** Where the card is to a few per cent of its size; the network guesses when left out. */
  readonly cornersHintPx?: CornersPx;
  /** The work's edge as a closed polygon, placed by hand. */
  readonly edgePx?: readonly ImagePoint[];
  readonly placementSdPx?: number;
  /** Thickness of one layer of the fabric. */
  readonly thicknessMm?: number;
  /** Stitches in the last round or in a row (tube: all the way round). */
  readonly stitches?: number;
  readonly rowsRun?: RowDirection;
}

type PieceResult =
  | ({ readonly piece: 'disc' } & DiscResult)
  | ({ readonly piece: 'swatch' } & SwatchResult)
  | ({ readonly piece: 'tube' } & TubeResult);

/** The rim of the coin or disc beside the work, where it was found or placed. */
interface BesideRound {
  readonly rimPx?: readonly ImagePoint[] | undefined;
}

/** A measurement says where the card was found, too; null with a round reference. */
export type WorkResult = BesideRound &
  (
    | (Extract<PieceResult, { outcome: 'measured' }> & { readonly cornersPx: CornersPx | null })
    | Extract<PieceResult, { outcome: 'refused' }>
  );

/**
 * Measures a flat piece of work beside a reference card: photo -> card -> camera over the table -> edge -> sizes.
 * @param onStage  called as each stage begins
 */
export function measureWork(
  engine: Engine,
  photo: Photo,
  piece: WorkPiece,
  options: WorkOptions = {},
  onStage: (stage: WorkStage) => void = () => {},
): WorkResult {
  const reference = options.reference ?? ID1_CARD;
  const lens = options.focal35Mm ? { ...photo.lens, focal35Mm: options.focal35Mm } : photo.lens;
  const focalPrior = focalPriorFromLens(lens, photo.widthPx, photo.heightPx);
  onStage('card');
  const found = options.round
    ? roundIn(engine, photo, options.round, options, focalPrior)
    : cardIn(engine, photo, focalPrior, reference, options);
  if ('problem' in found) {
    const nothing = { cornersPx: null, edgePx: options.edgePx ?? null };
    return { piece, outcome: 'refused', reason: problem(found.problem), found: nothing };
  }
  const input: WorkPhoto & WorkDetails = { ...options, photo, reference: found.seen };
  const lensWarnings = [
    ...(focalPrior.source === 'typical-phone' ? [problem('typical-focal')] : []),
    ...(photo.lens.looksCropped ? [problem('looks-cropped')] : []),
  ];
  onStage('outline');
  const result = measurePiece(piece, input);
  const rimPx = options.round && found.seen.outlinePx;
  if (result.outcome === 'refused') return { ...result, rimPx };
  return { ...result, rimPx, cornersPx: found.seen.cornersPx, warnings: [...lensWarnings, ...result.warnings] };
}

type WorkDetails = Pick<WorkOptions, 'stitches' | 'rowsRun'>;

function measurePiece(piece: WorkPiece, input: WorkPhoto & WorkDetails): PieceResult {
  if (piece === 'disc') return { piece, ...measureDisc(input) };
  if (piece === 'swatch') return { piece, ...measureSwatch(input) };
  return { piece, ...measureTube(input) };
}

type FoundReference = { readonly seen: SeenReference } | { readonly problem: ProblemCode };

function cardIn(
  engine: Engine,
  photo: Photo,
  focalPrior: FocalPrior,
  reference: FlatReference,
  options: WorkOptions,
): FoundReference {
  if (!options.cornersPx) {
    const cornersPx = options.cornersHintPx ?? guessedCorners(engine, photo);
    const hint = cornersPx && { cornersPx };
    const choice = cardInPhoto(engine.cv, photo, { focalPrior, reference, hint });
    return 'problem' in choice ? choice : { seen: seenCard(photo, choice.card, reference, focalPrior) };
  }
  const { widthPx, heightPx } = photo;
  const sdPx = options.placementSdPx ?? PLACEMENT_SD_PX;
  const card = placeCard(options.cornersPx, { widthPx, heightPx, focalPrior, reference, sdPx });
  if (!card) return { problem: 'no-card' };
  const snapped =
    options.snapCorners && photo.rgba.length > 0 ? snapCard(photo, card, sdPx, { focalPrior, reference }) : card;
  return { seen: seenCard(photo, snapped, reference, focalPrior) };
}

/** Where the network sees the card: finding it is then twice as fast, and finds the same. */
function guessedCorners({ outlineModel }: Engine, photo: Photo): CornersPx | undefined {
  const guessed = outlineModel && coarseSighting(outlineModel, photo).cardCornersPx;
  if (!guessed) return undefined;
  const [a, b, c, d] = guessed.map(({ atPx }) => atPx);
  return [a, b, c, d];
}

function roundIn(
  { cv }: Engine,
  photo: Photo,
  { reference, rimPx }: PlacedRound,
  { placementSdPx, insidePx }: WorkOptions,
  focalPrior: FocalPrior,
): FoundReference {
  if (!rimPx) {
    const rim = findRound(cv, photo, insidePx ?? null);
    if (!rim) return { problem: 'no-round-reference' };
    return { seen: seenRound(photo, rim.rimPx, rim.pointSdPx, reference, focalPrior, 'outermost') };
  }
  return { seen: seenRound(photo, rimPx, placementSdPx ?? PLACEMENT_SD_PX, reference, focalPrior) };
}
