import { describe, expect, it } from 'vitest';
import { type CarrierKind, defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { defaultGauge } from '../../../sizing/gauge.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { patternOf } from '../../../web/plan/words/pattern.ts';
import { voiceOf } from '../../../web/plan/words/voice.ts';
import { de } from '../../../web/text/de/text.ts';
import { en } from '../../../web/text/en/text.ts';

describe('the label of a finished piece', () => {
  it('says what it is for, its fibre and care, its load and what to beware of, in both languages', () => {
    const english = labelOf('net', 'en').join(' ');
    expect(english).toMatch(
      /^Made for a container 73 mm across and 210 mm high\. It holds containers \d+–\d+ mm across\./,
    );
    expect(english).toContain('Cotton: wash at up to 40 °C');
    // 73 mm across and 210 high hold 879 ml of water by pi d^2 h / 4; with the margin of a tape some 20 g more.
    expect(english).toMatch(/Meant for (8[89]\d|9[0-4]\d) g of contents at most\./);
    expect(english).toContain('keep away from small children');
    const german = labelOf('net', 'de').join(' ');
    expect(german).toMatch(
      /^Für ein Gefäß von 73 mm Durchmesser und 210 mm Höhe\. Es hält Gefäße von \d+–\d+ mm Durchmesser\./,
    );
    expect(german).toContain('Baumwolle: bis 40 °C waschen');
    expect(german).toContain('von kleinen Kindern fernhalten');
  });

  it.each(['sleeve', 'mat'] as const)('of a %s says nothing of a load it does not carry', (carrier) => {
    const label = labelOf(carrier, 'en').join(' ');
    expect(label).not.toMatch(/Meant for|children/);
    expect(label).toContain('Hot contents scald');
  });
});

function labelOf(carrier: CarrierKind, language: 'en' | 'de'): readonly string[] {
  const bottle = containerFromTape({ diameterMm: 73, heightMm: 210 });
  const result = planCarrier(bottle, defaultGauge(), defaultChoices(carrier));
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  const text = language === 'de' ? de : en;
  const voice = voiceOf({ language, terms: language === 'de' ? 'de' : 'us', units: 'cm', hand: 'right' });
  return patternOf('', result.plan, text, voice).label;
}
