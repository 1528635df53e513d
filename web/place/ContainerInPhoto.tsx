import { type Dispatch, type ReactNode, useMemo, useState } from 'react';
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
import type { Action, Activity, Job } from '../app/app-state.ts';
import { cornersOf, measureOptions, outlineOf, solidOfResult } from '../engine/measure-options.ts';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import { ReferenceChoice } from '../reference/ReferenceChoice.tsx';
import { isRoundNamed } from '../reference/reference-named.ts';
import { useText } from '../text/text.ts';
import { Busy } from '../ui/Busy.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Doubts } from './Doubts.tsx';
import { PlacingScreen, type Pointing, type Shown } from './PlacingScreen.tsx';
import { RefusalCard } from './RefusalCard.tsx';
import { startingCard, startingCoin } from './starting-card.ts';
import { type PhotoVerdict, verdictOnPhoto, waysOn } from './verdict.ts';

interface ContainerInPhotoProps {
  readonly job: Job & { readonly photo: NonNullable<Job['photo']> };
  readonly activity: Activity;
  readonly work: JobPhotos;
  readonly dispatch: Dispatch<Action>;
  /** The sizes, of the live result while a point is held, else of the job (null). */
  readonly numbers: (live: MeasureResult | null) => ReactNode;
  /** Whose a photo is that somebody sent, asked before all else. */
  readonly asks: ReactNode;
  /** What is folded under them. */
  readonly children: ReactNode;
  readonly wayOn: ReactNode;
}

/** The photo with the container drawn over it, the verdict on it and the sizes underneath. */
export function ContainerInPhoto(props: ContainerInPhotoProps) {
  const { job, activity, work, dispatch, numbers, asks, children, wayOn } = props;
  const text = useText();
  const words = text.check;
  const [tappedPx, setTappedPx] = useState<ImagePoint | null>(null);
  const canSearch = work.picture?.original != null;

  const { edits, result: found } = job;
  const isRound = isRoundNamed(edits.reference);
  const cornersPx = (found && cornersOf(found)) ?? edits.cornersPx;
  const solid = useMemo(() => found && solidOfResult(found), [found]);
  const outlinePx = solid ? null : (edits.outlinePx ?? (found && outlineOf(found)));
  const guess = found?.outcome === 'refused' ? found.found.cornersGuessPx : null;

  const measureAt = (tapPx: ImagePoint) => dispatch({ type: 'edit', edits: { tapPx, outlinePx: null, hand: [] } });
  const cornersAt = (atPx: ImagePoint | null) => {
    const start = isRound ? startingCoin(job.photo) : (guess ?? startingCard(job.photo));
    dispatch({ type: 'edit', edits: { cornersPx: atPx ? movedTo(start, atPx) : start } });
  };
  const tap = (atPx: ImagePoint) => {
    if (!cornersPx) return setTappedPx(atPx);
    if (solid && isInside(silhouetteOf(solid, TAP_SPACING_PX), atPx)) return;
    measureAt(atPx);
  };
  const points: Pointing[] = [
    { label: words.tap, hint: words.tapHint, handle: words.tapHandle, onPoint: measureAt },
    ...(isRound
      ? [
          {
            label: words.coin.tap,
            hint: words.coin.tapHint,
            handle: words.coin.tapHandle,
            onPoint: (referencePx: ImagePoint) => dispatch({ type: 'edit', edits: { referencePx, cornersPx: null } }),
          },
        ]
      : []),
  ];
  const isDoubtful = ({ result }: Shown<MeasureResult>) =>
    result !== null && verdictOnPhoto(result, job).kind !== 'sure';
  const refusalIn = ({ result, isOld }: Shown<MeasureResult>) =>
    result?.outcome === 'refused' && !isOld ? result.reason.code : null;

  return (
    <PlacingScreen<MeasureResult>
      url={work.picture?.url ?? null}
      photo={job.photo}
      canSearch={canSearch}
      activity={activity}
      found={found}
      inPhoto={({ result, isOld }) => {
        const measured = result?.outcome === 'measured' ? result.measurement : null;
        return {
          cornersPx,
          isRound,
          solid,
          shoulderZMm: measured?.features.shoulderZMm?.value ?? null,
          outlinePx,
          handleCount: 0,
          doubtPx: isOld ? null : (measured?.doubt?.pathPx ?? null),
          othersPx: found?.outcome === 'refused' ? (found.found.candidatesPx ?? NONE) : NONE,
          hand: edits.hand ?? NONE,
          basePx: measured?.arrangement === 'lying' ? measured.axisPx[0] : null,
        };
      }}
      follow={(placed, show) => work.follow(measureOptions({ ...edits, ...placed }, found), show)}
      onPlaced={(placed) => dispatch({ type: 'edit', edits: placed })}
      onUndo={job.past.length > 0 ? () => dispatch({ type: 'undo' }) : null}
      onRedo={job.future.length > 0 ? () => dispatch({ type: 'redo' }) : null}
      points={points}
      onTap={canSearch ? tap : null}
      onFindAgain={() => dispatch({ type: 'find-again' })}
      onTryAgain={() => dispatch({ type: 'try-again' })}
      onOtherPhoto={() => dispatch({ type: 'go', screen: 'photo' })}
      hint={(shown) => {
        const refusal = refusalIn(shown);
        if (!refusal) return null;
        if (TAP_REFUSALS.includes(refusal)) return words.tapOne;
        return solid && waysOn(refusal).includes('put-right') ? words.putRightHint : null;
      }}
      says={({ result }) => result && <Verdict verdict={verdictOnPhoto(result, job)} />}
      busy={<Measuring activity={activity} isAgain={found !== null} onCancel={work.cancel} />}
      asks={
        tappedPx && (
          <WhatIsThis
            onContainer={() => measureAt(tappedPx)}
            onCard={() => cornersAt(tappedPx)}
            onClose={() => setTappedPx(null)}
            isRound={isRound}
          />
        )
      }
      isDoubtful={isDoubtful}
      lead={isRound ? words.coin.lead : words.lead}
      tools={
        found !== null &&
        !cornersPx && (
          <>
            <button type="button" className="button button--quiet" onClick={() => cornersAt(null)}>
              {isRound ? words.coin.place : words.placeCard}
            </button>
            <button
              type="button"
              className="button button--quiet"
              onClick={() => dispatch({ type: 'go', screen: 'ruler' })}
            >
              {text.reference.toRuler}
            </button>
          </>
        )
      }
      beside={({ result }) => <Arrangements job={job} result={result} dispatch={dispatch} />}
      folds={children}
      wayOn={wayOn}
    >
      {(shown, trouble) => {
        const refusal = refusalIn(shown);
        return (
          <>
            {numbers(shown.live)}
            {trouble}
            {refusal && (
              <RefusalCard
                code={refusal}
                dispatch={dispatch}
                onPutRight={solid && (() => window.scrollTo({ top: 0, behavior: 'smooth' }))}
                onCorners={() => cornersAt(null)}
              />
            )}
            {shown.result && !shown.isOld && <Doubts job={job} result={shown.result} dispatch={dispatch} />}
            <WhichEnd result={shown.result} dispatch={dispatch} />
            {asks}
          </>
        );
      }}
    </PlacingScreen>
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
