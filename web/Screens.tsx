import type { Dispatch } from 'react';
import type { Action, AppState } from './app-state.ts';
import { CheckStep } from './check/CheckStep.tsx';
import { GuideView } from './guide/GuideView.tsx';
import { KeptView } from './keep/KeptView.tsx';
import { PhotoStep } from './photo/PhotoStep.tsx';
import { SettingsView } from './SettingsView.tsx';
import type { Settings } from './settings.ts';
import type { JobWork } from './use-job.ts';

interface ScreensProps {
  readonly state: AppState;
  readonly dispatch: Dispatch<Action>;
  readonly work: JobWork;
  readonly settings: Settings;
  readonly onSettings: (settings: Settings) => void;
}

/** The screen the maker is on. */
export function Screens({ state, dispatch, work, settings, onSettings }: ScreensProps) {
  const { job, activity, screen } = state;
  switch (screen) {
    case 'photo':
      return <PhotoStep activity={activity} dispatch={dispatch} onPhoto={work.openPhoto} onTape={() => {}} />;
    case 'check':
      return job?.photo ? (
        <CheckStep
          job={{ ...job, photo: job.photo }}
          activity={activity}
          work={work}
          dispatch={dispatch}
          onSnap={(snapToEdges) => onSettings({ ...settings, snapToEdges })}
        />
      ) : null;
    case 'sizes':
    case 'gauge':
    case 'plan':
    case 'stall':
      return <p>{screen}</p>;
    case 'kept':
      return <KeptView dispatch={dispatch} work={work} />;
    case 'guide':
      return <GuideView onPhoto={() => dispatch({ type: 'go', screen: 'photo' })} />;
    case 'settings':
      return <SettingsView settings={settings} onChange={onSettings} />;
  }
}
