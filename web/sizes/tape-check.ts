import { type Container, containerFromTape } from '../../sizing/container.ts';
import type { Estimate } from '../../sizing/estimate.ts';
import type { Tape } from '../keep/records.ts';

/** What photo and tape say about one size, and what both say together. */
export interface TapeCheck {
  readonly size: 'widest' | 'base' | 'height';
  readonly photo: Estimate;
  readonly tape: Estimate;
  readonly together: Estimate;
  /** Distance between the two in standard uncertainties of their difference. */
  readonly apartSds: number;
  readonly verdict: 'agree' | 'apart' | 'disagree';
}

/** A tape around a container, read to the millimetre and lying a little askew: common practice, no source. */
export const TAPE_AROUND_SD_MM = 1.5;
/** A height read beside the container: common practice, no source. */
export const TAPE_HEIGHT_SD_MM = 1;

/** Beyond 2 standard uncertainties 1 in 20 honest pairs lies, beyond 3 one in 370: then one is misread, and she is asked. */
const APART_SDS = 2;
const DISAGREE_SDS = 3;

/**
 * Weighted mean of two readings, weights 1/sd^2. When they lie further apart than their uncertainties allow, the sd of
 * the mean is multiplied by sqrt(chi^2 / (N - 1)), here their distance in sds.
 * Source: Particle Data Group, Review of Particle Physics, Introduction, "Unconstrained averaging" (scale factor S).
 */
export function weightedMean(a: Estimate, b: Estimate): Estimate & { readonly apartSds: number } {
  const weightA = 1 / a.sd ** 2;
  const weightB = 1 / b.sd ** 2;
  const apartSds = Math.abs(a.value - b.value) / Math.hypot(a.sd, b.sd);
  return {
    value: (a.value * weightA + b.value * weightB) / (weightA + weightB),
    sd: Math.max(1, apartSds) / Math.sqrt(weightA + weightB),
    apartSds,
  };
}

/** One check for each tape number typed. */
export function tapeChecks(photo: Container, tape: Tape): TapeCheck[] {
  const checks: TapeCheck[] = [];
  if (tape.circumferenceMm !== null) checks.push(check('widest', photo.maxDiameterMm, across(tape.circumferenceMm)));
  if (tape.baseCircumferenceMm !== null)
    checks.push(check('base', photo.baseDiameterMm, across(tape.baseCircumferenceMm)));
  if (tape.heightMm !== null) {
    checks.push(check('height', photo.heightMm, { value: tape.heightMm, sd: TAPE_HEIGHT_SD_MM }));
  }
  return checks;
}

/** The sizes that photo and tape do not agree on: a mean of the two is neither's. */
export function tapeDisagreements(photo: Container, tape: Tape): TapeCheck[] {
  return tapeChecks(photo, tape).filter(({ verdict }) => verdict === 'disagree');
}

/**
 * The photo's container with the tape's numbers worked in. The shape stays the photo's: radii and heights are
 * stretched alike, since errors of camera and card stretch the whole container. What no tape touched keeps its own
 * uncertainty.
 */
export function withTape(photo: Container, tape: Tape): Container {
  const checks = tapeChecks(photo, tape);
  const together = (size: TapeCheck['size']) => checks.find((each) => each.size === size)?.together ?? null;
  const widest = together('widest');
  const base = together('base');
  const height = together('height');
  const wider = widest ? widest.value / photo.maxDiameterMm.value : 1;
  const baseWider = base ? base.value / photo.baseDiameterMm.value : wider;
  const widestFactor = widest || !base ? wider : baseWider;
  const taller = height ? height.value / photo.heightMm.value : 1;
  const tallestMm = photo.heightMm.value;
  return {
    ...photo,
    heightMm: height ?? photo.heightMm,
    maxDiameterMm: widest ?? stretched(photo.maxDiameterMm, widestFactor),
    baseDiameterMm: base ?? stretched(photo.baseDiameterMm, baseWider),
    profile: photo.profile.map(({ zMm, radiusMm, sdMm }) => {
      // From the base's stretch at the table to the widest place's at half the height and above.
      const up = Math.min(1, (2 * zMm) / tallestMm);
      return { zMm: zMm * taller, radiusMm: radiusMm * (baseWider + up * (widestFactor - baseWider)), sdMm };
    }),
    shoulderZMm: photo.shoulderZMm && stretched(photo.shoulderZMm, taller),
  };
}

/** The container the tape alone tells; null while a number is missing. */
export function containerFromTapeAlone(tape: Tape): Container | null {
  if (tape.circumferenceMm === null || tape.heightMm === null) return null;
  const widestMm = tape.circumferenceMm / Math.PI;
  const baseMm = tape.baseCircumferenceMm === null ? widestMm : tape.baseCircumferenceMm / Math.PI;
  return containerFromTape({ diameterMm: baseMm, topDiameterMm: widestMm, heightMm: tape.heightMm });
}

function check(size: TapeCheck['size'], photo: Estimate, tape: Estimate): TapeCheck {
  const { value, sd, apartSds } = weightedMean(photo, tape);
  const verdict = apartSds <= APART_SDS ? 'agree' : apartSds <= DISAGREE_SDS ? 'apart' : 'disagree';
  return { size, photo, tape, together: { value, sd }, apartSds, verdict };
}

function across(circumferenceMm: number): Estimate {
  return { value: circumferenceMm / Math.PI, sd: TAPE_AROUND_SD_MM / Math.PI };
}

function stretched(estimate: Estimate, factor: number): Estimate {
  return { value: estimate.value * factor, sd: estimate.sd };
}
