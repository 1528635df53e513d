import type { Part, Plan, Round } from '../../sizing/plan.ts';
import type { Settings } from '../app/settings.ts';
import {
  lengthText,
  longLengthText,
  massText,
  numberText,
  rulerRangeText,
  rulerText,
  timeText,
  yarnLengthText,
} from '../text/estimate-text.ts';
import type { Text } from '../text/text.ts';
import { isFastenedOffAfter, TAIL_MM } from './fasten-off.ts';
import { groupedRounds } from './grouped-rounds.ts';
import { roundText } from './round-text.ts';
import { shortStitch } from './stitch-words.ts';
import { wordsUsed } from './words-used.ts';

interface Voice {
  readonly words: Text['plan'];
  readonly settings: Settings;
  /** The engine's sentences in the reader's language. */
  readonly say: (sentence: string) => string;
}

/** The whole plan as plain text, for a message or a notebook. */
export function planAsText(title: string, plan: Plan, voice: Voice): string {
  const { words, settings, say } = voice;
  const { gauge, yarn, container } = plan;
  const blocks = [
    title,
    words.sizes(lengthText(container.maxDiameterMm, settings), lengthText(container.heightMm, settings)),
    [
      `${words.yarnNeed}: ${yarnLengthText(yarn.metres, settings)} (${massText(yarn.grams, settings)}), ${words.strands(gauge.strands)}`,
      ...(gauge.hookMm === null ? [] : [`${words.hook}: ${numberText(gauge.hookMm, 2, settings.language)} mm`]),
      `${words.gauge}: ${words.gaugeText(shortStitch(gauge.stitch, settings.terms), lengthText(gauge.stitchWidthMm, settings), lengthText(gauge.roundHeightMm, settings))}${gauge.origin === 'guess' ? ` (${words.guess})` : ''}`,
      `${words.time}: ${words.timeAbout(timeText(plan.minutes.value))}`,
    ].join('\n'),
    `${words.termSets[settings.terms]} ${words.abbreviations}: ${wordsUsed(plan, settings.terms, words.shortWords)}.`,
    [`${words.fitTitle} ${say(plan.fit.message)}`, ...plan.warnings.map((warning) => `! ${say(warning)}`)].join('\n'),
    ...plan.parts.map((part) => partAsText(part, plan, voice)),
    checksAsText(plan, voice),
    [words.cautionsTitle.toUpperCase(), ...plan.cautions.map((caution) => `- ${say(caution)}`)].join('\n'),
  ];
  return `${blocks.filter(Boolean).join('\n\n')}\n`;
}

function partAsText(part: Part, plan: Plan, { words, settings, say }: Voice): string {
  return [
    words.parts[part.name].toUpperCase(),
    ...part.notes.map(say),
    ...groupedRounds(part.rounds).map((group) => roundsAsText(group, { words, settings, say })),
    ...(isFastenedOffAfter(part, plan) ? [words.fastenOff(longLengthText(TAIL_MM, settings))] : []),
    ...(part.name === 'strap' && plan.strap ? [say(plan.strap.sewOn)] : []),
  ].join('\n');
}

function roundsAsText(group: readonly Round[], { words, settings, say }: Voice): string {
  const [first] = group;
  const last = group[group.length - 1];
  if (first.closing === 'cord') return `${words.cord}: ${say(first.note ?? '')} ${words.stitches(first.stitches)}.`;
  const name = group.length === 1 ? words.round(first.number) : words.sameRounds(first.number, last.number);
  const facts = [
    words.stitches(last.stitches),
    ...(last.spaces > 0 ? [words.cells(last.spaces)] : []),
    ...(last.widthMm ? [words.across(rulerText(last.widthMm.value, settings))] : []),
    ...(last.heightMm ? [words.high(rulerText(last.heightMm.value, settings))] : []),
  ];
  return `${name}: ${roundText(first, settings)}. (${facts.join(', ')})${first.note ? ` ${say(first.note)}` : ''}`;
}

function checksAsText(plan: Plan, { words, settings, say }: Voice): string {
  if (plan.checkpoints.length === 0) return '';
  return [
    words.checksTitle.toUpperCase(),
    ...plan.checkpoints.map((checkpoint) => {
      const length = rulerText(checkpoint.expectedMm.value, settings);
      const expected = checkpoint.measure === 'width across' ? words.across(length) : words.high(length);
      const goOn = words.check.goOn(rulerRangeText(checkpoint.goOnMm, settings));
      return `${words.round(checkpoint.afterRound)}: ${expected}. ${goOn} ${words.check.less} ${say(checkpoint.ifLess)} ${words.check.more} ${say(checkpoint.ifMore)}`;
    }),
  ].join('\n');
}
