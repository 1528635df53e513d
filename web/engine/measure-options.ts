import type { SolidInView } from '../../vision/container/solid-in-view.ts';
import type { MeasureOptions } from '../../vision/measure-photo.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import type { Edits } from '../app/app-state.ts';
import { anyReferenceNamed } from '../reference/reference-named.ts';

/**
 * What the engine is told: everything the maker placed or said.
 * @param found  give it to hold what was found before as well, so that no pixel is looked at: quick enough while a
 *               point is dragged, and possible when the photo itself is gone
 * @param shown  the sizes on the screen: once card and outline are placed, only they tell which end of a container that
 *               lies down is its base
 */
export function measureOptions(edits: Edits, found: MeasureResult | null, shown = found): MeasureOptions {
  const reference = edits.reference === null ? null : anyReferenceNamed(edits.reference);
  const cornersPx = edits.cornersPx ?? (found && cornersOf(found));
  const outlinePx = edits.outlinePx ?? (found && outlineOf(found));
  const arrangement = edits.arrangement ?? (found?.outcome === 'measured' ? found.measurement.arrangement : null);
  const basePx = edits.basePx ?? (cornersPx && outlinePx && lyingBaseOf(shown));
  return {
    ...(arrangement && { arrangement }),
    ...(reference && { reference }),
    ...(edits.referencePx && !cornersPx && { referencePx: edits.referencePx }),
    ...(edits.tapPx && !outlinePx && { tapPx: edits.tapPx }),
    ...(cornersPx && { cornersPx }),
    ...(outlinePx && { outlinePx }),
    ...(basePx && { baseNearPx: basePx }),
    ...(edits.cornersPx && { snapCorners: true }),
    ...(edits.cornersPx && edits.placementSdPx && { placementSdPx: edits.placementSdPx }),
    ...(edits.hand && edits.hand.length > 0 && { hand: edits.hand }),
  };
}

export function cornersOf(result: MeasureResult) {
  return result.outcome === 'measured' ? result.measurement.card.cornersPx : result.found.cornersPx;
}

export function outlineOf(result: MeasureResult) {
  return result.outcome === 'measured' ? result.measurement.outlinePx : result.found.outlinePx;
}

/** The container as it is drawn over the photo, measured or guessed; null where there is none. */
export function solidOfResult(result: MeasureResult): SolidInView | null {
  if (result.outcome === 'refused') return result.found.solid ?? null;
  const { view, profile } = result.measurement;
  return view && { view, profile };
}

function lyingBaseOf(result: MeasureResult | null) {
  return result?.outcome === 'measured' && result.measurement.arrangement === 'lying'
    ? result.measurement.axisPx[0]
    : null;
}
