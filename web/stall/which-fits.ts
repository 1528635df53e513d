import type { Container } from '../../sizing/container.ts';
import { normalBelow } from '../../sizing/forecast/normal-distribution.ts';
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
/** A base less certain than this was not seen; those that are seen are known to a few per cent. */
const UNKNOWN_BASE = 0.1;
/** Lower than this share a full container may tip out: half is the centre of mass of a straight one, with 10 % over. */
const LOWEST_SHARE = 0.55;

/**
 * Chance that a finished carrier fits another container than the one it was made for.
 * Its own size is uncertain by its gauge, but it was tried on: so its error is a normal one cut off where it would not
 * have fitted its first container. The new container adds its error of measurement. Both move base and widest place
 * alike. Height decides by itself: too high covers the opening, too low lets a full container tip out.
 */
export function stockFit(carrier: FinishedCarrier, container: Container): StockFit {
  const { baseDiameterMm, maxDiameterMm } = container;
  const isBaseKnown = relativeSd(baseDiameterMm) < UNKNOWN_BASE;
  const atWidest = Math.log(container.maxDiameterMm.value / carrier.madeFor.widestMm);
  const [low, high] = carrier.holds.map(Math.log);
  const wider = Math.expm1(atWidest);
  const height = heightRisk(carrier, container);
  if (height) return { probability: 0, risk: height, wider };
  // a base that nobody saw says nothing against a carrier that holds the widest place
  const atBase = isBaseKnown ? Math.log(baseDiameterMm.value / carrier.madeFor.baseDiameterMm) : atWidest;
  const measured = Math.max(relativeSd(maxDiameterMm), isBaseKnown ? relativeSd(baseDiameterMm) : 0);
  const shifted = { low: low - Math.min(atBase, atWidest), high: high - Math.max(atBase, atWidest) };
  const chance = chances({ low, high }, shifted, carrier.relativeSd, measured);
  return { probability: chance.fits, risk: chance.tight >= chance.loose ? 'tight' : 'loose', wider };
}

interface Limits {
  readonly low: number;
  readonly high: number;
}

const STEPS = 200;

interface Chances {
  readonly fits: number;
  readonly tight: number;
  readonly loose: number;
}

/**
 * Chances that e + m lies within, above or below `next`, for m ~ N(0, measuredSd) and e ~ N(0, carrierSd) known to lie
 * in `tried`: midpoint rule over e, the normal of m in closed form. Limits that exclude each other fit never.
 */
function chances(tried: Limits, next: Limits, carrierSd: number, measuredSd: number): Chances {
  const sd = Math.max(carrierSd, 1e-6);
  const from = Math.max(tried.low, -6 * sd);
  const width = (Math.min(tried.high, 6 * sd) - from) / STEPS;
  if (width <= 0) return { fits: 0, tight: 0, loose: 0 };
  let [fits, tight, loose, all] = [0, 0, 0, 0];
  for (let step = 0; step < STEPS; step++) {
    const error = from + (step + 0.5) * width;
    const weight = Math.exp(-((error / sd) ** 2) / 2);
    const belowLow = below(next.low - error, measuredSd);
    const belowHigh = below(next.high - error, measuredSd);
    all += weight;
    loose += weight * belowLow;
    tight += weight * (1 - belowHigh);
    fits += weight * Math.max(0, belowHigh - belowLow);
  }
  return { fits: fits / all, tight: tight / all, loose: loose / all };
}

function below(value: number, sd: number): number {
  return normalBelow(value / Math.max(sd, 1e-6));
}

function relativeSd({ value, sd }: { readonly value: number; readonly sd: number }): number {
  return sd / value;
}

function heightRisk({ coverHeightMm }: FinishedCarrier, { heightMm }: Container): 'tips' | 'covers' | null {
  if (coverHeightMm === null) return null;
  if (coverHeightMm > HIGHEST_SHARE * heightMm.value) return 'covers';
  return coverHeightMm < LOWEST_SHARE * heightMm.value ? 'tips' : null;
}
