import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, type Gauge, gaugeFromSwatch } from '../../sizing/gauge.ts';
import type { PlanResult } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { RefusedInput } from '../../sizing/refusal.ts';
import { refusalText } from '../../web/plan/words/refusal-words.ts';
import { voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';

const voice = voiceOf({ language: 'en', terms: 'us', units: 'cm', hand: 'right' });
const bottle = containerFromTape({ diameterMm: 70, heightMm: 200 });
const gauge = defaultGauge();
const choices = defaultChoices();

describe('a bad value is refused with its name, its value and what is allowed', () => {
  it.each<[string, number | string, PlanResult]>([
    ['container.baseDiameterMm', 5, plan({ baseDiameterMm: { value: 5, sd: 1 } })],
    ['container.heightMm', Number.NaN, plan({ heightMm: { value: Number.NaN, sd: 1 } })],
    [
      'container.maxDiameterMm',
      Number.POSITIVE_INFINITY,
      plan({ maxDiameterMm: { value: Number.POSITIVE_INFINITY, sd: 1 } }),
    ],
    ['container.baseDiameterMm.sd', -1, plan({ baseDiameterMm: { value: 70, sd: -1 } })],
    ['container.emptyMassG', -3, plan({ emptyMassG: -3 })],
    ['container.material', 'wood', plan({ material: 'wood' as Container['material'] })],
    ['gauge.stitchWidthMm', 0, plan({}, { stitchWidthMm: { value: 0, sd: 0 } })],
    ['gauge.roundHeightMm / gauge.stitchWidthMm', 6.4, plan({}, { roundHeightMm: { value: 40, sd: 1 } })],
    ['gauge.strands', 1.5, plan({}, { strands: 1.5 })],
    ['gauge.hookMm', 100, plan({}, { hookMm: 100 })],
    ['gauge.yarn.ballGrams', 0, plan({}, { yarn: { ...gauge.yarn, ballGrams: 0 } })],
    ['gauge.stitchesPerMinute', 400, plan({}, { stitchesPerMinute: 400 })],
    ['choices.easeRatio', 0.5, plan({}, {}, { easeRatio: 0.5 })],
    ['choices.plainWallRounds', -1, plan({}, {}, { plainWallRounds: -1 })],
    ['choices.mesh.chains', 40, plan({}, {}, { mesh: { ...choices.mesh, chains: 40 } })],
    ['choices.mesh.skip', 0, plan({}, {}, { mesh: { ...choices.mesh, skip: 0 } })],
    ['choices.band.rounds', 0, plan({}, {}, { band: { rounds: 0, stitchesPerSpace: null } })],
    ['choices.strap.lengthMm', 9000, plan({}, {}, { strap: { ...choices.strap, lengthMm: 9000 } })],
    ['choices.carrier', 'sock', plan({}, {}, { carrier: 'sock' as Choices['carrier'] })],
  ])('%s = %s', (field, value, result) => {
    if (result.outcome === 'planned') return expect.fail('was planned');
    expect(result.reason).toMatchObject({ code: 'out-of-range', field, value });
    const said = refusalText(result.reason, en.planRefusals, voice);
    expect(said).not.toMatch(/[{}]|undefined|choices\.|container\.|gauge\.\w/);
    expect(said.length).toBeGreaterThan(20);
  });

  it('a swatch of nothing is refused where it is entered', () => {
    const swatch = { stitch: 'sc', stitches: 0, widthMm: 100, rounds: 20, heightMm: 100 } as const;
    expect(() => gaugeFromSwatch(swatch)).toThrow(RefusedInput);
  });
});

describe('values that do not go together are refused with the reason', () => {
  it.each<[string, PlanResult]>([
    ['container.profile', plan({ profile: [{ zMm: 0, radiusMm: 35, sdMm: 1 }] })],
    ['container.baseDiameterMm', plan({ maxDiameterMm: { value: 50, sd: 1 } })],
    ['choices.coverHeightMm', plan({}, {}, { coverHeightMm: 250 })],
  ])('%s', (field, result) => {
    expect(result).toMatchObject({ outcome: 'refused', reason: { code: 'inconsistent', field } });
  });
});

describe('yarn too coarse for the container', () => {
  it('is refused with the way out', () => {
    const vial = containerFromTape({ diameterMm: 16, heightMm: 40 });
    const jumbo = { ...gauge, stitchWidthMm: { value: 25, sd: 2 }, roundHeightMm: { value: 40, sd: 3 } };
    const result = planCarrier(vial, jumbo, choices);
    expect(result).toMatchObject({ outcome: 'refused', reason: { code: 'too-coarse' } });
    if (result.outcome !== 'refused') return expect.fail('was planned');
    expect(refusalText(result.reason, en.planRefusals, voice)).toContain('thinner yarn');
    expect(refusalText(result.reason, de.planRefusals, voice)).toContain('dünneres Garn');
  });
});

function plan(container: Partial<Container>, own: Partial<Gauge> = {}, chosen: Partial<Choices> = {}): PlanResult {
  return planCarrier({ ...bottle, ...container }, { ...gauge, ...own }, { ...choices, ...chosen });
}
