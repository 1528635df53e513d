import { Suspense, useCallback, useEffect, useReducer, useRef, useState } from 'react';
import { createMeasuring } from '../engine/measuring.ts';
import { MeasuringProvider } from '../engine/use-measuring.ts';
import { keptName } from '../keep/kept-name.ts';
import { type StorageReason, storageTrouble } from '../keep/storage-trouble.ts';
import { type Keeping, useKeptJob } from '../keep/use-kept-job.ts';
import { StoreProvider } from '../keep/use-store.ts';
import { useWorkingPhoto } from '../keep/use-working-photo.ts';
import { takeSharedPhotos } from '../photo/shared-photo.ts';
import { useJobPhotos } from '../photo/use-job-photos.ts';
import { loadText, type Text, TextProvider } from '../text/text.ts';
import { Note } from '../ui/Note.tsx';
import { placeOf, reduce, START } from './app-state.ts';
import { ErrorBoundary } from './ErrorBoundary.tsx';
import type { Opened } from './open-kept.ts';
import { Screens } from './Screens.tsx';
import { Shell } from './Shell.tsx';
import { defaultSettings, type Settings } from './settings.ts';
import { useHistory } from './use-history.ts';
import { SettingsProvider } from './use-settings.ts';

const measuring = createMeasuring();
/** Comes beside the page, with all that reads what was kept. */
const openedKept = () => import('./open-kept.ts');

/** The page: what was kept is opened first, then the job goes on where it was left. */
export function App() {
  const [state, dispatch] = useReducer(reduce, START);
  const [settings, setSettings] = useState<Settings>(() => defaultSettings(navigator.language));
  const [text, setText] = useState<Text | null>(null);
  const [kept, setKept] = useState<Opened | null>(null);
  const [ready, setReady] = useState(false);
  const [trouble, setTrouble] = useState<StorageReason | null>(null);
  const work = useJobPhotos(state, dispatch, measuring, settings.reference);
  const { picture, openSent, showKept } = work;

  /** A change that was not kept is made good by the next one that is; what was lost stays lost. */
  const tellTrouble = useCallback((reason: StorageReason | null) => {
    setTrouble((before) => reason ?? (before === 'full' || before === 'broken' ? null : before));
  }, []);

  const begun = useRef(false);
  useEffect(() => {
    if (begun.current) return;
    begun.current = true;
    void measuring.warmUp();
    void openedKept()
      .then(({ openKept }) => openKept(navigator.language))
      .then((opened) => {
        setKept(opened);
        setSettings(opened.settings);
        setTrouble(opened.trouble);
        const { restored } = opened.session;
        if (restored) {
          dispatch({ type: 'restore', saved: restored });
          showKept(restored, restored.job);
        }
      })
      .catch((thrown) => setTrouble(storageTrouble(thrown).reason))
      .then(takeSharedPhotos)
      .then(openSent)
      .finally(() => setReady(true));
  }, [showKept, openSent]);

  const { language, theme } = settings;
  useEffect(() => {
    let current = true;
    void loadText(language).then((loaded) => current && setText(loaded));
    document.documentElement.lang = language;
    return () => {
      current = false;
    };
  }, [language]);
  useEffect(() => {
    if (theme === 'auto') delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme;
  }, [theme]);

  const keeping: Keeping | null = ready ? kept : null;
  const inHand = { state, dispatch, picture, keepOriginal: settings.keepOriginalPhoto };
  const { beside, dismiss, flush } = useKeptJob(keeping, inHand, tellTrouble);
  useWorkingPhoto(
    ready ? (kept?.session.id ?? null) : null,
    state.job?.photo?.id ?? null,
    settings.keepOriginalPhoto ? null : (picture?.faceless ?? picture?.original ?? null),
    picture?.faceless != null,
    setTrouble,
  );
  useHistory(state, dispatch, ready);

  const changeSettings = (changed: Settings) => {
    setSettings(changed);
    if (!kept) return;
    kept.store.keepSettings(changed).catch((thrown) => setTrouble(storageTrouble(thrown).reason));
  };
  useEffect(() => {
    if (!kept) return;
    return kept.store.onChange((elsewhere) => {
      if (elsewhere) void kept.settingsNow().then(setSettings, () => {});
    });
  }, [kept]);
  if (!text) return null;
  const access = { store: kept?.store ?? null, reportTrouble: setTrouble, flush };

  return (
    <TextProvider value={text}>
      <SettingsProvider value={settings}>
        <StoreProvider value={access}>
          <MeasuringProvider value={measuring}>
            <Shell state={state} dispatch={dispatch}>
              {trouble && (
                <div role="alert">
                  <Note kind="warn">{text.keep.trouble[trouble]}</Note>
                </div>
              )}
              {beside && (
                <div role="status">
                  <Note kind="warn">
                    {text.keep.bothKept(keptName(beside, language))}
                    <div>
                      <button type="button" className="button button--quiet" onClick={dismiss}>
                        {text.shell.close}
                      </button>
                    </div>
                  </Note>
                </div>
              )}
              <ErrorBoundary
                key={placeOf(state.screen)}
                sentence={text.shell.crashed}
                wayOut={text.shell.crashedWayOut}
              >
                <Suspense fallback={<p role="status">{text.shell.loading}</p>}>
                  {ready ? (
                    <Screens
                      state={state}
                      dispatch={dispatch}
                      work={work}
                      settings={settings}
                      onSettings={changeSettings}
                    />
                  ) : (
                    <p role="status">{text.shell.loading}</p>
                  )}
                </Suspense>
              </ErrorBoundary>
            </Shell>
          </MeasuringProvider>
        </StoreProvider>
      </SettingsProvider>
    </TextProvider>
  );
}
