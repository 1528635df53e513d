import { type Dispatch, type ReactNode, useEffect, useRef, useState } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import {
  ARRANGEMENTS,
  type Arrangement,
  type MeasureResult,
  ON_ONE_TABLE,
  type ProblemCode,
  type Stage,
} from '../../vision/measurement.ts';
import type { Action, Activity, Edits, Job } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import { cornersOf, outlineOf } from '../engine/measure-options.ts';
import { ReferenceChoice } from '../reference/ReferenceChoice.tsx';
import { isRoundNamed } from '../reference/reference-named.ts';
import { useText } from '../text/text.ts';
import { Busy } from '../ui/Busy.tsx';
import { Fold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { startingOutline } from './bend-outline.ts';
import type { JobWork } from './use-job.ts';
import './check.css';
import { OutlineEditor, type Placed } from './OutlineEditor.tsx';
import { startingCard, startingCoin } from './starting-card.ts';
import { useGreyPatch } from './use-grey-patch.ts';

interface CheckStepProps {
  readonly job: Job & { readonly photo: NonNullable<Job['photo']> };
  readonly activity: Activity;
  readonly work: JobWork;
  readonly dispatch: Dispatch<Action>;
  readonly onSnap: (snapToEdges: boolean) => void;
  /** The sizes, of the live result while a point is dragged, else of the job (null). */
  readonly numbers: (live: MeasureResult | null) => ReactNode;
  /** What is folded under them. */
  readonly children: ReactNode;
  readonly wayOn: ReactNode;
}

/** What the maker is about to point out, and where the point stands. */
interface Aim {
  readonly at: 'container' | 'coin';
  readonly atPx: ImagePoint;
}

/** The photo with what was found on it, everything movable, sizes alive underneath. */
export function CheckStep({ job, activity, work, dispatch, onSnap, numbers, children, wayOn }: CheckStepProps) {
  const text = useText();
  const { snapToEdges } = useSettings();
  const [draft, setDraft] = useState<Placed | null>(null);
  const [liveResult, setLiveResult] = useState<MeasureResult | null>(null);
  const [aiming, setAiming] = useState<Aim | null>(null);
  const searchable = work.picture?.original ? work.picture.shown : null;
  const readPhoto = useGreyPatch(snapToEdges ? searchable : null, job.photo);

  const edits: Edits = { ...job.edits, ...draft };
  const result = liveResult ?? job.result;
  const found = job.result;
  const isRound = isRoundNamed(edits.reference);
  const guess = found?.outcome === 'refused' ? found.found.cornersGuessPx : null;
  const cornersPx = edits.cornersPx ?? (found && cornersOf(found));
  const outlinePx = edits.outlinePx ?? (result && outlineOf(result));
  const fittedPx = edits.outlinePx && result?.outcome === 'measured' ? result.measurement.outlinePx : null;

  const lying =
    result?.outcome === 'measured' && result.measurement.arrangement === 'lying' ? result.measurement : null;

  // A live result that comes in after the point was let go is late and must not show.
  const holding = useRef(false);
  const change = (placed: Placed) => {
    if (placed.tapPx) return setAiming(aiming && { ...aiming, atPx: placed.tapPx });
    setDraft(placed);
    holding.current = true;
    const show = (live: MeasureResult) => holding.current && setLiveResult(live);
    if (found) work.measureLive({ ...job.edits, ...placed }, found, show);
  };
  const done = (placed: Placed | null) => {
    holding.current = false;
    setDraft(null);
    if (!placed) setLiveResult(null);
    setAiming(null);
    if (placed?.tapPx && aiming?.at === 'coin') {
      dispatch({ type: 'edit', edits: { referencePx: placed.tapPx, cornersPx: null } });
    } else if (placed) dispatch({ type: 'edit', edits: placed });
  };

  // The sizes seen last while dragging stay until the place where the point was left has been measured.
  const { kind } = activity;
  useEffect(() => {
    if (found && kind !== 'measuring' && !holding.current) setLiveResult(null);
  }, [found, kind]);

  const startingCorners = () => (isRound ? startingCoin(job.photo) : (guess ?? startingCard(job.photo)));
  const aim = (at: Aim['at']) =>
    setAiming(aiming?.at === at ? null : { at, atPx: [job.photo.widthPx / 2, job.photo.heightPx / 2] });

  return (
    <div className="check">
      <div className="check__photo">
        <OutlineEditor
          url={work.picture?.url ?? null}
          photo={job.photo}
          cornersPx={cornersPx}
          isRound={isRound}
          outlinePx={outlinePx}
          fittedPx={fittedPx}
          tapPx={aiming?.atPx ?? null}
          tapLabel={aiming?.at === 'coin' ? text.check.coin.tapHandle : undefined}
          basePx={lying ? lying.axisPx[0] : null}
          onChange={change}
          onDone={done}
          readPhoto={snapToEdges && searchable ? readPhoto : null}
          snapOutline={snapToEdges && searchable ? work.snapOutline : null}
        />
        <Measuring activity={activity} onCancel={work.cancel} />
        <Verdict result={result} activity={activity} />
      </div>
      <div className="check__side stack">
        {numbers(liveResult)}
        <Trouble activity={activity} dispatch={dispatch} />
        {result && <Findings result={result} dispatch={dispatch} />}
        <WhichEnd result={result} dispatch={dispatch} />
        <Repairs
          result={result}
          isRound={isRound}
          onAim={() => aim('container')}
          missingCard={!cornersPx}
          missingOutline={!outlinePx}
          onPlaceCard={() => dispatch({ type: 'edit', edits: { cornersPx: startingCorners() } })}
          onPlaceOutline={() => dispatch({ type: 'edit', edits: { outlinePx: startingOutline(job.photo) } })}
        />
        {found && !cornersPx && (
          <button
            type="button"
            className="button button--quiet"
            onClick={() => dispatch({ type: 'go', screen: 'ruler' })}
          >
            {text.reference.toRuler}
          </button>
        )}
        <div>
          <Fold title={text.check.fold} icon="tap">
            <p className="quiet">{isRound ? text.check.coin.lead : text.check.lead}</p>
            <Tools
              job={job}
              canSearch={searchable !== null}
              aiming={aiming?.at ?? null}
              isRound={isRound}
              dispatch={dispatch}
              onAim={aim}
            />
            <label className="choice">
              <input type="checkbox" checked={snapToEdges} onChange={(event) => onSnap(event.target.checked)} />
              {text.check.snap}
            </label>
            <Arrangements job={job} result={result} dispatch={dispatch} />
            <p className="quiet small">{text.check.canvasHelp}</p>
          </Fold>
          {children}
        </div>
        {wayOn}
      </div>
    </div>
  );
}

function Measuring({ activity, onCancel }: { readonly activity: Activity; readonly onCancel: () => void }) {
  const text = useText().photo;
  if (activity.kind !== 'measuring') return null;
  return (
    <div className="check__busy">
      <Busy done={activity.stage === null ? 0 : STAGES.indexOf(activity.stage)}>
        {text.stages[activity.stage ?? 'start']}
      </Busy>
      <button type="button" className="button button--quiet" onClick={onCancel}>
        {text.cancel}
      </button>
    </div>
  );
}

const STAGES: readonly Stage[] = ['card', 'outline', 'container'];

/** On the photo, in a word: what to think of the drawing. */
function Verdict({ result, activity }: { readonly result: MeasureResult | null; readonly activity: Activity }) {
  const text = useText().check.verdict;
  if (!result || activity.kind === 'measuring') return null;
  const says = result.outcome === 'refused' ? 'refused' : result.warnings.some(isDoubt) ? 'doubt' : 'sure';
  return (
    <span className={`check__verdict chip ${says === 'sure' ? 'chip--sure' : 'chip--doubt'}`}>
      <Icon name={says === 'sure' ? 'check' : 'warn'} size={20} /> {text[says]}
    </span>
  );
}

/** A wider ± says enough about a lens that is not named. */
function isDoubt({ code }: { readonly code: ProblemCode }): boolean {
  return code !== 'typical-focal';
}

function Trouble({ activity, dispatch }: { readonly activity: Activity; readonly dispatch: Dispatch<Action> }) {
  const text = useText().photo;
  if (activity.kind !== 'trouble') return null;
  return (
    <div className="stack stack--tight" role="alert">
      <Note kind="stop">{text.trouble[activity.reason]}</Note>
      <div className="row">
        {activity.reason !== 'photo-gone' && (
          <button type="button" className="button" onClick={() => dispatch({ type: 'try-again' })}>
            {text.tryAgain}
          </button>
        )}
        <button
          type="button"
          className="button button--quiet"
          onClick={() => dispatch({ type: 'go', screen: 'photo' })}
        >
          {text.otherPhoto}
        </button>
      </div>
    </div>
  );
}

/** Which part of the photo a problem is about. */
const ABOUT: Partial<Record<ProblemCode, 'aboutCard' | 'aboutCoin' | 'aboutContainer'>> = {
  'no-card': 'aboutCard',
  'card-cut-off': 'aboutCard',
  'card-too-small': 'aboutCard',
  'card-too-oblique': 'aboutCard',
  'glare-on-card-edge': 'aboutCard',
  'card-far-away': 'aboutCard',
  'card-square-on': 'aboutCard',
  'which-arrangement': 'aboutCard',
  'arrangement-uncertain': 'aboutCard',
  'no-round-reference': 'aboutCoin',
  'round-too-small': 'aboutCoin',
  'round-too-oblique': 'aboutCoin',
  'round-not-on-table': 'aboutCoin',
  'round-far-away': 'aboutCoin',
  'round-seen-two-ways': 'aboutCoin',
  'stands-or-lies': 'aboutContainer',
  'no-container': 'aboutContainer',
  'container-cut-off': 'aboutContainer',
  'not-round': 'aboutContainer',
  'too-flat': 'aboutContainer',
  'base-hidden': 'aboutContainer',
  'two-containers': 'aboutContainer',
  'fit-failed': 'aboutContainer',
  'too-uncertain': 'aboutContainer',
  'base-not-visible': 'aboutContainer',
  'which-end-is-base': 'aboutContainer',
  'outline-uncertain': 'aboutContainer',
  'maybe-not-round': 'aboutContainer',
};

function Findings({ result, dispatch }: { readonly result: MeasureResult; readonly dispatch: Dispatch<Action> }) {
  const text = useText();
  const about = (code: ProblemCode) => text.check[ABOUT[code] ?? 'aboutPhoto'];
  return (
    <div className="stack stack--tight" aria-live="polite">
      {result.outcome === 'refused' && (
        <>
          <Note kind="stop" title={`${text.check.refusedTitle} (${about(result.reason.code)})`}>
            {text.problems[result.reason.code]}
          </Note>
          <div className="row">
            <button type="button" className="button" onClick={() => dispatch({ type: 'go', screen: 'photo' })}>
              <Icon name="camera" /> {text.photo.otherPhoto}
            </button>
            <button type="button" className="button" onClick={() => dispatch({ type: 'go', screen: 'tape' })}>
              <Icon name="tape" /> {text.photo.tapeInstead}
            </button>
          </div>
        </>
      )}
      {result.warnings.filter(isDoubt).map(({ code }) => (
        <Note key={code} kind="warn" title={about(code)}>
          {text.problems[code]}
        </Note>
      ))}
    </div>
  );
}

interface RepairsProps {
  readonly result: MeasureResult | null;
  readonly isRound: boolean;
  readonly missingCard: boolean;
  readonly missingOutline: boolean;
  readonly onAim: () => void;
  readonly onPlaceCard: () => void;
  readonly onPlaceOutline: () => void;
}

/** What the engine did not find can be put there by hand. */
function Repairs({ result, isRound, missingCard, missingOutline, onAim, onPlaceCard, onPlaceOutline }: RepairsProps) {
  const text = useText().check;
  if (!result || (!missingCard && !missingOutline)) return null;
  return (
    <div className="row">
      {!missingCard && (
        <button type="button" className="button" onClick={onAim}>
          <Icon name="tap" /> {text.tap}
        </button>
      )}
      {missingCard && (
        <button type="button" className="button" onClick={onPlaceCard}>
          {isRound ? text.coin.place : text.placeCard}
        </button>
      )}
      {missingOutline && (
        <button type="button" className="button" onClick={onPlaceOutline}>
          {text.placeOutline}
        </button>
      )}
    </div>
  );
}

interface ToolsProps {
  readonly job: Job;
  readonly canSearch: boolean;
  readonly aiming: Aim['at'] | null;
  readonly isRound: boolean;
  readonly dispatch: Dispatch<Action>;
  readonly onAim: (at: Aim['at']) => void;
}

function Tools({ job, canSearch, aiming, isRound, dispatch, onAim }: ToolsProps) {
  const text = useText().check;
  return (
    <div className="stack stack--tight">
      <div className="check__tools">
        <button
          type="button"
          className="button"
          disabled={job.past.length === 0}
          onClick={() => dispatch({ type: 'undo' })}
        >
          <Icon name="undo" /> {text.undo}
        </button>
        <button
          type="button"
          className="button"
          disabled={job.future.length === 0}
          onClick={() => dispatch({ type: 'redo' })}
        >
          <Icon name="redo" /> {text.redo}
        </button>
        <button type="button" className="button" disabled={!canSearch} onClick={() => dispatch({ type: 'find-again' })}>
          <Icon name="search" /> {text.findAgain}
        </button>
        <button
          type="button"
          className="button"
          disabled={!canSearch}
          aria-pressed={aiming === 'container'}
          onClick={() => onAim('container')}
        >
          <Icon name="tap" /> {text.tap}
        </button>
        {isRound && (
          <button
            type="button"
            className="button"
            disabled={!canSearch}
            aria-pressed={aiming === 'coin'}
            onClick={() => onAim('coin')}
          >
            <Icon name="tap" /> {text.coin.tap}
          </button>
        )}
      </div>
      {aiming && <p role="status">{aiming === 'coin' ? text.coin.tapHint : text.tapHint}</p>}
      {!canSearch && <p className="quiet small">{text.findAgainGone}</p>}
    </div>
  );
}

/** Either end of a container lying down may be its base; the shape only suggests which. */
function WhichEnd({ result, dispatch }: Omit<ArrangementsProps, 'job'>) {
  const text = useText().check;
  if (result?.outcome !== 'measured' || result.measurement.arrangement !== 'lying') return null;
  const [, topPx] = result.measurement.axisPx;
  return (
    <button type="button" className="button" onClick={() => dispatch({ type: 'edit', edits: { basePx: topPx } })}>
      <Icon name="swap" /> {text.swapEnds}
    </button>
  );
}

interface ArrangementsProps {
  readonly job: Job;
  readonly result: MeasureResult | null;
  readonly dispatch: Dispatch<Action>;
}

function Arrangements({ job, result, dispatch }: ArrangementsProps) {
  const text = useText().check;
  const found = result?.outcome === 'measured' ? result.measurement.arrangement : null;
  const isRound = isRoundNamed(job.edits.reference);
  const chooseReference = (reference: string | null) => {
    // corners of a card are no square about a coin, and a coin leans on nothing
    const other = isRoundNamed(reference) !== isRound ? { cornersPx: null, referencePx: null, arrangement: null } : {};
    dispatch({ type: 'edit', edits: { ...other, reference } });
  };
  return (
    <div className="stack stack--tight">
      <div className="field">
        <label htmlFor="arrangement">{text.arrangement}</label>
        <select
          id="arrangement"
          value={job.edits.arrangement ?? ''}
          onChange={(event) =>
            dispatch({ type: 'edit', edits: { arrangement: (event.target.value || null) as Arrangement | null } })
          }
        >
          <option value="">
            {found && !job.edits.arrangement
              ? `${text.arrangementAuto}: ${text.arrangements[found]}`
              : text.arrangementAuto}
          </option>
          {(isRound ? ON_ONE_TABLE : ARRANGEMENTS).map((arrangement) => (
            <option key={arrangement} value={arrangement}>
              {text.arrangements[arrangement]}
            </option>
          ))}
        </select>
      </div>
      <ReferenceChoice value={job.edits.reference} coinNote={text.coin.note} onChange={chooseReference} />
    </div>
  );
}
