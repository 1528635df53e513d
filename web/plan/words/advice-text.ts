import type { Advice } from '../../../sizing/follow/replan.ts';
import type { Text } from '../../text/text.ts';
import type { Voice } from './voice.ts';

/** What a reading says and what to do now. */
export function adviceText(advice: Advice, words: Text['plan']['check'], voice: Voice): string {
  const { action, keepRounds, measuredMm, expectedMm, next } = advice;
  const off = Math.round((measuredMm / expectedMm - 1) * 100) / 100;
  const reading = off === 0 ? words.asExpected : words.off(voice.percent(Math.abs(off)), off > 0);
  if (action === 'go on') return `${reading} ${words.goOnAsWritten}`;
  if (action === 'rip back') return `${reading} ${keepRounds === 0 ? words.startAnew : words.ripBack(keepRounds)}`;
  return `${reading} ${words.changed}${next ? ` ${words.nextEnds(next.round, next.stitches)}` : ''}`;
}
