import { type Dispatch, useEffect, useRef } from 'react';
import { type Action, type AppState, ASIDES, PLACES, type Screen, STEPS } from './app-state.ts';

/** Goes with an address that was reached from another screen of ours. */
interface Reached {
  readonly from: Screen;
}

/** Back to where the maker came from, as the browser's own button does it; `otherwise` when that was outside or another screen than `to`. */
export function goBack(otherwise: () => void, to?: Screen): void {
  const reached = history.state as Reached | null;
  if (reached?.from && (!to || reached.from === to)) history.back();
  else otherwise();
}

/** The browser's back button goes back a screen: each screen has an address of its own after the #. */
export function useHistory(state: AppState, dispatch: Dispatch<Action>, ready: boolean): void {
  const { screen } = state;
  const first = useRef(true);
  const last = useRef(screen);
  useEffect(() => {
    if (!ready) return;
    const reached: Reached = { from: last.current };
    last.current = screen;
    if (first.current) {
      first.current = false;
      const asked = screenOf(location.hash);
      if (asked && asked !== screen) dispatch({ type: 'go', screen: asked });
      history.replaceState(null, '', `#${screen}`);
      return;
    }
    if (screenOf(location.hash) !== screen) history.pushState(reached, '', `#${screen}`);
  }, [screen, ready, dispatch]);

  useEffect(() => {
    const back = () => {
      const asked = screenOf(location.hash);
      if (asked) dispatch({ type: 'go', screen: asked });
    };
    window.addEventListener('popstate', back);
    return () => window.removeEventListener('popstate', back);
  }, [dispatch]);
}

function screenOf(hash: string): Screen | null {
  const name = hash.slice(1);
  return [...STEPS, ...PLACES, ...ASIDES].find((screen) => screen === name) ?? null;
}
