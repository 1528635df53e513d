import { describe, expect, test } from 'vitest';
import { defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { defaultGauge } from '../../../sizing/gauge.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { defaultSettings, type Settings } from '../../../web/app/settings.ts';
import { patternOf } from '../../../web/plan/words/pattern.ts';
import { blocksAsText, patternBlocks } from '../../../web/plan/words/pattern-text.ts';
import { voiceOf } from '../../../web/plan/words/voice.ts';
import { de } from '../../../web/text/de/text.ts';
import { en } from '../../../web/text/en/text.ts';

const result = planCarrier(containerFromTape({ diameterMm: 70, heightMm: 205 }), defaultGauge(), defaultChoices());
if (result.outcome !== 'planned') throw new Error('refused');
const { plan } = result;

describe('a pattern copied as text', () => {
  test('says every round once, with materials, gauge, size, cautions and which terms it uses', () => {
    const text = textIn(defaultSettings('en-GB'));
    for (const heading of ['FINISHED SIZE', 'MATERIALS', 'ABBREVIATIONS', 'INSTRUCTIONS', 'FINISHING', 'CARE']) {
      expect(text).toContain(heading);
    }
    expect(text).toContain('UK terms');
    const rounds = plan.parts.flatMap((part) => part.rounds).filter((round) => round.part !== 'strap');
    const said = [...text.matchAll(/^Rnds? (\d+)(?:–(\d+))?: /gm)].flatMap(([, from, to]) =>
      Array.from({ length: Number(to ?? from) - Number(from) + 1 }, (_, index) => Number(from) + index),
    );
    expect(said).toEqual(rounds.map((round) => round.number));
    for (const { code } of plan.cautions) expect(code).toMatch(/^caution-/);
  });

  test('is German throughout for a German reader', () => {
    const text = textIn(defaultSettings('de-DE'));
    expect(text).toContain('1. Rd: Fadenring');
    expect(text).not.toMatch(/\b(the|and|with|stitch|round|chain)\b/i);
  });

  test('gives lengths in inches where the maker works in inches', () => {
    const text = textIn({ ...defaultSettings('en-US'), units: 'in' });
    expect(text).toMatch(/\d in across/);
    expect(text).not.toMatch(/\d (mm|cm|m)\b(?! hook)(?=.* across)/);
  });
});

function textIn(settings: Settings): string {
  const text = settings.language === 'de' ? de : en;
  return blocksAsText(patternBlocks(patternOf('Netz', plan, text, voiceOf(settings)), text));
}
