import type { CornersPx, ImagePoint } from './frames.ts';
import type { Arrangement } from './measurement.ts';
import type { FlatReference } from './reference.ts';

/** What the maker may tell the engine; everything left out is found in the photo. */
export interface MeasureOptions {
  readonly arrangement?: Arrangement;
  readonly reference?: FlatReference;
  /** 35 mm-equivalent focal length, overriding the photo's metadata. */
  readonly focal35Mm?: number;
  /** A point inside the container. */
  readonly tapPx?: ImagePoint;
  /** The card's corners, placed by hand. */
  readonly cornersPx?: CornersPx;
  /** The container's outline as a closed polygon, placed by hand. With `cornersPx` too, no pixel is looked at. */
  readonly outlinePx?: readonly ImagePoint[];
  /** Standard uncertainty of hand-placed points, px. Default: what a thumb on a zoomed photo does. */
  readonly placementSdPx?: number;
}
