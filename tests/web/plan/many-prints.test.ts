import { describe, expect, it } from 'vitest';
import { defaultChoices, MESH_KINDS, STRAP_STYLES } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { type Gauge, gaugeFromSwatch, gaugeFromYarnCategory } from '../../../sizing/gauge.ts';
import type { Plan } from '../../../sizing/plan.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { FABRIC_STITCHES } from '../../../sizing/stitches.ts';
import { patternOf } from '../../../web/plan/words/pattern.ts';
import { blocksAsText, patternBlocks } from '../../../web/plan/words/pattern-text.ts';
import { type Reader, voiceOf } from '../../../web/plan/words/voice.ts';
import { de } from '../../../web/text/de/text.ts';
import { en } from '../../../web/text/en/text.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const GERMAN: Reader = { language: 'de', terms: 'de', units: 'cm', hand: 'right' };
const READERS: readonly Reader[] = [
  GERMAN,
  { language: 'en', terms: 'us', units: 'in', hand: 'right' },
  { language: 'en', terms: 'uk', units: 'cm', hand: 'left' },
];

describe('a plan from a guessed gauge', () => {
  const plans = manyPlans(150, (category, stitch) => gaugeFromYarnCategory(category, { stitch }));

  it.each(READERS)('shows no percentage and no odds in figures ($language, $terms)', (reader) => {
    expect(plans.length).toBeGreaterThan(120);
    for (const plan of plans) {
      expect(plan.gauge.origin).toBe('guess');
      // A share of the sentence, or one case of so many.
      expect(printed(plan, reader)).not.toMatch(/%|\d+ (of|in|out of|von) (\d+|(a )?hundred|hundert)/i);
    }
  });
});

