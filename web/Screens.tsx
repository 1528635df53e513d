import type { Dispatch } from 'react';
import type { Action, AppState } from './app-state.ts';
import { CheckStep } from './check/CheckStep.tsx';
import { GuideView } from './guide/GuideView.tsx';
import { GaugeScreen, PhotoOrTape, PlanScreen, SizesScreen, StallScreen } from './JobScreens.tsx';
import { KeptView } from './keep/KeptView.tsx';
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
      return <PhotoOrTape state={state} dispatch={dispatch} work={work} />;
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
      return job && <SizesScreen job={job} dispatch={dispatch} work={work} />;
    case 'gauge':
      return job && <GaugeScreen job={job} dispatch={dispatch} />;
    case 'plan':
      return job && <PlanScreen job={job} dispatch={dispatch} work={work} />;
    case 'stall':
      return <StallScreen job={job} lastGauge={state.lastGauge} dispatch={dispatch} />;
    case 'kept':
      return <KeptView dispatch={dispatch} work={work} />;
    case 'guide':
      return <GuideView onPhoto={() => dispatch({ type: 'go', screen: 'photo' })} />;
    case 'settings':
      return <SettingsView settings={settings} onChange={onSettings} />;
  }
}
