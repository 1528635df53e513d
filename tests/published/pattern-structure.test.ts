import { describe, expect, test } from 'vitest';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { defaultSettings } from '../../web/app/settings.ts';
import { patternOf } from '../../web/plan/words/pattern.ts';
import { blocksAsText, patternBlocks } from '../../web/plan/words/pattern-text.ts';
import { voiceOf } from '../../web/plan/words/voice.ts';
import { en } from '../../web/text/en/text.ts';

/**
 * What designers ask of a written crochet pattern:
 * [W] K. Werker, “How to Write a Crochet Pattern”, parts 1 (the front matter) and 2 (the numbers), kimwerker.com, 2015;
 * [B] E. A. White, “Writing a Workable Crochet Pattern”, parts 2 and 3, bellacrochet.blogspot.com, 2011;
 * [M] “Tip: The Well-Written Crochet Pattern”, manycreativegifts.blogspot.com, 2020.
 * A skill level ([B], [M]) is not given: levels are defined for whole garments and differ from publisher to publisher.
 */
describe.each(['net', 'sleeve', 'mat'] as const)('the pattern of a %s has what designers ask for', (carrier) => {
  const pattern = textOf(carrier);
  test.each([
    [
      'the finished dimensions of all critical parts [W, M]',
      /FINISHED SIZE\n\n- Made for: [^\n]+\n- (Base|Across): \d+ mm/,
    ],
    [
      'yarn with fibre, weight and how much of it [W, B, M]',
      /Yarn: Cotton, 3 Light \(DK\); \d+ ± \d+ g \/ \d+ ± \d+ m/,
    ],
    ['the hook in mm beside its letter [B]', /Hook: 4 mm \(US G-6\)/],
    ['everything else that is needed [B, M]', /Notions: .*needle/],
    [
      'the gauge over 10 cm or 4 in, and in which stitch it was taken [W, M]',
      /Gauge: \d+ dc and \d+ rnds = 10 cm \/ 4 in/,
    ],
    ['the abbreviations that are used [M]', /ABBREVIATIONS\n\n.*sl st = slip stitch/],
    ['how and where to join [B]', /join with\s+sl st in top of beg\s+ch-3/],
    ['the count of stitches at the end of a round [B]', /^Rnd 2: [^.]*\((\d+) dc; \d+ mm\s+across\)\.$/m],
    ['how to finish, tails included', /FINISHING\n\n[\s\S]*Weave in all ends/],
  ])('%s', (_what, asked) => {
    expect(pattern).toMatch(asked);
  });

  test('no abbreviation that is not explained [W, M]', () => {
    const explained = /ABBREVIATIONS\n\n([\s\S]*?)\n\n/.exec(pattern)?.[1] ?? '';
    const [, instructions] = pattern.split('INSTRUCTIONS');
    for (const short of [
      'ch',
      'sl st',
      'sc',
      'hdc',
      'dc',
      'tr',
      'inc',
      'dec',
      'sk',
      'rnd',
      'yo',
      'rep',
      'beg',
      'ch-sp',
    ]) {
      const isUsed = new RegExp(`\\b${short}s?\\b`).test(instructions);
      if (isUsed) expect(explained, short).toMatch(new RegExp(`\\b${short}(\\(s\\))?\\s+=`));
    }
    expect(explained).not.toBe('');
  });
});

test('a cotton label is read as the weight its maker gives it: 193 m in 100 g, DK (a yarn company’s leaflet)', () => {
  const gauge = defaultGauge();
  const labelled = { ...gauge, yarn: { ...gauge.yarn, metresPer100g: 193, assumed: false } };
  expect(textOf('net', labelled)).toMatch(/Cotton, 3 Light \(DK\)/);
});

function textOf(carrier: 'net' | 'sleeve' | 'mat', gauge = defaultGauge()): string {
  const container = containerFromTape({ diameterMm: 90, heightMm: 180 });
  const result = planCarrier(container, gauge, { ...defaultChoices(), carrier });
  if (result.outcome !== 'planned') throw new Error('refused');
  const voice = voiceOf({ ...defaultSettings('en-US'), units: 'cm' });
  return blocksAsText(patternBlocks(patternOf('Carrier', result.plan, en, voice), en));
}
