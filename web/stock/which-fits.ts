import type { Container } from '../../sizing/container.ts';
import { normalBetween } from '../../sizing/normal-distribution.ts';
import type { FinishedCarrier } from './finished-carrier.ts';

/** How a finished carrier would sit on a container. */
export interface StockFit {
  /** That it goes over and holds. */
  readonly probability: number;
  /** What is most likely wrong when it does not fit. */
  readonly risk: 'tight' | 'loose' | 'tips' | 'covers';
  /** This container's widest place over the one the carrier was made for, minus 1. */
  readonly wider: number;
}

/** A carrier this high on the container, as a share of its height, still leaves the top free: common practice. */
const HIGHEST_SHARE = 0.97;
/** Lower than this share a full container may tip out: half is the centre of mass of a straight one, with 10 % over. */
const LOWEST_SHARE = 0.55;

/** From this chance on a piece is offered as one that fits. */
export const FITS_FROM = 0.5;

/**
 * Container and carrier each have a size with an uncertainty; the piece fits while the container around is between
 * the carrier's two limits, at the base as at the widest place. One error moves both, so the limits are intersected.
 * Height decides by itself: too high covers the opening, too low lets a full container tip out.
 */
export function stockFit(carrier: FinishedCarrier, container: Container): StockFit {
  const atBase = container.baseDiameterMm.value / carrier.madeFor.baseDiameterMm;
  const atWidest = container.maxDiameterMm.value / carrier.madeFor.widestMm;
  const [smallest, largest] = carrier.holds;
  const sd = Math.hypot(
    container.maxDiameterMm.sd / container.maxDiameterMm.value,
    container.baseDiameterMm.sd / container.baseDiameterMm.value / 2,
    carrier.relativeSd,
  );
  const low = Math.log(smallest / Math.min(atBase, atWidest));
  const high = Math.log(largest / Math.max(atBase, atWidest));
  const around = normalBetween(0, sd, low, high);
  const height = heightRisk(carrier, container);
  const wider = atWidest - 1;
  if (height) return { probability: 0, risk: height, wider };
  return { probability: around, risk: high + low < 0 ? 'tight' : 'loose', wider };
}

/** All pieces, the likeliest first. */
export function rankedStock<T extends { readonly carrier: FinishedCarrier }>(
  items: readonly T[],
  container: Container,
): { readonly item: T; readonly fit: StockFit }[] {
  return items
    .map((item) => ({ item, fit: stockFit(item.carrier, container) }))
    .sort((a, b) => b.fit.probability - a.fit.probability || Math.abs(a.fit.wider) - Math.abs(b.fit.wider));
}

function heightRisk({ coverHeightMm }: FinishedCarrier, { heightMm }: Container): 'tips' | 'covers' | null {
  if (coverHeightMm === null) return null;
  if (coverHeightMm > HIGHEST_SHARE * heightMm.value) return 'covers';
  return coverHeightMm < LOWEST_SHARE * heightMm.value ? 'tips' : null;
}
