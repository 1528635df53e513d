import type { Plan } from '../../sizing/plan.ts';
import type { Hand, TermSet } from '../../web/app/settings.ts';
import { lineText, patternOf } from '../../web/plan/words/pattern.ts';
import { voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';

/** The lines of a plan's instructions as they are printed. */
export function printedLines(plan: Plan, terms: TermSet, hand: Hand = 'right'): string[] {
  const language = terms === 'de' ? 'de' : 'en';
  const voice = voiceOf({ language, terms, hand, units: terms === 'us' ? 'in' : 'cm' });
  const pattern = patternOf('', plan, language === 'de' ? de : en, voice);
  return pattern.parts.flatMap(({ lines }) => lines.map(lineText));
}
