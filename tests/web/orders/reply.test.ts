import { describe, expect, test } from 'vitest';
import { containerFromTape } from '../../../sizing/container.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { FIRST_GAUGE_ENTRY, usableGauge } from '../../../web/gauge/gauge-entry.ts';
import { replyText } from '../../../web/orders/reply.ts';
import { choicesFrom } from '../../../web/plan/plan-progress.ts';
import { de } from '../../../web/text/de/text.ts';
import { en } from '../../../web/text/en/text.ts';

const container = containerFromTape({ diameterMm: 73, heightMm: 210 });
const planned = planCarrier(container, usableGauge(FIRST_GAUGE_ENTRY), choicesFrom(null));
const plan = planned.outcome === 'planned' ? planned.plan : null;
const order = { customer: 'Mia', due: '2026-12-12', price: 18, paid: false, doneAt: null };
const replied = { order, container, plan, colour: '#0f5b53', currency: '€' };
const maker = { language: 'en', units: 'cm', makerName: 'Ann' } as const;

describe('the answer to a customer', () => {
  test('says sizes as a tape does, the piece, price and day', () => {
    const lines = replyText(replied, en, maker).split('\n');
    // 73 mm across is 229.3 mm around.
    expect(lines[1]).toBe(
      'thank you for the photo. It shows that your container is about 23 cm around and 21 cm high.',
    );
    expect(lines[2]).toMatch(/^I can make this for it: Net carrier, .*strap \d+ cm\.$/);
    expect(lines.slice(3)).toEqual([
      'It costs €18.00.',
      expect.stringMatching(/^It can be ready on Saturday,? (12 December|December 12)\.$/),
      'Shall I begin?',
      'Ann',
    ]);
  });

  test('leaves out what was not agreed', () => {
    const bare = { ...replied, plan: null, order: { ...order, customer: '', due: null, price: null } };
    expect(replyText(bare, de, { language: 'de', units: 'cm', makerName: '' })).toBe(
      'Hallo,\ndanke für das Foto. Dein Gefäß hat etwa 23 cm Umfang und ist 21 cm hoch.',
    );
  });

  test('asks for a tape when the photo leaves more than a centimetre open', () => {
    const unsure = { ...container, maxDiameterMm: { value: 73, sd: 3 } };
    // 1.96 × 3 mm × π = 18.5 mm to either side of 229.3 mm.
    expect(replyText({ ...replied, container: unsure }, en, maker)).toContain('open between 21 cm and 25 cm');
    expect(replyText(replied, en, maker)).not.toContain('open between');
  });
});
