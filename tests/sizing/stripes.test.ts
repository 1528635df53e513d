import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, gaugeFromSwatch } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { patternOf } from '../../web/plan/words/pattern.ts';
import { blocksAsText, patternBlocks } from '../../web/plan/words/pattern-text.ts';
import { type Reader, voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';
import { workPlan } from '../support/stitch-accountant.ts';

const US: Reader = { language: 'en', terms: 'us', units: 'cm', hand: 'right' };
const GERMAN: Reader = { language: 'de', terms: 'de', units: 'cm', hand: 'right' };
const BOTTLE = containerFromTape({ diameterMm: 73, heightMm: 210 });
const GAUGE = gaugeFromSwatch({ stitch: 'sc', stitches: 20, widthMm: 100, rounds: 22, heightMm: 100 });

describe('stripes', () => {
  it('leave base, band and strap in A, and go through the colours so many rounds each between them', () => {
    for (const colours of [2, 3, 4]) {
      for (const rounds of [1, 2, 5]) {
        for (const carrier of ['net', 'sleeve'] as const) {
          const made = plan(carrier, { colours, rounds });
          expect(() => workPlan(made)).not.toThrow();
          const letters = (names: readonly string[]) =>
            allRounds(made)
              .filter(({ part }) => names.includes(part))
              .map(({ colour }) => colour)
              .join('');
          expect(letters(['base', 'band', 'strap'])).toMatch(/^A+$/);
          // Written out by hand: the first stripe is the second colour, then round and round.
          const cycle = 'ABCD'.slice(0, colours);
          const wanted = Array.from(
            { length: 200 },
            (_, index) => cycle[(Math.floor(index / rounds) + 1) % colours],
          ).join('');
          const striped = letters(['wall', 'mesh']);
          expect(striped.length).toBeGreaterThan(8);
          expect(striped).toBe(wanted.slice(0, striped.length));
        }
      }
    }
  });

  it('change no count, no size and no time; they cost a pair of tails each time one begins', () => {
    const plain = plan('net', { colours: 1, rounds: 3 });
    const striped = plan('net', { colours: 3, rounds: 2 });
    const bare = ({ steps, stitches, spaces, heightMm, widthMm }: Round) => ({
      steps,
      stitches,
      spaces,
      heightMm,
      widthMm,
    });
    expect(allRounds(striped).map(bare)).toEqual(allRounds(plain).map(bare));
    expect(striped.minutes).toEqual(plain.minutes);
    // Within a part, each change after its first colour: 15 cm at either end (common practice).
    const changes = striped.parts.reduce(
      (sum, { rounds }) =>
        sum + rounds.filter(({ colour }, index) => index > 0 && colour !== rounds[index - 1].colour).length,
      0,
    );
    expect(changes).toBeGreaterThan(3);
    expect(striped.yarn.metres.value - plain.yarn.metres.value).toBeCloseTo(0.3 * changes, 9);
  });

  it('take of every colour what its own rounds take: together the whole, in whole balls enough in 95 of 100', () => {
    for (const colours of [2, 3, 4]) {
      const { yarn } = plan('sleeve', { colours, rounds: 3 });
      expect(yarn.byColour.map(({ colour }) => colour).join('')).toBe('ABCD'.slice(0, colours));
      const sum = (of: (each: Plan['yarn']['byColour'][number]) => number) =>
        yarn.byColour.reduce((all, each) => all + of(each), 0);
      expect(sum(({ metres }) => metres.value)).toBeCloseTo(yarn.metres.value, 9);
      expect(sum(({ grams }) => grams.value)).toBeCloseTo(yarn.grams.value, 9);
      expect(sum(({ balls }) => balls)).toBe(yarn.balls);
      for (const { metres, balls } of yarn.byColour) {
        // 10 % spare (common practice) and 1.645 standard deviations: 95 of 100.
        const wanted = metres.value * 1.1 * Math.exp((1.645 * metres.sd) / metres.value);
        const ballMetres = (GAUGE.yarn.ballGrams * GAUGE.yarn.metresPer100g) / 100;
        expect(balls).toBe(Math.ceil(wanted / ballMetres - 1e-3));
      }
    }
    expect(plan('net', { colours: 1, rounds: 3 }).yarn.byColour).toEqual([]);
  });

  it('are told round by round, with how to change and what to buy of each, in both languages', () => {
    const made = plan('net', { colours: 2, rounds: 3 });
    const english = printed(made, US);
    expect(english).toContain(
      'Colours A, B: base, band and cords in A; between them each rnd says its colour. Change in the last yo of the last st before; cut the old yarn, leave 15 cm.',
    );
    expect(english).toMatch(/; A: \d+ ± \d+ g \/ \d+ ± \d+ m, 1 ball of 50 g \(\d+ m\); B: \d+ ± \d+ g/);
    const told = allRounds(made).filter(({ part }) => part === 'wall' || part === 'mesh' || part === 'band');
    for (const { number, colour } of told) {
      const line = english.split('\n').find((each) => {
        const [, from, to] = /^Rnds? (\d+)(?:–(\d+))?:/.exec(each) ?? [];
        return Number(from) <= number && number <= Number(to ?? from);
      });
      expect(line, `round ${number}`).toContain(`In colour ${colour}.`);
    }
    const german = printed(made, GERMAN);
    expect(german).toContain('Farben A, B: Boden, Rand und Kordeln in A');
    expect(german).toContain('In Farbe B.');
    expect(printed(plan('net', { colours: 1, rounds: 3 }), US)).not.toMatch(/[Cc]olour/);
  });

  it('are refused beyond four colours, with what is allowed', () => {
    const result = planCarrier(BOTTLE, defaultGauge(), { ...defaultChoices(), stripes: { colours: 5, rounds: 2 } });
    expect(result).toMatchObject({
      outcome: 'refused',
      reason: { field: 'choices.stripes.colours', allowed: { min: 1, max: 4 } },
    });
  });
});

function plan(carrier: Choices['carrier'], stripes: Choices['stripes']): Plan {
  const result = planCarrier(BOTTLE, GAUGE, { ...defaultChoices(carrier), stripes });
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

function allRounds({ parts }: Plan): Round[] {
  return parts.flatMap(({ rounds }) => rounds);
}

function printed(made: Plan, reader: Reader): string {
  const text = reader.language === 'de' ? de : en;
  return blocksAsText(patternBlocks(patternOf('', made, text, voiceOf(reader)), text), Number.POSITIVE_INFINITY);
}
