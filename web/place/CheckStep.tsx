import { type Dispatch, type ReactNode, useEffect, useMemo, useRef, useState } from 'react';
import type { HandPlacement } from '../../vision/container/hand-placement.ts';
import { silhouetteOf } from '../../vision/container/solid-in-view.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { signedDistance } from '../../vision/geometry/polygon.ts';
import {
  ARRANGEMENTS,
  type Arrangement,
  type MeasureResult,
  ON_ONE_TABLE,
  type ProblemCode,
  type Stage,
} from '../../vision/measurement.ts';
import { type Action, type Activity, type Job, measurementOf } from '../app/app-state.ts';
import { cornersOf, outlineOf, solidOfResult } from '../engine/measure-options.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import { ReferenceChoice } from '../reference/ReferenceChoice.tsx';
import { isRoundNamed } from '../reference/reference-named.ts';
import { TAPE_FOLD } from '../sizes/TapeComparison.tsx';
import { TapeDoubt } from '../sizes/TapeDoubt.tsx';
import { type Text, useText } from '../text/text.ts';
import { Busy } from '../ui/Busy.tsx';
import { Fold, openFold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import './check.css';
import { PlacePhoto } from './PlacePhoto.tsx';
import type { Placed } from './placing.ts';
import { RefusalCard } from './RefusalCard.tsx';
import { startingCard, startingCoin } from './starting-card.ts';
import type { JobWork } from './use-job.ts';
import { type Doubt, doubtsOf, type PhotoVerdict, verdictOnPhoto } from './verdict.ts';

interface CheckStepProps {
  readonly job: Job & { readonly photo: NonNullable<Job['photo']> };
  readonly activity: Activity;
  readonly work: JobWork;
  readonly dispatch: Dispatch<Action>;
  /** The sizes, of the live result while a point is dragged, else of the job (null). */
  readonly numbers: (live: MeasureResult | null) => ReactNode;
  /** Whose a photo is that somebody sent, asked before all else. */
  readonly asks: ReactNode;
  /** What is folded under them. */
  readonly children: ReactNode;
  readonly wayOn: ReactNode;
}

/** What the maker points out with the keyboard, and where the point stands. */
interface Aiming {
  readonly at: 'container' | 'coin';
  readonly atPx: ImagePoint;
}

/** The photo with what was found on it, everything movable, the verdict on it and the sizes underneath. */
export function CheckStep({ job, activity, work, dispatch, numbers, asks, children, wayOn }: CheckStepProps) {
  const text = useText();
  const words = text.check;
  const [liveResult, setLiveResult] = useState<MeasureResult | null>(null);
  const [aiming, setAiming] = useState<Aiming | null>(null);
  const [tappedPx, setTappedPx] = useState<ImagePoint | null>(null);
  const searchable = work.picture?.original ? work.picture.shown : null;

  const { edits, result: found } = job;
  const result = liveResult ?? found;
  const isOld = activity.kind === 'measuring' && found !== null;
  const isRound = isRoundNamed(edits.reference);
  const guess = found?.outcome === 'refused' ? found.found.cornersGuessPx : null;
  const cornersPx = (found && cornersOf(found)) ?? edits.cornersPx;
  const solid = useMemo(() => found && solidOfResult(found), [found]);
  const outlinePx = solid ? null : (edits.outlinePx ?? (found && outlineOf(found)));
  const measured = found?.outcome === 'measured' ? found.measurement : null;

  // A live result that comes in after the point was let go is late and must not show.
  const holding = useRef(false);
  const move = (placed: Placed) => {
    // a solid is measured when it is let go: its drawing follows by itself
    if (placed.hand) return;
    holding.current = true;
    const show = (live: MeasureResult) => holding.current && setLiveResult(live);
    if (found) work.measureLive({ ...edits, ...placed }, found, show);
  };
  const place = (placed: Placed) => {
    holding.current = false;
    dispatch({ type: 'edit', edits: placed });
  };
  // The sizes seen last while dragging stay until the place where the point was left has been measured.
  const { kind } = activity;
  useEffect(() => {
    if (found && kind !== 'measuring' && !holding.current) setLiveResult(null);
  }, [found, kind]);

  const measureAt = (tapPx: ImagePoint) => dispatch({ type: 'edit', edits: { tapPx, outlinePx: null, hand: [] } });
  const cornersAt = (atPx: ImagePoint | null) => {
    const start = isRound ? startingCoin(job.photo) : (guess ?? startingCard(job.photo));
    dispatch({ type: 'edit', edits: { cornersPx: atPx ? movedTo(start, atPx) : start } });
  };
  const tap = (atPx: ImagePoint) => {
    if (!searchable) return;
    if (!cornersPx) return setTappedPx(atPx);
    if (solid && isInside(silhouetteOf(solid, TAP_SPACING_PX), atPx)) return;
    measureAt(atPx);
  };
  const point = (at: Aiming['at']) =>
    setAiming(aiming?.at === at ? null : { at, atPx: [job.photo.widthPx / 2, job.photo.heightPx / 2] });
  const enter = () => {
    if (!aiming) return;
    setAiming(null);
    if (aiming.at === 'container') measureAt(aiming.atPx);
    else dispatch({ type: 'edit', edits: { referencePx: aiming.atPx, cornersPx: null } });
  };
  const isDoubtful = result !== null && verdictOnPhoto(result, job).kind !== 'sure';
  const refusal = result?.outcome === 'refused' && !isOld ? result.reason.code : null;
  const canPutRight = solid !== null;
  const hint = aiming
    ? aiming.at === 'coin'
      ? words.coin.tapHint
      : words.tapHint
    : refusal && TAP_REFUSALS.includes(refusal)
      ? words.tapOne
      : refusal && canPutRight
        ? words.putRightHint
        : null;

  return (
    <div className="check">
      <div className="check__photo">
        <PlacePhoto
          url={work.picture?.url ?? null}
          photo={job.photo}
          cornersPx={cornersPx}
          isRound={isRound}
          solid={solid}
          shoulderZMm={measured?.features.shoulderZMm?.value ?? null}
          outlinePx={outlinePx}
          handleCount={0}
          doubtPx={isOld ? null : (measured?.doubt?.pathPx ?? null)}
          othersPx={found?.outcome === 'refused' ? (found.found.candidatesPx ?? NONE) : NONE}
          hand={edits.hand ?? NONE}
          basePx={measured?.arrangement === 'lying' ? measured.axisPx[0] : null}
          answer={found}
          aim={
            aiming && {
              atPx: aiming.atPx,
              label: aiming.at === 'coin' ? words.coin.tapHandle : words.tapHandle,
              onMove: (atPx) => setAiming({ ...aiming, atPx }),
              onEnter: enter,
            }
          }
          hint={hint}
          says={result && activity.kind !== 'measuring' && <Verdict verdict={verdictOnPhoto(result, job)} />}
          onTap={aiming ? (atPx) => setAiming({ ...aiming, atPx }) : tap}
          onMove={move}
          onPlaced={place}
          onUndo={job.past.length > 0 ? () => dispatch({ type: 'undo' }) : null}
          onRedo={job.future.length > 0 ? () => dispatch({ type: 'redo' }) : null}
        >
          <Measuring activity={activity} isAgain={found !== null} onCancel={work.cancel} />
          {tappedPx && (
            <WhatIsThis
              onContainer={() => measureAt(tappedPx)}
              onCard={() => cornersAt(tappedPx)}
              onClose={() => setTappedPx(null)}
              isRound={isRound}
            />
          )}
        </PlacePhoto>
      </div>
      <div className={`check__side stack ${isDoubtful ? 'check__side--doubt' : ''}`}>
        {numbers(liveResult)}
        <Trouble activity={activity} dispatch={dispatch} />
        {refusal && (
          <RefusalCard
            code={refusal}
            dispatch={dispatch}
            onPutRight={canPutRight ? () => window.scrollTo({ top: 0, behavior: 'smooth' }) : null}
            onCorners={() => cornersAt(null)}
          />
        )}
        {result && !isOld && <Doubts job={job} result={result} dispatch={dispatch} />}
        <WhichEnd result={result} dispatch={dispatch} />
        {asks}
        <div>
          <Fold title={words.fold} icon="tap">
            <p className="quiet">{isRound ? words.coin.lead : words.lead}</p>
            <Tools
              canSearch={searchable !== null}
              aiming={aiming?.at ?? null}
              isRound={isRound}
              missingCard={found !== null && !cornersPx}
              onFindAgain={() => dispatch({ type: 'find-again' })}
              onPoint={point}
              onPlaceCard={() => cornersAt(null)}
              onRuler={() => dispatch({ type: 'go', screen: 'ruler' })}
            />
            <Arrangements job={job} result={result} dispatch={dispatch} />
            <p className="quiet small">{words.canvasHelp}</p>
          </Fold>
          {children}
        </div>
        {wayOn}
      </div>
    </div>
  );
}

const NONE: readonly never[] = [];
/** Fine enough to tell inside from outside with a thumb. */
const TAP_SPACING_PX = 20;
/** A tap on the photo answers these. */
const TAP_REFUSALS: readonly ProblemCode[] = ['no-container', 'two-containers'];

function isInside(outline: readonly { readonly xPx: number; readonly yPx: number }[], at: ImagePoint): boolean {
  const polygon = outline.map(({ xPx, yPx }): ImagePoint => [xPx, yPx]);
  return polygon.length > 2 && signedDistance(polygon, at) < 0;
}

/** The same quadrilateral about another middle. */
function movedTo(corners: CornersPx, [x, y]: ImagePoint): CornersPx {
  const [cx, cy] = [0, 1].map((k) => corners.reduce((sum, corner) => sum + corner[k], 0) / 4);
  const [a, b, c, d] = corners.map((corner): ImagePoint => [corner[0] - cx + x, corner[1] - cy + y]);
  return [a, b, c, d];
}

/** On the photo, in a word: what to think of the drawing. */
function Verdict({ verdict: { kind, says } }: { readonly verdict: PhotoVerdict }) {
  const text = useText().check.says;
  return (
    <span className={`chip ${kind === 'sure' ? 'chip--sure' : 'chip--doubt'}`}>
      <Icon name={kind === 'sure' ? 'check' : 'warn'} size={20} /> {text[says]}
    </span>
  );
}

const STAGES: readonly Stage[] = ['card', 'outline', 'container'];

interface MeasuringProps {
  readonly activity: Activity;
  /** Something is on screen already. */
  readonly isAgain: boolean;
  readonly onCancel: () => void;
}

/** A quiet sign of work, in the corner where no handle is covered. */
function Measuring({ activity, isAgain, onCancel }: MeasuringProps) {
  const text = useText();
  if (activity.kind !== 'measuring') return null;
  return (
    <div className={`check__busy ${isAgain ? 'check__busy--again' : ''}`}>
      {isAgain ? (
        <span role="status">{text.check.again}</span>
      ) : (
        <Busy done={activity.stage === null ? 0 : STAGES.indexOf(activity.stage)}>
          {text.photo.stages[activity.stage ?? 'start']}
        </Busy>
      )}
      {!isAgain && (
        <button type="button" className="button button--quiet" onClick={onCancel}>
          {text.photo.cancel}
        </button>
      )}
    </div>
  );
}

interface WhatIsThisProps {
  readonly isRound: boolean;
  readonly onContainer: () => void;
  readonly onCard: () => void;
  readonly onClose: () => void;
}

/** Without a card a tap may mean either. */
function WhatIsThis({ isRound, onContainer, onCard, onClose }: WhatIsThisProps) {
  const text = useText();
  const choose = (act: () => void) => () => {
    act();
    onClose();
  };
  return (
    <fieldset className="check__what" aria-label={text.check.whatIsThis}>
      <button type="button" className="button" onClick={choose(onContainer)}>
        {text.check.measureThis}
      </button>
      <button type="button" className="button" onClick={choose(onCard)}>
        {isRound ? text.check.coin.thisIsIt : text.check.thisIsCard}
      </button>
      <button
        type="button"
        className="button button--quiet button--icon"
        aria-label={text.shell.close}
        onClick={onClose}
      >
        <Icon name="close" />
      </button>
    </fieldset>
  );
}

/** What to look at again, and the question that a bump asks. */
function Doubts({
  job,
  result,
  dispatch,
}: {
  readonly job: Job;
  readonly result: MeasureResult;
  readonly dispatch: Dispatch<Action>;
}) {
  const text = useText();
  const about = (doubt: Doubt) => text.check[ABOUT[doubt] ?? 'aboutPhoto'];
  const hand = job.edits.hand ?? [];
  const measurement = measurementOf(job);
  const answerBump = (isPart: boolean) => dispatch({ type: 'edit', edits: { hand: withBump(hand, isPart) } });
  return (
    <div className="stack stack--tight" aria-live="polite">
      {doubtsOf(result, job).map((doubt) =>
        doubt === 'tape-disagrees' && measurement ? (
          <TapeDoubt
            key={doubt}
            photo={measurementToContainer(measurement)}
            tape={job.tape}
            onTape={(tape) => dispatch({ type: 'tape', tape })}
            onReadAgain={() => openFold(TAPE_FOLD)}
          />
        ) : (
          <Note key={doubt} kind="warn" title={about(doubt)}>
            {wordsOf(doubt, text)}
            {doubt === 'wide' && (
              <div className="row">
                <button type="button" className="button" onClick={() => openFold(TAPE_FOLD)}>
                  {text.sizes.apart.readAgain}
                </button>
              </div>
            )}
            {doubt === 'hand-bump' && (
              <div className="row">
                <button type="button" className="button" onClick={() => answerBump(true)}>
                  {text.check.bumpYes}
                </button>
                <button type="button" className="button" onClick={() => answerBump(false)}>
                  {text.check.bumpNo}
                </button>
              </div>
            )}
          </Note>
        ),
      )}
    </div>
  );
}

function wordsOf(doubt: Doubt, text: Text): string {
  return doubt in text.check.doubts
    ? text.check.doubts[doubt as keyof Text['check']['doubts']]
    : text.problems[doubt as ProblemCode];
}

/** Walls that she is sure of, or the last one moved taken off the outline again. */
function withBump(hand: readonly HandPlacement[], isPart: boolean): readonly HandPlacement[] {
  if (isPart) return hand.map((each) => (each.feature === 'wall' ? { ...each, isSure: true } : each));
  const last = hand.findLast((each) => each.feature === 'wall');
  if (last?.feature !== 'wall') return hand;
  const [{ xPx, yPx }] = last.points;
  const left: HandPlacement = { feature: 'left-out', pathPx: [[xPx, yPx]], radiusPx: BUMP_SDS * last.sdPx };
  return [...hand.filter((each) => each !== last), left];
}
const BUMP_SDS = 6;

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
const ABOUT: Partial<Record<Doubt, 'aboutCard' | 'aboutCoin' | 'aboutContainer'>> = {
  'card-beside-edges': 'aboutCard',
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
  'hand-bump': 'aboutContainer',
  'hand-against-edges': 'aboutContainer',
};

interface ToolsProps {
  readonly canSearch: boolean;
  readonly aiming: Aiming['at'] | null;
  readonly isRound: boolean;
  readonly missingCard: boolean;
  readonly onFindAgain: () => void;
  readonly onPoint: (at: Aiming['at']) => void;
  readonly onPlaceCard: () => void;
  readonly onRuler: () => void;
}

function Tools(props: ToolsProps) {
  const { canSearch, aiming, isRound, missingCard, onFindAgain, onPoint, onPlaceCard, onRuler } = props;
  const text = useText();
  const words = text.check;
  return (
    <div className="stack stack--tight">
      <div className="check__tools">
        <button type="button" className="button" disabled={!canSearch} onClick={onFindAgain}>
          <Icon name="search" /> {words.findAgain}
        </button>
        <button
          type="button"
          className="button"
          disabled={!canSearch}
          aria-pressed={aiming === 'container'}
          onClick={() => onPoint('container')}
        >
          <Icon name="tap" /> {words.tap}
        </button>
        {isRound && (
          <button
            type="button"
            className="button"
            disabled={!canSearch}
            aria-pressed={aiming === 'coin'}
            onClick={() => onPoint('coin')}
          >
            <Icon name="tap" /> {words.coin.tap}
          </button>
        )}
        {missingCard && (
          <>
            <button type="button" className="button button--quiet" onClick={onPlaceCard}>
              {isRound ? words.coin.place : words.placeCard}
            </button>
            <button type="button" className="button button--quiet" onClick={onRuler}>
              {text.reference.toRuler}
            </button>
          </>
        )}
      </div>
      {!canSearch && <p className="quiet small">{words.findAgainGone}</p>}
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
