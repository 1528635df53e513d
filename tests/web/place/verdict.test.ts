import { describe, expect, test } from 'vitest';
import { estimate } from '../../../vision/estimate.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { problem } from '../../../vision/measurement.ts';
import { type Job, newJob, reduce, START } from '../../../web/app/app-state.ts';
import { NO_TAPE } from '../../../web/keep/tape.ts';
import { doubtsOf, verdictOnPhoto } from '../../../web/place/verdict.ts';
import { measuredResult } from '../../support/measured-result.ts';

const found = measuredResult.measurement.card.cornersPx;
/** Of a finger on the whole of a 12-megapixel photo, 390 CSS px wide. */
const FINGER_SD_PX = 23;

/** The photo measured without a hand, then with a corner placed, as the engine uses it. */
function afterPlacing(placed: CornersPx, used: CornersPx, reference: string | null = null): Job {
  const photo = { id: 'photo', widthPx: 3024, heightPx: 4032, lens: { focal35mm: null, looksCropped: false } };
  const job = { ...newJob('job', photo as never, NO_TAPE, null) };
  const measured = (cornersPx: CornersPx) => ({
    ...measuredResult,
    measurement: { ...measuredResult.measurement, card: { cornersPx, reference: 'ID-1' } },
  });
  const state = [
    { type: 'measured', jobId: 'job', revision: 1, result: measured(found) } as const,
    { type: 'edit', edits: { cornersPx: placed, placementSdPx: FINGER_SD_PX, reference } } as const,
    { type: 'measured', jobId: 'job', revision: 2, result: measured(used) } as const,
  ].reduce(reduce, { ...START, job });
  return state.job as Job;
}

const verdictOf = (job: Job) => job.result && verdictOnPhoto(job.result, job);
const movedBy = (px: number): CornersPx => [[found[0][0] - px, found[0][1]], found[1], found[2], found[3]];
/** The same four points as the engine gives them back: it begins with another corner. */
const asUsed = ([a, b, c, d]: CornersPx): CornersPx => [b, c, d, a];

describe('the verdict on the photo', () => {
  test('is green for a clear photo', () => {
    const job = { ...newJob('job', null, NO_TAPE, null), result: measuredResult };
    expect(verdictOf(job)).toEqual({ kind: 'sure', says: 'right' });
  });

  test('asks for a look at the card when a corner stands where a hand put it, more than three of its sds beside the edges found', () => {
    const placed = movedBy(4 * FINGER_SD_PX);
    expect(verdictOf(afterPlacing(placed, asUsed(placed)))).toEqual({ kind: 'doubt', says: 'card' });
  });

  test('does not when the hand is as near as hands are, or the card was laid on edges in the photo', () => {
    const near = movedBy(2 * FINGER_SD_PX);
    expect(verdictOf(afterPlacing(near, asUsed(near)))?.kind).toBe('sure');
    const elsewhere = movedBy(4 * FINGER_SD_PX);
    const onEdges: CornersPx = [[elsewhere[0][0] + 1, elsewhere[0][1]], elsewhere[1], elsewhere[2], elsewhere[3]];
    expect(verdictOf(afterPlacing(elsewhere, onEdges))?.kind).toBe('sure');
  });

  test('does not for a card placed on another thing than the one found', () => {
    const across: CornersPx = found.map(([x, y]) => [x, y + 400]) as unknown as CornersPx;
    expect(verdictOf(afterPlacing(across, asUsed(across)))?.kind).toBe('sure');
  });

  test('asks for a tape when a size is less certain than makers are told of elsewhere, sd 3 %', () => {
    const wide = (sd: number) => ({
      ...measuredResult,
      measurement: { ...measuredResult.measurement, maxDiameterMm: estimate(72, sd) },
    });
    const judged = (sd: number, tape = NO_TAPE) => verdictOf({ ...newJob('job', null, tape, null), result: wide(sd) });
    expect(judged(0.029 * 72)?.kind).toBe('sure');
    expect(judged(0.031 * 72)).toEqual({ kind: 'doubt', says: 'wide' });
    // and is content once the tape has said it
    expect(judged(0.031 * 72, { ...NO_TAPE, circumferenceMm: 72 * Math.PI })?.kind).toBe('sure');
  });

  test('asks which is right when tape and photo are more than three sds apart', () => {
    const job = {
      ...newJob('job', null, { ...NO_TAPE, baseCircumferenceMm: 53 * Math.PI }, null),
      result: measuredResult,
    };
    expect(verdictOf(job)).toEqual({ kind: 'doubt', says: 'tape' });
  });

  test('says nothing of a wider ± that nothing on the photo can mend', () => {
    const result = { ...measuredResult, warnings: [problem('typical-focal')] };
    expect(doubtsOf(result, { ...newJob('job', null, NO_TAPE, null), result })).toEqual([]);
  });
});
