import { type Dispatch, lazy, useEffect } from 'react';
import { PhotoOrTape } from '../photo/PhotoOrTape.tsx';
import type { OpenPhoto } from '../photo/PhotoStep.tsx';
import { useArrivingPhotos } from '../photo/use-arriving-photos.ts';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import type { Action, AppState } from './app-state.ts';
import type { Settings } from './settings.ts';

// The photo comes at once; the rest is fetched while it is being taken.
const laterScreens = () => import('./JobScreens.tsx');
const SizesScreen = lazy(() => laterScreens().then((screens) => ({ default: screens.SizesScreen })));
const PlanScreen = lazy(() => laterScreens().then((screens) => ({ default: screens.PlanScreen })));
const StallScreen = lazy(() => laterScreens().then((screens) => ({ default: screens.StallScreen })));
const OrdersView = lazy(() => import('../orders/OrdersView.tsx').then(({ OrdersView }) => ({ default: OrdersView })));
const KeptView = lazy(() => import('../keep/KeptView.tsx').then(({ KeptView }) => ({ default: KeptView })));
const WorkScreen = lazy(() =>
  import('../flat-piece/WorkScreen.tsx').then(({ WorkScreen }) => ({ default: WorkScreen })),
);
const RulerView = lazy(() => import('../ruler/RulerView.tsx').then(({ RulerView }) => ({ default: RulerView })));
const RegradeView = lazy(() =>
  import('../regrade/RegradeView.tsx').then(({ RegradeView }) => ({ default: RegradeView })),
);
const SettingsView = lazy(() => import('./SettingsView.tsx').then(({ SettingsView }) => ({ default: SettingsView })));
const GuideView = lazy(() => import('../guide/GuideView.tsx').then(({ GuideView }) => ({ default: GuideView })));

interface ScreensProps {
  readonly state: AppState;
  readonly dispatch: Dispatch<Action>;
  readonly work: JobPhotos;
  readonly settings: Settings;
  readonly onSettings: (settings: Settings) => void;
}

/** The screen the maker is on. */
export function Screens({ state, dispatch, work, settings, onSettings }: ScreensProps) {
  const { job, activity, screen } = state;
  const openPhoto: OpenPhoto = (file, from) => void work.openPhoto(file, from);
  useArrivingPhotos(screen === 'work' ? null : work.openSent);
  useEffect(() => {
    laterScreens().catch(() => {});
  }, []);
  switch (screen) {
    case 'photo':
    case 'tape':
      return (
        <PhotoOrTape
          activity={activity}
          tapeOpen={screen === 'tape'}
          dispatch={dispatch}
          onPhoto={openPhoto}
          onSent={work.openSent}
        />
      );
    case 'sizes':
      return job && <SizesScreen job={job} activity={activity} dispatch={dispatch} work={work} />;
    case 'gauge':
    case 'plan':
      return job && <PlanScreen job={job} gaugeOpen={screen === 'gauge'} dispatch={dispatch} work={work} />;
    case 'stall':
      return <StallScreen state={state} work={work} dispatch={dispatch} onPhoto={openPhoto} />;
    case 'orders':
      return <OrdersView job={job} dispatch={dispatch} work={work} />;
    case 'kept':
      return <KeptView dispatch={dispatch} work={work} />;
    case 'regrade':
      return <RegradeView job={job} lastGauge={state.lastGauge} dispatch={dispatch} work={work} />;
    case 'guide':
      return (
        <GuideView
          settings={settings}
          onSettings={onSettings}
          onPhoto={() => dispatch({ type: 'go', screen: 'photo' })}
          onRuler={() => dispatch({ type: 'go', screen: 'ruler' })}
        />
      );
    case 'work':
      return job?.work ? <WorkScreen job={{ ...job, work: job.work }} dispatch={dispatch} work={work} /> : null;
    case 'ruler':
      return <RulerView onReference={(reference) => onSettings({ ...settings, reference })} />;
    case 'settings':
      return <SettingsView settings={settings} onChange={onSettings} />;
  }
}
