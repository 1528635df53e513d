import { type Dispatch, type ReactNode, useLayoutEffect, useRef } from 'react';
import { Icon, type IconName } from '../ui/Icon.tsx';
import { type Action, type AppState, canGo, PLACES, type Screen, STEPS } from './app-state.ts';
import './shell.css';
import { useText } from '../text/text.ts';
import { UpdateNote } from './UpdateNote.tsx';

interface ShellProps {
  readonly state: AppState;
  readonly dispatch: Dispatch<Action>;
  readonly children: ReactNode;
}

const PLACE_ICONS: Readonly<Record<(typeof PLACES)[number], IconName>> = {
  stall: 'stall',
  kept: 'jar',
  guide: 'guide',
  settings: 'settings',
};

/** Frame around every screen: name, places, and the steps of the job in hand. */
export function Shell({ state, dispatch, children }: ShellProps) {
  const text = useText().shell;
  const atJob = state.screen === 'work' || STEPS.some((step) => step === state.screen);
  const go = (screen: Screen) => dispatch({ type: 'go', screen });
  useStartAtTop(state.screen);
  return (
    <div className="shell">
      <button type="button" className="shell__skip button" onClick={focusContent}>
        {text.skip}
      </button>
      <header className="shell__head no-print">
        <span className="shell__name">
          <Rounds filled={3} />
          {text.appName}
        </span>
        <nav className="shell__places" aria-label={text.placesLabel}>
          <Place current={atJob} icon="hook" label={text.places.job} onClick={() => go(lastStep(state))} />
          {PLACES.map((place) => (
            <Place
              key={place}
              current={state.screen === place}
              icon={PLACE_ICONS[place]}
              label={text.places[place]}
              onClick={() => go(place)}
            />
          ))}
        </nav>
      </header>
      {atJob && state.job && <Steps state={state} onGo={go} />}
      <main className="shell__content" id="content" tabIndex={-1}>
        <UpdateNote />
        {children}
      </main>
    </div>
  );
}

/** A new screen begins at its top, for the eye and for the keyboard. Before effects, so that a screen may go on from there. */
function useStartAtTop(screen: Screen): void {
  const shown = useRef(screen);
  useLayoutEffect(() => {
    if (shown.current === screen) return;
    shown.current = screen;
    window.scrollTo(0, 0);
    document.getElementById('content')?.focus({ preventScroll: true });
  }, [screen]);
}

interface PlaceProps {
  readonly current: boolean;
  readonly icon: IconName;
  readonly label: string;
  readonly onClick: () => void;
}

function Place({ current, icon, label, onClick }: PlaceProps) {
  return (
    <button type="button" className="shell__place" aria-current={current ? 'page' : undefined} onClick={onClick}>
      <Icon name={icon} />
      {label}
    </button>
  );
}

/** The job's steps as a disc that grows a round with each step reached. */
function Steps({ state, onGo }: { readonly state: AppState; readonly onGo: (screen: Screen) => void }) {
  const text = useText().shell;
  return (
    <nav className="shell__steps no-print" aria-label={text.stepsLabel}>
      <ol>
        {STEPS.map((step, k) => (
          <li key={step}>
            <button
              type="button"
              aria-current={state.screen === step ? 'step' : undefined}
              disabled={!canGo(state, step)}
              onClick={() => onGo(step)}
            >
              <Rounds filled={k + 1} />
              {text.steps[step]}
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** Concentric rounds, the sign of the page. */
function Rounds({ filled }: { readonly filled: number }) {
  return (
    <svg className="rounds" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
      {Array.from({ length: 5 }, (_, k) => (
        <circle
          key={`round-${k.toString()}`}
          className={k < filled ? 'rounds__worked' : 'rounds__open'}
          cx="12"
          cy="12"
          r={1.6 + 2.2 * k}
        />
      ))}
    </svg>
  );
}

/** Where "Make" leads: as far as the job has come. */
function lastStep(state: AppState): Screen {
  if (state.screen === 'work' || STEPS.some((step) => step === state.screen)) return state.screen;
  if (canGo(state, 'sizes')) return 'sizes';
  return canGo(state, 'check') ? 'check' : 'photo';
}

function focusContent(): void {
  document.getElementById('content')?.focus();
}
