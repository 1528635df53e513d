import { flushSync } from 'react-dom';
import { createRoot } from 'react-dom/client';
import type { Plan } from '../../sizing/plan.ts';
import { defaultSettings, type Settings } from '../app/settings.ts';
import { SettingsProvider } from '../app/use-settings.ts';
import { de } from '../text/de/text.ts';
import { en } from '../text/en/text.ts';
import { TextProvider } from '../text/text.ts';
import { PlanSheet } from './PlanSheet.tsx';
import type { Reader } from './words/voice.ts';

/** A page with the printed pattern alone on it: what `plan --pdf` prints. */
export function showPattern(title: string, plan: Plan, reader: Reader): void {
  const settings: Settings = { ...defaultSettings('en'), ...reader };
  const place = document.body.appendChild(document.createElement('div'));
  document.documentElement.lang = reader.language;
  flushSync(() =>
    createRoot(place).render(
      <SettingsProvider value={settings}>
        <TextProvider value={reader.language === 'de' ? de : en}>
          <PlanSheet title={title} plan={plan} />
        </TextProvider>
      </SettingsProvider>,
    ),
  );
}
