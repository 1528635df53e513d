import { describe, expect, test } from 'vitest';
import { defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { gaugeFromSwatch } from '../../../sizing/gauge.ts';
import { currentPlan } from '../../../web/plan/current-plan.ts';
import {
  choicesFrom,
  NOT_STARTED,
  type PlanProgress,
  planProgressFrom,
  ticked,
  withoutReading,
  withReading,
} from '../../../web/plan/plan-progress.ts';

const container = containerFromTape({ diameterMm: 72, heightMm: 210 });
const gauge = gaugeFromSwatch({ stitch: 'dc', stitches: 16, widthMm: 100, rounds: 10, heightMm: 100 });
const STANDARD = { ...defaultChoices(), material: null, emptyMassG: null, own: null };

describe('rounds done', () => {
  test('ticking a round says that all before it are done', () => {
    expect(ticked(NOT_STARTED, 4, true).roundsDone).toBe(4);
  });

  test('unticking a round makes it the next one', () => {
    expect(ticked({ ...NOT_STARTED, roundsDone: 6 }, 4, false).roundsDone).toBe(3);
  });

  test('survive being kept as JSON', () => {
    const progress: PlanProgress = { roundsDone: 3, readings: [{ afterRound: 2, measure: 'width', mm: 41 }] };
    expect(planProgressFrom(JSON.parse(JSON.stringify(progress)))).toEqual(progress);
  });

  test('start anew where nothing readable was kept', () => {
    expect(planProgressFrom({ roundsDone: -1 })).toEqual(NOT_STARTED);
    expect(planProgressFrom(null)).toEqual(NOT_STARTED);
  });
});

describe('a disc measured on the way', () => {
  const plain = currentPlan(container, gauge, STANDARD, NOT_STARTED);
  if (plain.outcome !== 'planned') throw new Error('the plain plan is refused');
  const second = plain.rounds[1];
  const expectedMm = second.widthMm?.value ?? 0;

  test('that is as wide as expected leaves the rounds that follow as they are', () => {
    const read = withReading(NOT_STARTED, { afterRound: 2, measure: 'width', mm: expectedMm }, null);
    const again = currentPlan(container, gauge, STANDARD, read);
    expect(again.outcome === 'planned' && again.rounds.map((round) => round.stitches)).toEqual(
      plain.rounds.map((round) => round.stitches),
    );
  });

  test('keeps the rounds worked and changes what follows when it is wider', () => {
    const read = withReading(NOT_STARTED, { afterRound: 2, measure: 'width', mm: expectedMm * 1.06 }, null);
    const again = currentPlan(container, gauge, STANDARD, read);
    if (again.outcome !== 'planned') throw new Error('refused');
    expect(again.rounds.slice(0, 2).map((round) => round.steps)).toEqual(
      plain.rounds.slice(0, 2).map((round) => round.steps),
    );
    expect(again.plan.gauge.stitchWidthMm.value).toBeGreaterThan(gauge.stitchWidthMm.value);
    expect(again.plan.fit.probabilityFits).toBeGreaterThan(plain.plan.fit.probabilityFits);
  });

  test('a slip of the ruler is refused and changes nothing', () => {
    const read = withReading(NOT_STARTED, { afterRound: 2, measure: 'width', mm: expectedMm * 4 }, null);
    const again = currentPlan(container, gauge, STANDARD, read);
    if (again.outcome !== 'planned') throw new Error('refused');
    expect(again.answers[0].answer).toHaveProperty('refused');
    expect(again.rounds).toEqual(plain.rounds);
  });

  test('marks its round as done, and ripping back undoes rounds', () => {
    const reading = { afterRound: 3, measure: 'width', mm: 66 } as const;
    expect(withReading(NOT_STARTED, reading, null).roundsDone).toBe(3);
    const advice = { action: 'rip back', keepRounds: 1, measuredMm: 66, expectedMm: 60, next: null } as const;
    expect(withReading({ ...NOT_STARTED, roundsDone: 3 }, reading, advice).roundsDone).toBe(1);
  });

  test('can be taken back together with the readings that built on it', () => {
    const first = { afterRound: 2, measure: 'width', mm: 41 } as const;
    const later = { afterRound: 7, measure: 'height', mm: 33 } as const;
    const progress: PlanProgress = { roundsDone: 7, readings: [first, later] };
    expect(withoutReading(progress, progress.readings[0]).readings).toEqual([]);
    expect(withoutReading(progress, progress.readings[1]).readings).toEqual([first]);
  });
});

test('what the container weighs is part of what the carrier holds', () => {
  const [light, heavy] = [null, 400].map((emptyMassG) =>
    currentPlan(container, gauge, { ...STANDARD, emptyMassG }, NOT_STARTED),
  );
  if (light.outcome !== 'planned' || heavy.outcome !== 'planned') throw new Error('refused');
  expect(heavy.plan.load.fullMassG.value - light.plan.load.fullMassG.value).toBeCloseTo(400, 10);
});

describe('choices that were kept', () => {
  test('come back as they were', () => {
    const choices = {
      ...defaultChoices('sleeve'),
      plainWallRounds: 4,
      material: 'glass',
      emptyMassG: 310,
      own: null,
    } as const;
    expect(choicesFrom(JSON.parse(JSON.stringify(choices)))).toEqual(choices);
  });

  test('from an earlier version get what was added since', () => {
    const { band: _, ...earlier } = defaultChoices('net');
    expect(choicesFrom(earlier)).toEqual(STANDARD);
  });

  test('that no plan could be made with fall back to the default', () => {
    expect(choicesFrom({ ...defaultChoices(), easeRatio: 9 })).toEqual(STANDARD);
    expect(choicesFrom('nonsense')).toEqual(STANDARD);
    expect(choicesFrom({ material: 'gold', emptyMassG: 'heavy' })).toEqual(STANDARD);
  });
});
