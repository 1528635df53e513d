import { describe, expect, test } from 'vitest';
import { defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { gaugeFromYarnCategory } from '../../../sizing/gauge.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { defaultSettings } from '../../../web/app/settings.ts';
import { checkpointsOnPaper, groupedCheckpoints, groupedRounds } from '../../../web/plan/grouped-rounds.ts';
import { countAfter, patternOf } from '../../../web/plan/words/pattern.ts';
import { voiceOf } from '../../../web/plan/words/voice.ts';
import { en } from '../../../web/text/en/text.ts';

const gauge = gaugeFromYarnCategory(3, { stitch: 'sc' });
const result = planCarrier(containerFromTape({ diameterMm: 100, heightMm: 340 }), gauge, defaultChoices());
if (result.outcome !== 'planned') throw new Error('refused');
const { plan } = result;
const rounds = plan.parts.flatMap((part) => part.rounds);

describe('a plan on paper', () => {
  test('says rounds that are worked alike once, and leaves none out', () => {
    const groups = plan.parts.flatMap((part) => groupedRounds(part.rounds));
    expect(groups.flat()).toEqual(rounds);
    expect(groups.length).toBeLessThan(rounds.length);
    for (const group of groups) for (const round of group) expect(round.steps).toEqual(group[0].steps);
  });

  test('gives each base round a line of its own, for its width', () => {
    const base = plan.parts[0].rounds;
    expect(groupedRounds(base)).toHaveLength(base.length);
  });

  test('checks the last three widths of the base and every height', () => {
    const onPaper = checkpointsOnPaper({ ...plan, fit: { ...plan.fit, verdict: { kind: 'fits' } } });
    const widths = plan.checkpoints.filter(({ measure }) => measure === 'width across');
    expect(onPaper.slice(0, 3)).toEqual(widths.slice(-3));
    expect(widths.at(-1)?.afterRound).toBe(plan.parts[0].rounds.length);
    const heights = plan.checkpoints.filter(({ measure }) => measure === 'height above the table');
    expect(onPaper.slice(3)).toEqual(heights);
    expect(groupedCheckpoints(onPaper).flat()).toEqual(onPaper);
  });

  test('checks the round that its first sentence asks to measure after', () => {
    const verdict = { kind: 'check-first', afterRound: 2, thenFits: 0.9 } as const;
    const onPaper = checkpointsOnPaper({ ...plan, fit: { ...plan.fit, verdict } });
    expect(onPaper[0]).toMatchObject({ afterRound: 2, measure: 'width across' });
    expect(onPaper.filter(({ measure }) => measure === 'width across')).toHaveLength(3);
  });
});

test('ticked one by one, rounds worked alike say each its own height, and paper says that of the last', () => {
  const voice = voiceOf(defaultSettings('en-US'));
  const alike = plan.parts.flatMap((part) => groupedRounds(part.rounds)).filter((group) => group.length > 1);
  const lines = patternOf('', plan, en, voice).parts.flatMap((part) => part.lines);
  let cases = 0;
  for (const group of alike.filter(([{ part }]) => part === 'wall' || part === 'mesh')) {
    const counts = group.map((round) => countAfter(round, en, voice));
    expect(new Set(counts).size).toBe(group.length);
    expect(lines.map(({ count }) => count)).toContain(counts.at(-1));
    cases += 1;
  }
  expect(cases).toBeGreaterThan(0);
});
