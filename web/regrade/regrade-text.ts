import type { Language } from '../app/settings.ts';
import { useSettings } from '../app/use-settings.ts';
import type { RegradeWords } from '../plan/words/regrade-words.ts';
import { regrade as german } from '../text/de/regrade.ts';
import { regrade as english } from '../text/en/regrade.ts';

/** Words on her own rounds; apart from the others, because the first view has no use for them. */
export function regradeText(language: Language): RegradeWords {
  return language === 'de' ? german : english;
}

export function useRegradeText(): RegradeWords {
  return regradeText(useSettings().language);
}
