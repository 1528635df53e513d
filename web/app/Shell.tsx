import { type Dispatch, type ReactNode, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { useText } from '../text/text.ts';
import { Disc } from '../ui/Disc.tsx';
import { Icon, type IconName } from '../ui/Icon.tsx';
import { Sheet } from '../ui/Sheet.tsx';
import { type Action, type AppState, canGo, PLACES, placeOf, type Screen, STEPS, type Step } from './app-state.ts';
import { UpdateNote } from './UpdateNote.tsx';
import { goBack } from './use-history.ts';
import './shell.css';

interface ShellProps {
  readonly state: AppState;
  readonly dispatch: Dispatch<Action>;
  readonly children: ReactNode;
}

const PLACE_ICONS: Readonly<Record<(typeof PLACES)[number], IconName>> = {
  stall: 'stall',
  orders: 'tag',
  kept: 'jar',
  regrade: 'swap',
  guide: 'guide',
  settings: 'settings',
};

/** Frame around every screen: one line that says where the maker is, how to go back, and where else she can go. */
export function Shell({ state, dispatch, children }: ShellProps) {
  const text = useText().shell;
  const place = placeOf(state.screen);
  const step = STEPS.find((each) => each === place) ?? null;
  const [menuOpen, setMenuOpen] = useState(false);
  const go = (screen: Screen) => {
    setMenuOpen(false);
    dispatch({ type: 'go', screen });
  };
  useStartAtTop(place);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the browser's back button leaves a menu behind, too.
  useEffect(() => setMenuOpen(false), [state.screen]);
  return (
    <div className={step ? 'shell' : 'shell shell--aside'}>
      <button type="button" className="shell__skip button" onClick={focusContent}>
        {text.skip}
      </button>
      <header className="shell__head no-print">
        {step ? (
          <>
            <span className={state.job ? 'shell__name shell__name--beside' : 'shell__name'}>
              <Disc worked={STEPS.indexOf(step) + 1} of={3} size={28} />
              <span>{text.appName}</span>
            </span>
            {state.job && <Steps state={state} step={step} onGo={go} />}
          </>
        ) : (
          <button
            type="button"
            className="shell__back button button--quiet"
            onClick={() => goBack(() => go(state.job ? 'sizes' : 'photo'))}
          >
            <Icon name="back" /> {text.back}
          </button>
        )}
        <button
          type="button"
          className="shell__menu button button--quiet button--icon"
          aria-label={text.menu}
          aria-haspopup="dialog"
          onClick={() => setMenuOpen(true)}
        >
          <Icon name="menu" />
        </button>
      </header>
      <main className="shell__content" id="content" tabIndex={-1}>
        <UpdateNote />
        {children}
      </main>
      {menuOpen && (
        <Sheet title={text.menu} onClose={() => setMenuOpen(false)}>
          <nav className="shell__places" aria-label={text.placesLabel}>
            <Place current={step !== null} icon="camera" label={text.newJob} onClick={() => go('photo')} />
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
        </Sheet>
      )}
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

interface StepsProps {
  readonly state: AppState;
  readonly step: Step;
  readonly onGo: (screen: Screen) => void;
}

/** The three places of the job in hand. */
function Steps({ state, step, onGo }: StepsProps) {
  const text = useText().shell;
  return (
    <nav className="shell__steps" aria-label={text.stepsLabel}>
      <ol>
        {STEPS.map((each) => (
          <li key={each}>
            <button
              type="button"
              aria-current={each === step ? 'step' : undefined}
              disabled={!canGo(state, each)}
              onClick={() => onGo(each)}
            >
              {text.steps[each]}
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}

function focusContent(): void {
  document.getElementById('content')?.focus();
}
