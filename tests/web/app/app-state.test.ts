import { describe, expect, test } from 'vitest';
import { type Measurement, problem } from '../../../vision/measurement.ts';
import {
  type Action,
  type AppState,
  canGo,
  isCardPlaced,
  measurementOf,
  reduce,
  START,
} from '../../../web/app/app-state.ts';
import { measuredResult } from '../../support/measured-result.ts';

const photo = { id: 'photo-0001', widthPx: 1200, heightPx: 1600, lens: { focal35Mm: 26, looksCropped: false } };
const corners = [
  [1, 1],
  [9, 1],
  [9, 6],
  [1, 6],
] as const;

function stateAfter(...actions: readonly Action[]): AppState {
  return actions.reduce(reduce, START);
}
const together = (of: readonly string[], measurement: Measurement): Action => ({
  type: 'together',
  jobId: 'job-0001',
  revision: 1,
  of,
  measurement,
});
const opened: Action = { type: 'photo-opened', id: 'job-0001', photo };
const measured: Action = { type: 'measured', jobId: 'job-0001', revision: 1, result: measuredResult };

describe('a job from photo to plan', () => {
  test('an opened photo leads to the sizes, where it is checked, and asks for a measurement', () => {
    const { screen, job } = stateAfter({ type: 'photo-opening' }, opened);
    expect(screen).toBe('sizes');
    expect(job?.revision).not.toBe(job?.measuredRevision);
  });

  test('the plan opens once something is measured', () => {
    expect(canGo(stateAfter(opened), 'plan')).toBe(false);
    expect(canGo(stateAfter(opened, measured), 'plan')).toBe(true);
  });

  test('several photos count as the one shape found for them, until a photo comes or goes', () => {
    const { measurement } = measuredResult;
    const joint = { ...measurement, arrangement: 'lying' } as const;
    const both = stateAfter(
      opened,
      measured,
      { type: 'further-photo', jobId: 'job-0001', further: { photo: 'photo-0002', measurement } },
      together(['photo-0001', 'photo-0002'], joint),
    );
    expect(both.job && measurementOf(both.job)).toBe(joint);
    const { job } = reduce(both, { type: 'without-further-photo', photo: 'photo-0002' });
    expect(job && measurementOf(job)).toBe(measurement);
  });

  test('a refused photo can be put right, and has no plan', () => {
    const result = {
      outcome: 'refused',
      reason: problem('no-card'),
      found: { cornersPx: null, outlinePx: null },
      warnings: [],
    } as const;
    const state = stateAfter(opened, { type: 'measured', jobId: 'job-0001', revision: 1, result });
    expect(canGo(state, 'sizes')).toBe(true);
    expect(canGo(state, 'plan')).toBe(false);
  });

  test('two tape numbers are enough for sizes, one is not', () => {
    const tape = { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 210 };
    expect(stateAfter({ type: 'tape-only', id: 'job-0002', tape }).screen).toBe('sizes');
    expect(canGo(stateAfter({ type: 'tape-only', id: 'job-0002', tape: { ...tape, heightMm: null } }), 'plan')).toBe(
      false,
    );
  });

  test('whatever is answered for another job, or for other photos of it, is dropped', () => {
    const { measurement } = measuredResult;
    const before = stateAfter(opened);
    const late: readonly Action[] = [
      { type: 'measured', jobId: 'job-0000', revision: 1, result: measuredResult },
      { type: 'further-photo', jobId: 'job-0000', further: { photo: 'photo-0009', measurement } },
      { type: 'stage', jobId: 'job-0000', stage: 'outline' },
      { type: 'trouble', jobId: 'job-0000', reason: 'engine-failed' },
      together(['photo-0001', 'photo-0009'], measurement),
    ];
    for (const action of late) expect(reduce(before, action)).toEqual(before);
  });
});

describe('undo and redo', () => {
  const moved: Action = { type: 'edit', edits: { cornersPx: corners } };
  const leaning: Action = { type: 'edit', edits: { arrangement: 'card-leaning' } };

  test('undo takes back one change at a time, redo brings it again', () => {
    const both = stateAfter(opened, moved, leaning);
    const once = reduce(both, { type: 'undo' });
    expect(once.job?.edits).toMatchObject({ cornersPx: corners, arrangement: null });
    expect(reduce(once, { type: 'undo' }).job?.edits.cornersPx).toBeNull();
    expect(reduce(once, { type: 'redo' }).job?.edits.arrangement).toBe('card-leaning');
  });

  test('every change, undone or not, asks for a new measurement', () => {
    const revisions = [stateAfter(opened), stateAfter(opened, moved), stateAfter(opened, moved, { type: 'undo' })].map(
      (state) => state.job?.revision,
    );
    expect(new Set(revisions).size).toBe(3);
  });

  test('a new change after undo forgets what could be redone', () => {
    const state = stateAfter(opened, moved, { type: 'undo' }, leaning);
    expect(state.job?.future).toEqual([]);
  });

  test('undo with nothing to undo changes nothing', () => {
    const state = stateAfter(opened);
    expect(reduce(state, { type: 'undo' })).toEqual(state);
  });

  test('find again lets go of what was placed, and can be undone', () => {
    const state = stateAfter(opened, moved, { type: 'find-again' });
    expect(state.job?.edits.cornersPx).toBeNull();
    expect(reduce(state, { type: 'undo' }).job?.edits.cornersPx).toEqual(corners);
  });
});

test('the card is covered wherever it was ever seen or placed, also after undo', () => {
  const state = stateAfter(opened, measured, { type: 'edit', edits: { cornersPx: corners } }, { type: 'undo' });
  expect(state.job?.cardPlaces).toContainEqual(corners);
  expect(state.job?.cardPlaces).toContainEqual(measuredResult.measurement.card.cornersPx);
});

test('a place where the card was found stays covered when another thing is measured beside, found again or guessed', () => {
  const elsewhere = corners.map(([x, y]) => [x + 500, y] as const) as unknown as typeof corners;
  const refused = {
    outcome: 'refused',
    reason: problem('no-round-reference'),
    found: { cornersPx: null, outlinePx: null, cornersGuessPx: elsewhere },
    warnings: [],
  } as const;
  const state = stateAfter(
    opened,
    measured,
    { type: 'edit', edits: { reference: '2 euro' } },
    { type: 'measured', jobId: 'job-0001', revision: 2, result: refused },
    { type: 'edit', edits: { cornersPx: corners } },
    { type: 'find-again' },
  );
  expect(state.job?.cardPlaces).toEqual([measuredResult.measurement.card.cornersPx, elsewhere, corners]);
});

test('a mere guess is covered, but not enough to keep a picture', () => {
  const guess = {
    outcome: 'refused',
    reason: problem('no-card'),
    found: { cornersPx: null, outlinePx: null, cornersGuessPx: corners },
    warnings: [],
  } as const;
  const { job } = stateAfter(opened, { type: 'measured', jobId: 'job-0001', revision: 1, result: guess });
  expect(job && isCardPlaced(job)).toBe(false);
  expect(job?.cardPlaces).toEqual([corners]);
});
