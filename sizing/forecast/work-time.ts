import type { Estimate } from '../estimate.ts';
import type { Gauge } from '../gauge.ts';
import type { PartName } from '../plan.ts';
import type { Tally } from './tally.ts';

/** One maker's timed swatches: 2.8 s a stitch, chains not counted (published); 12-30 a minute is usual. */
const SECONDS_PER_STITCH = 2.8;

/** A chain takes 1.2 s (common practice), so this share of a stitch. */
const CHAIN_SHARE = 1.2 / SECONDS_PER_STITCH;

/** Without a typed speed makers differ by a third; with one, a job differs from the next by a tenth: common practice. */
const RELATIVE_SD = 0.3;
const TIMED_RELATIVE_SD = 0.1;

/** Ring, markers, counting, weaving in the tails; sewing the cord on: common practice, no source. */
const HANDLING_MINUTES: Readonly<Record<PartName, number>> = {
  base: 3,
  wall: 1,
  mesh: 2,
  band: 3,
  drawstring: 3,
  strap: 8,
};

export function partMinutes(part: PartName, tally: Tally, gauge: Gauge): Estimate {
  const secondsPerStitch = gauge.stitchesPerMinute === null ? SECONDS_PER_STITCH : 60 / gauge.stitchesPerMinute;
  const stitches = tally.sc + tally.hdc + tally.dc + tally.tr + tally['sl st'] + tally.cord;
  const value = HANDLING_MINUTES[part] + ((stitches + tally.ch * CHAIN_SHARE) * secondsPerStitch) / 60;
  return { value, sd: value * (gauge.stitchesPerMinute === null ? RELATIVE_SD : TIMED_RELATIVE_SD) };
}

/** One person works all parts, so their errors are common. */
export function totalMinutes(parts: readonly Estimate[]): Estimate {
  return {
    value: parts.reduce((sum, part) => sum + part.value, 0),
    sd: parts.reduce((sum, part) => sum + part.sd, 0),
  };
}
