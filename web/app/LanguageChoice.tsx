import { useText } from '../text/text.ts';
import { Segments } from '../ui/Segments.tsx';
import { LANGUAGES, type Language } from './settings.ts';

interface LanguageChoiceProps {
  readonly legend: string;
  readonly value: Language;
  readonly onChange: (language: Language) => void;
}

/** Of the page, or of what goes to a customer. */
export function LanguageChoice({ legend, value, onChange }: LanguageChoiceProps) {
  const { languages } = useText().shell.settings;
  return (
    <Segments legend={legend} options={LANGUAGES} value={value} name={(each) => languages[each]} onChange={onChange} />
  );
}
