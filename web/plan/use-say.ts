import { useSettings } from '../app/use-settings.ts';
import { useText } from '../text/text.ts';
import { planSentence } from './plan-sentence.ts';

/** Says the sizing engine's sentences in the maker's language, stitch names and units. */
export function useSay(): (sentence: string) => string {
  const settings = useSettings();
  const { planSentences } = useText();
  return (sentence) => planSentence(sentence, settings, planSentences);
}
