import { describe, expect, test } from 'vitest';
import type { WorkResult } from '../../../vision/flat-piece/measure-work.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { problem } from '../../../vision/measurement.ts';
import {
  cardPlacesOfWork,
  foundAgain,
  newWorkCheck,
  questionOf,
  redone,
  rowDirectionsToAsk,
  undone,
  type WorkCheck,
  withCounts,
  withPhoto,
  withPlaced,
  workIn,
  workOptions,
} from '../../../web/flat-piece/work-check.ts';

const square = (at: number): CornersPx => [
  [at, at],
  [at + 9, at],
  [at + 9, at + 6],
  [at, at + 6],
];
const photo = { id: 'disc', widthPx: 40, heightPx: 30, lens: { focal35Mm: null, looksCropped: false } };
const disc = newWorkCheck({ piece: 'disc', rounds: 2, stitches: 20, thicknessMm: null, reference: null });
const seen: WorkCheck = {
  ...withPhoto(disc, photo),
  rounds: 2,
  stitches: 20,
  answer: {
    to: '',
    result: {
      piece: 'disc',
      outcome: 'refused',
      reason: problem('no-work'),
      found: { cornersPx: square(1), edgePx: null },
    },
  },
};

describe('what the engine is asked about the work', () => {
  test('only what was placed, so that the rest is found', () => {
    expect(workOptions(seen, false)).toEqual({ stitches: 20 });
    expect(workOptions(withPlaced(seen, { cornersPx: square(3) }), false).cornersPx).toEqual(square(3));
  });

  test('with the thickness of the fabric, once it is typed', () => {
    expect(workOptions({ ...seen, thicknessMm: 3.4 }, false)).toEqual({ stitches: 20, thicknessMm: 3.4 });
  });

  test('also what was found, when no pixel may be looked at', () => {
    expect(workOptions(seen, true).cornersPx).toEqual(square(1));
  });

  test('with a sheet, a printed frame or a coin as the reference', () => {
    const beside = (reference: string) => workOptions(withPlaced(seen, { reference }), true);
    expect(beside('A5').reference?.widthMm).toBe(210);
    expect(beside('printed frame 145.5/150').reference?.widthMm).toBeCloseTo(85.6 * 0.97, 9);
    expect(beside('2 euro').round?.reference.diameterMm).toBe(25.75);
    expect(beside('2 euro').cornersPx).toBeUndefined();
  });

  test('anew when something said changes it, not when nothing does', () => {
    expect(questionOf(withPlaced(seen, { cornersPx: square(2) }))).not.toBe(questionOf(seen));
    expect(questionOf(undone(withPlaced(seen, { cornersPx: square(2) })))).toBe(questionOf(seen));
    expect(questionOf(foundAgain(withPlaced(seen, { cornersPx: square(2) })))).toBe(questionOf(seen));
  });
});

test('the plan’s counts are there to compare with, not to measure by', () => {
  expect(disc).toMatchObject({ planned: { rounds: 2, stitches: 20 }, rounds: null, stitches: null });
  expect(workOptions(disc, false)).toEqual({});
});

test('another photo lets go of what was counted and placed: it may show another piece', () => {
  const next = withPhoto(withPlaced(seen, { cornersPx: square(2), reference: 'A4' }), photo);
  expect(next).toMatchObject({ rounds: null, stitches: null, answer: null, past: [] });
  expect(next.placed).toMatchObject({ reference: 'A4', cornersPx: null });
});

test('a sample brings its counts; a tube is counted on the plan', () => {
  const counted = { rounds: 15, stitches: 16, rowsRun: 'up', reference: '2 euro' } as const;
  expect(withCounts(disc, counted)).toMatchObject({
    rounds: 15,
    stitches: 16,
    placed: { reference: '2 euro' },
  });
  expect(withCounts({ ...disc, piece: 'tube' }, counted)).toMatchObject({ rounds: null, placed: { rowsRun: 'up' } });
});

describe('how the rows run', () => {
  const lying = (liesDiagonally: boolean): WorkCheck => {
    const result = { piece: 'swatch', outcome: 'measured', swatch: { rectangle: { liesDiagonally } } };
    return { ...disc, piece: 'swatch', answer: { to: '', result: result as unknown as WorkResult } };
  };

  test('is asked as it looks in the photo, and by the longer side where the work lies diagonally', () => {
    expect(rowDirectionsToAsk(lying(false))).toEqual(['across', 'up']);
    expect(rowDirectionsToAsk(lying(true))).toEqual(['longer', 'shorter']);
  });

  test('stays answered by the side', () => {
    expect(rowDirectionsToAsk(withPlaced(lying(false), { rowsRun: 'shorter' }))).toEqual(['longer', 'shorter']);
  });
});

test('every place the card was found or placed at is covered', () => {
  const moved = withPlaced(withPlaced(seen, { cornersPx: square(2) }), { cornersPx: square(3) });
  expect(cardPlacesOfWork(moved)).toEqual([square(1), square(2), square(3)]);
});

test('what was taken back is done again, until something else is placed', () => {
  const moved = withPlaced(withPlaced(seen, { cornersPx: square(2) }), { cornersPx: square(3) });
  expect(redone(undone(moved)).placed).toEqual(moved.placed);
  expect(redone(redone(undone(undone(moved)))).past).toEqual(moved.past);
  expect(redone(withPlaced(undone(moved), { insidePx: [4, 4] })).placed.cornersPx).toEqual(square(2));
});

describe('the work as it is measured in its photo', () => {
  test('is asked about while the last answer is to another question', () => {
    expect(workIn(seen, 'job').question).toBe(questionOf(seen));
    const answered = seen.answer && { ...seen, answer: { ...seen.answer, to: questionOf(seen) } };
    expect(answered && workIn(answered, 'job').question).toBeNull();
  });

  test('has no picture that may be kept before it is known where the card is', () => {
    expect(workIn(seen, 'job').cards).toEqual([square(1)]);
    expect(workIn({ ...seen, answer: null }, 'job').cards).toBeNull();
  });

  test('needs no pixel once card and edge are placed', () => {
    const { isPlaced } = workIn(seen, 'job');
    expect(isPlaced({ cornersPx: square(1) })).toBe(false);
    expect(isPlaced({ cornersPx: square(1), edgePx: square(4) })).toBe(true);
  });
});

test('a place that was taken back is covered all the same', () => {
  const moved = withPlaced(seen, { cornersPx: square(2) });
  expect(cardPlacesOfWork(undone(moved))).toEqual(cardPlacesOfWork(moved));
});