/** Trade terms as German makers write them, from the review of the pattern by an editor (memory and common practice, no source). */
describe('German patterns', () => {
  const prints = manyPlans(150, (_category, stitch, perTen) =>
    gaugeFromSwatch({
      stitch,
      stitches: perTen,
      widthMm: 100,
      rounds: perTen * ROUNDS_OVER_STITCHES[stitch],
      heightMm: 100,
    }),
  ).map((plan) => printed(plan, GERMAN));
  const all = prints.join('\n');

  it.each([
    ['Flaschennetz', /Flaschennetz/],
    ['Hülle', /Hülle/],
    ['Untersetzer', /Untersetzer/],
    ['the short names of all stitches', /\bfM\b[\s\S]*\bhStb\b[\s\S]*\bStb\b[\s\S]*\bDStb\b/],
    ['a chain that does not count, in the singular', /1 Lm \(zählt nicht als M\)/],
    ['chains that do not count, in the plural', /\d Lm \(zählen nicht als M\)/],
    ['a join in the chain that counts', /1 Km in die [34]\. Anfangs-Lm/],
    ['a first stitch where the round was joined', /in dieselbe M|in der M der Km beginnen/],
    ['the right side', /Vorderseite außen: nicht wenden/],
    ['an increase', /\b1 M verd\b/],
    ['a decrease', /2 (fM|hStb|Stb|DStb) zus\. abmaschen/],
    ['a repeat', /\([^()]+\) \d+×/],
    ['a whole round', /[Jj]e 1 (fM|hStb|Stb|DStb) in jede M/],
    ['the end of a spiral', /mit 1 Km in die nächste M schließen/],
    ['why it is lower there', /damit die Spirale ohne Stufe endet/],
    ['where a post stands', /Jedes Stb in die M der Vorrunde häkeln/],
    ['how a cord begins', /1 fM in die 2\. Lm ab Nadel/],
    ['ripping back', /[Aa]ufribbeln/],
    ['the gauge', /Maschenprobe: [\d,]+ (fM|hStb|Stb|DStb) und/],
    ['the put-up', /Lauflänge .*siehe Banderole/],
    ['rounds in a spiral', /Spiralrunden/],
    ['rounds worked alike', /^\d+\.–\d+\. Rd: /m],
    ['the band', /^Rand$/m],
    ['a base that becomes another', /wird der Boden mit \d+ Runden? und \d+ M gearbeitet/],
    ['the load', /Was es aushält/i],
  ])('say %s', (_what, wanted) => {
    expect(all).toMatch(wanted);
  });

  it.each([
    ['a carrier by a word that means a strap or a bearer', /Träger/],
    ['a fit as a match of so many per cent', /passt zu \d/],
    ['chains that “zählt”', /[2-9] Lm \(zählt/],
    ['the whole word where the short one is introduced', /als Masche\)/],
    ['a join in the first stitch after chains that count', /Anfangs-Lm[^.]*Km in die erste M\b/],
    ['the next stitch right after a join', /^\d+\. Rd: \d Lm \(zähl(t|en) nicht als M\), \d+ \w+ in die nächste M/m],
    ['the right side as a front', /rechte Seite/],
    ['repeats before what is repeated', /(: |, )\d+× \(/],
    ['every stitch of the round in work', /in jede M der Runde/],
    ['levelling', /zum Ausgleich|eben endet/],
    ['a tall stitch', /hohe Masche steht/],
    ['a cord that begins in the first', /fM in die erste\b/],
    ['words of sewing and knitting', /auftrennen|Bündchen/i],
    ['an imperative that reads as a past', /\brisse\b/],
    ['as written', /wie geschrieben/],
    ['rounds in full', /^Runde \d+( bis \d+)?:/m],
    ['a base that has rounds', /hat der Boden \d+/],
  ])('never say %s', (_what, unwanted) => {
    for (const print of prints) expect(print).not.toMatch(unwanted);
  });

  it('name what the page names: time, weight and next round', () => {
    expect([de.plan.hourlyRate, de.plan.emptyMass, de.plan.next]).toEqual([
      'Stundenlohn',
      'Leergewicht',
      'als Nächstes',
    ]);
    expect(de.plan.check.goOnAsWritten).toBe('Weiter wie beschrieben.');
  });
});

/** Gauges of everyday yarn: width over height of a stitch. */
const ROUNDS_OVER_STITCHES = { sc: 1.1, hdc: 0.75, dc: 0.62, tr: 0.43 } as const;

type Stitch = (typeof FABRIC_STITCHES)[number];

function manyPlans(count: number, gaugeOf: (category: number, stitch: Stitch, perTen: number) => Gauge): Plan[] {
  const { uniform, pick } = seededRandom(1923);
  return Array.from({ length: count }, () => {
    const diameterMm = uniform(40, 170);
    const container = containerFromTape({
      diameterMm,
      heightMm: diameterMm * uniform(0.7, 3.2),
      topDiameterMm: diameterMm * pick([1, 1, 0.7, 1.25]),
    });
    const usual = defaultChoices(pick(['net', 'net', 'sleeve', 'mat'] as const));
    const gauge = gaugeOf(pick([1, 2, 3, 4, 5]), pick(FABRIC_STITCHES), uniform(11, 22));
    const result = planCarrier(container, gauge, {
      ...usual,
      easeRatio: pick([usual.easeRatio, usual.easeRatio, 0.05]),
      mesh: { ...usual.mesh, kind: pick(MESH_KINDS) },
      band: { ...usual.band, stitchesPerSpace: pick([null, null, 2]) },
      strap: { ...usual.strap, style: pick(STRAP_STYLES) },
    });
    return result.outcome === 'planned' ? [result.plan] : [];
  }).flat();
}

function printed(plan: Plan, reader: Reader): string {
  const text = reader.language === 'de' ? de : en;
  const title = text.plan.titles[plan.carrier];
  return blocksAsText(patternBlocks(patternOf(title, plan, text, voiceOf(reader)), text), Number.POSITIVE_INFINITY);
}
