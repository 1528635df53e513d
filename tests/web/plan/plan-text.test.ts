import { describe, expect, test } from 'vitest';
import { defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { defaultGauge } from '../../../sizing/gauge.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { defaultSettings, type Settings } from '../../../web/app/settings.ts';
import { planSentence } from '../../../web/plan/plan-sentence.ts';
import { planAsText } from '../../../web/plan/plan-text.ts';
import { de } from '../../../web/text/de/text.ts';
import { en } from '../../../web/text/en/text.ts';

const result = planCarrier(containerFromTape({ diameterMm: 70, heightMm: 205 }), defaultGauge(), defaultChoices());
if (result.outcome !== 'planned') throw new Error('refused');
const { plan } = result;

describe('a plan copied as text', () => {
  test('says every round once, the cautions and which terms it uses', () => {
    const text = textIn(defaultSettings('en-GB'));
    expect(text).toContain('Stitch names: UK');
    expect(text).toContain('Round 1: Make an adjustable ring');
    const rounds = plan.parts.flatMap((part) => part.rounds).filter((round) => round.closing !== 'cord');
    const said = [...text.matchAll(/^Rounds? (\d+)(?: to (\d+))?: .*\(\d+ stitches/gm)].flatMap(([, from, to]) =>
      Array.from({ length: Number(to ?? from) - Number(from) + 1 }, (_, index) => Number(from) + index),
    );
    expect(said).toEqual(rounds.map((round) => round.number));
    for (const caution of plan.cautions) expect(text).toContain(`- ${caution}`);
  });

  test('is German throughout for a German reader', () => {
    const text = textIn(defaultSettings('de-DE'));
    expect(text).toContain('Runde 1: Fadenring');
    expect(text).not.toMatch(/\b(the|and|with|stitch|round|chain)\b/i);
    expect(text).not.toMatch(/[{}#]/);
  });

  test('gives lengths in inches where the maker works in inches', () => {
    const text = textIn({ ...defaultSettings('en-US'), units: 'in' });
    expect(text).toMatch(/\d in across/);
    expect(text).not.toMatch(/\d (mm|cm|m)\b(?! hook)(?=.* across)/);
  });
});

function textIn(settings: Settings): string {
  const words = settings.language === 'de' ? de : en;
  return planAsText('Netz', plan, {
    words: words.plan,
    settings,
    say: (sentence) => planSentence(sentence, settings, words.planSentences),
  });
}
