import { describe, expect, test } from 'vitest';
import { defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { replan } from '../../../sizing/follow/replan.ts';
import { gaugeFromSwatch, gaugeFromYarnCategory } from '../../../sizing/gauge.ts';
import type { Plan } from '../../../sizing/plan.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { FABRIC_STITCHES } from '../../../sizing/stitches.ts';
import { planSentence, sentenceKey, sentencesOf } from '../../../web/plan/plan-sentence.ts';
import { planSentences as german } from '../../../web/text/de/plan-sentences.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const english = { language: 'en', terms: 'us', units: 'cm' } as const;
const inGerman = { language: 'de', terms: 'de', units: 'cm' } as const;

describe('a sentence of the sizing engine', () => {
  test('names stitches and lengths as the reader does', () => {
    const sentence = 'The last round is in {sc}, {66.2 mm} across.';
    expect(planSentence(sentence, english, {})).toBe('The last round is in sc, 66 mm across.');
    expect(planSentence(sentence, { language: 'en', terms: 'uk', units: 'in' }, {})).toBe(
      'The last round is in dc, 2 5/8 in across.',
    );
  });

  test('is said in German where the catalogue has it, with what varies in its German place', () => {
    expect(planSentence('{70.6 mm} is 5 % more than expected. Go on as written.', inGerman, german)).toBe(
      '71 mm ist 5 % mehr als erwartet. Weiter wie beschrieben.',
    );
  });

  test('stays English where the catalogue does not have it', () => {
    expect(planSentence('Nobody ever said this.', inGerman, german)).toBe('Nobody ever said this.');
  });
});

test('every sentence of many different plans is there in German', () => {
  const missing = new Set<string>();
  for (const sentence of sentencesOfManyPlans()) {
    for (const each of sentencesOf(sentence)) if (!(sentenceKey(each) in german)) missing.add(sentenceKey(each));
  }
  expect([...missing]).toEqual([]);
});

/** Seeded: all carriers, stitches, meshes, wide and narrow, tapered both ways, with work measured small and large. */
function* sentencesOfManyPlans(): Generator<string> {
  const { uniform, pick } = seededRandom(20260);
  for (let count = 0; count < 300; count++) {
    const diameterMm = uniform(25, 175);
    const container = containerFromTape({
      diameterMm,
      heightMm: diameterMm * uniform(0.6, 4.6),
      topDiameterMm: diameterMm * pick([1, 0.8, 1.1, 1.3]),
      sdMm: pick([0.3, 0.7, 3]),
      shoulderZMm: pick([null, diameterMm * 0.5, diameterMm * 0.2]),
    });
    const stitch = pick(FABRIC_STITCHES);
    const rounds = { sc: 18, hdc: 13, dc: 10, tr: 6.7 }[stitch] * uniform(0.8, 1.3);
    const gauge = pick([
      () => gaugeFromYarnCategory(pick([0, 1, 2, 3, 4, 5]), { stitch, strands: pick([1, 2]) }),
      () => gaugeFromSwatch({ stitch, stitches: uniform(16, 24), widthMm: 100, rounds, heightMm: 100 }),
    ])();
    const standard = defaultChoices(pick(['net', 'net', 'sleeve', 'mat'] as const));
    const result = planCarrier(container, gauge, {
      ...standard,
      easeRatio: pick([0, -0.05, 0.05]),
      plainWallRounds: pick([0, 1, 3]),
      baseCandidate: pick([0, 1, 2]),
      coverHeightMm: pick([null, null, diameterMm * 0.5]),
      mesh: {
        kind: pick(['post', 'loop'] as const),
        chains: pick([null, 2, 5]),
        skip: pick([1, 2, 3]),
        postStitch: pick(FABRIC_STITCHES),
      },
      strap: { ...standard.strap, style: pick(['none', 'cross-body'] as const) },
    });
    if (result.outcome !== 'planned') continue;
    yield* sentencesOfPlan(result.plan);
    const checkpoint = pick([...result.plan.checkpoints, null]);
    if (!checkpoint) continue;
    const readMm = checkpoint.expectedMm.value * pick([0.8, 0.95, 1, 1.05, 1.2]);
    const again = replan(result.plan, {
      afterRound: checkpoint.afterRound,
      sdMm: 1,
      ...(checkpoint.measure === 'width across' ? { measuredWidthMm: readMm } : { measuredHeightMm: readMm }),
    });
    if (again.outcome !== 'planned') continue;
    yield again.advice.message;
    yield* sentencesOfPlan(again.plan);
  }
}

function* sentencesOfPlan(plan: Plan): Generator<string> {
  yield* plan.warnings;
  yield* plan.cautions;
  yield plan.fit.message;
  if (plan.coverReason) yield plan.coverReason;
  if (plan.strap) yield plan.strap.sewOn;
  for (const { reasons } of plan.candidates) yield* reasons;
  for (const { ifLess, ifMore } of plan.checkpoints) {
    yield ifLess;
    yield ifMore;
  }
  for (const { notes, rounds } of plan.parts) {
    yield* notes;
    for (const { note } of rounds) if (note) yield note;
  }
}
