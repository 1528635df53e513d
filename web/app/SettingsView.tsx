import { lazy, Suspense, useState } from 'react';
import { useText } from '../text/text.ts';
import { HANDS, LANGUAGES, LENGTH_UNITS, type Settings, TERM_SETS } from './settings.ts';

interface SettingsViewProps {
  readonly settings: Settings;
  readonly onChange: (settings: Settings) => void;
}

/** Language, words, units, look, and what happens to photos. */
export function SettingsView({ settings, onChange }: SettingsViewProps) {
  const text = useText().shell.settings;
  return (
    <div className="stack">
      <h1>{text.title}</h1>
      <Segments
        legend={text.language}
        name="language"
        options={LANGUAGES}
        labels={text.languages}
        value={settings.language}
        onChange={(language) =>
          onChange({
            ...settings,
            language,
            terms: language === 'de' ? 'de' : settings.terms === 'de' ? 'us' : settings.terms,
          })
        }
      />
      <Segments
        legend={text.terms}
        name="terms"
        options={TERM_SETS}
        labels={text.termSets}
        value={settings.terms}
        onChange={(terms) => onChange({ ...settings, terms })}
      />
      <Segments
        legend={text.units}
        name="units"
        options={LENGTH_UNITS}
        labels={text.unitNames}
        value={settings.units}
        onChange={(units) => onChange({ ...settings, units })}
      />
      <Segments
        legend={text.hand}
        name="hand"
        options={HANDS}
        labels={text.hands}
        value={settings.hand}
        onChange={(hand) => onChange({ ...settings, hand })}
      />
      <Segments
        legend={text.theme}
        name="theme"
        options={['auto', 'light', 'dark'] as const}
        labels={text.themes}
        value={settings.theme}
        onChange={(theme) => onChange({ ...settings, theme })}
      />
      <fieldset>
        <legend>{text.photos}</legend>
        <label className="choice">
          <input
            type="checkbox"
            checked={settings.keepOriginalPhoto}
            onChange={(event) => onChange({ ...settings, keepOriginalPhoto: event.target.checked })}
          />
          {text.keepOriginal}
        </label>
        <p className="quiet small">{text.keepOriginalHint}</p>
      </fieldset>
      <SoftwareInside />
    </div>
  );
}

const LicencesView = lazy(() => import('../licences/LicencesView.tsx'));

/** The texts are long, so they come only when somebody asks for them. */
function SoftwareInside() {
  const text = useText().shell;
  const [open, setOpen] = useState(false);
  return (
    <details className="fold" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{text.licences.title}</summary>
      {open && (
        <Suspense fallback={<p role="status">{text.loading}</p>}>
          <LicencesView />
        </Suspense>
      )}
    </details>
  );
}

interface SegmentsProps<T extends string> {
  readonly legend: string;
  readonly name: string;
  readonly options: readonly T[];
  readonly labels: Readonly<Record<T, string>>;
  readonly value: T;
  readonly onChange: (value: T) => void;
}

function Segments<T extends string>({ legend, name, options, labels, value, onChange }: SegmentsProps<T>) {
  return (
    <fieldset className="segments">
      <legend>{legend}</legend>
      {options.map((option) => (
        <label key={option}>
          <input type="radio" name={name} checked={value === option} onChange={() => onChange(option)} />
          {labels[option]}
        </label>
      ))}
    </fieldset>
  );
}
