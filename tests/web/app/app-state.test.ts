import { describe, expect, test } from 'vitest';
import { problem } from '../../../vision/measurement.ts';
import {
  type Action,
  type AppState,
  canGo,
  cardPlaces,
  measurementOf,
  reduce,
  START,
} from '../../../web/app/app-state.ts';
import { measuredResult } from '../../support/measured-result.ts';

const facts = { widthPx: 1200, heightPx: 1600, lens: { focal35Mm: 26, looksCropped: false } };
const corners = [
  [1, 1],
  [9, 1],
  [9, 6],
  [1, 6],
] as const;

function stateAfter(...actions: readonly Action[]): AppState {
  return actions.reduce(reduce, START);
}
const opened: Action = { type: 'photo-opened', id: 'job-0001', name: 'bottle.jpg', facts };
const measured: Action = { type: 'measured', jobId: 'job-0001', revision: 1, result: measuredResult };

describe('a job from photo to plan', () => {
  test('an opened photo leads to the check step and asks for a measurement', () => {
    const { screen, job } = stateAfter({ type: 'photo-opening' }, opened);
    expect(screen).toBe('check');
    expect(job?.revision).not.toBe(job?.measuredRevision);
  });

  test('sizes and plan open once something is measured', () => {
    expect(canGo(stateAfter(opened), 'sizes')).toBe(false);
    expect(canGo(stateAfter(opened, measured), 'plan')).toBe(true);
  });

  test('several photos count as the one shape found for them, until a photo comes or goes', () => {
    const { measurement } = measuredResult;
    const joint = { ...measurement, arrangement: 'lying' } as const;
    const both = stateAfter(
      opened,
      measured,
      { type: 'further-photos', photos: [measurement] },
      { type: 'together', jobId: 'job-0001', measurement: joint },
    );
    expect(both.job && measurementOf(both.job)).toBe(joint);
    const { job } = reduce(both, { type: 'further-photos', photos: [] });
    expect(job && measurementOf(job)).toBe(measurement);
  });

  test('a refused photo leaves the check step open and the sizes closed', () => {
    const result = {
      outcome: 'refused',
      reason: problem('no-card'),
      found: { cornersPx: null, outlinePx: null },
      warnings: [],
    } as const;
    const state = stateAfter(opened, { type: 'measured', jobId: 'job-0001', revision: 1, result });
    expect(canGo(state, 'check')).toBe(true);
    expect(canGo(state, 'sizes')).toBe(false);
  });

  test('two tape numbers are enough for sizes, one is not', () => {
    const tape = { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 210 };
    expect(stateAfter({ type: 'tape-only', id: 'job-0002', tape }).screen).toBe('sizes');
    expect(canGo(stateAfter({ type: 'tape-only', id: 'job-0002', tape: { ...tape, heightMm: null } }), 'plan')).toBe(
      false,
    );
  });

  test('a result that comes in for another photo is dropped', () => {
    const state = stateAfter(opened, { type: 'measured', jobId: 'job-0000', revision: 1, result: measuredResult });
    expect(state.job?.result).toBeNull();
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
  const places = state.job ? cardPlaces(state.job) : [];
  expect(places).toContainEqual(corners);
  expect(places).toContainEqual(measuredResult.measurement.card.cornersPx);
});
