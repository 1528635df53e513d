import type { CornersPx, ImagePoint } from '../geometry/frames.ts';
import type { FocalPrior, Photo } from '../picture/photo.ts';
import type { FlatReference } from '../reference/reference.ts';
import type { RoundReference } from '../reference/round-reference.ts';
import { type RoundViewInput, roundTableView } from '../reference/round-view.ts';
import { tableView, type UncertainTableView } from '../reference/table-view.ts';
import type { CardSighting } from '../sighting.ts';

/** The thing of known size as it lies in the photo, and the camera over the table that follows from it. */
export interface SeenReference {
  /** Around it, closed. */
  readonly outlinePx: readonly ImagePoint[];
  readonly areaMm2: number;
  /** Null when what is seen is no view of it. */
  readonly view: UncertainTableView | null;
  /** Of a rectangle. */
  readonly cornersPx: CornersPx | null;
}

export function seenCard(
  photo: Photo,
  card: CardSighting,
  reference: FlatReference,
  focalPrior: FocalPrior,
): SeenReference {
  const { widthPx, heightPx } = photo;
  return {
    outlinePx: card.cornersPx,
    areaMm2: reference.widthMm * reference.heightMm,
    view: tableView({ card, reference, focalPrior, widthPx, heightPx, looksCropped: photo.lens.looksCropped }),
    cornersPx: card.cornersPx,
  };
}

/**
 * @param rimPx  points on its rim, all round, in order
 * @param edge  which rim that is (round-view.ts)
 * @param pointSdPx  standard uncertainty of each
 */
export function seenRound(
  photo: Photo,
  rimPx: readonly ImagePoint[],
  pointSdPx: number,
  reference: RoundReference,
  focalPrior: FocalPrior,
  edge: RoundViewInput['edge'] = 'upper',
): SeenReference {
  const { widthPx, heightPx } = photo;
  const { looksCropped } = photo.lens;
  return {
    outlinePx: rimPx,
    areaMm2: (Math.PI * reference.diameterMm ** 2) / 4,
    view: roundTableView({ rimPx, edge, pointSdPx, reference, focalPrior, widthPx, heightPx, looksCropped }),
    cornersPx: null,
  };
}
