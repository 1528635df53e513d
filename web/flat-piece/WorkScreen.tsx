import { type Dispatch, useEffect, useRef, useState } from 'react';
import type { WorkOptions, WorkPiece, WorkResult } from '../../vision/flat-piece/measure-work.ts';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { Action, Activity, Job } from '../app/app-state.ts';
import { goBack } from '../app/use-history.ts';
import { useSettings } from '../app/use-settings.ts';
import { gaugeEntryFrom } from '../gauge/gauge-entry.ts';
import { containerOfJob } from '../keep/job-of-record.ts';
import '../photo/photo.css';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import { startingOutline } from '../place/bend-outline.ts';
import { PlacingScreen } from '../place/PlacingScreen.tsx';
import type { Placed as PlacedInPhoto } from '../place/placing.ts';
import { startingCard } from '../place/starting-card.ts';
import { type MeasuredPhoto, type PhotoFiles, useMeasuredPhoto } from '../place/use-measured-photo.ts';
import { ReferenceChoice } from '../reference/ReferenceChoice.tsx';
import { isRoundNamed } from '../reference/reference-named.ts';
import { lengthText, numberText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { LengthField, NumberField } from '../ui/NumberField.tsx';
import { Segments } from '../ui/Segments.tsx';
import { useObjectUrl } from '../ui/use-object-url.ts';
import { PlanVerdict } from './PlanVerdict.tsx';
import { SwatchGauge } from './SwatchGauge.tsx';
import { stageText, TakeWorkPhoto } from './TakeWorkPhoto.tsx';
import {
  type Counted,
  cornersOfWork,
  edgeOfWork,
  foundAgain,
  type Placed,
  redone,
  rowDirectionsToAsk,
  thicknessOfWork,
  undone,
  type WorkCheck,
  withCounts,
  withPhoto,
  withPlaced,
  workIn,
  workOptions,
} from './work-check.ts';
import './work.css';

type ChangeWork = (change: (work: WorkCheck) => WorkCheck) => void;
type WorkSight = MeasuredPhoto<WorkOptions, WorkResult>;

interface WorkScreenProps {
  readonly job: Job & { readonly work: WorkCheck };
  readonly dispatch: Dispatch<Action>;
  readonly work: JobPhotos;
}

/** The maker's own work in a photo: base, swatch or tube, and what its size means for plan or gauge. */
export function WorkScreen({ job, dispatch, work }: WorkScreenProps) {
  const text = useText();
  const check = job.work;
  const change: ChangeWork = (next) => dispatch({ type: 'work', change: (before) => before && next(before) });
  const [activity, setActivity] = useState<Activity>({ kind: 'idle' });
  const sight: WorkSight = useMeasuredPhoto(work.measuring, work.files, workIn(check, job.id), {
    measure: (question, signal, onStage) => work.measuring.measureWork(question, check.piece, signal, onStage),
    follow: (question) => work.measuring.measureWork(question, check.piece, new AbortController().signal, () => {}),
    onActivity: setActivity,
    onAnswer: (result, { photo, question }) => {
      setActivity({ kind: 'idle' });
      if (!question) return;
      change((before) => (before.photo?.id === photo?.id ? { ...before, answer: { to: question, result } } : before));
    },
  });
  const open = async (file: Blob, counted?: Counted) => {
    const photo = await sight.open(file);
    if (!photo) return;
    setActivity({ kind: 'idle' });
    change((before) => {
      const fresh = withPhoto(before, photo);
      return counted ? withCounts(fresh, counted) : fresh;
    });
  };
  const blanked = sight.picture?.blanked ?? null;
  // biome-ignore lint/correctness/useExhaustiveDependencies: kept once, when it is made
  useEffect(() => {
    if (blanked) change((before) => ({ ...before, picture: blanked }));
  }, [blanked]);
  const place = check.piece === 'swatch' ? 'gauge' : 'plan';
  const leave = (done: boolean) => {
    // no way back into a photo that went into plan or gauge
    goBack(() => dispatch({ type: 'go', screen: place }), place);
    if (done) dispatch({ type: 'work', change: () => null });
  };
  const keepThickness = (thicknessMm: number | null) => {
    change((work) => ({ ...work, thicknessMm }));
    dispatch({ type: 'gauge', gauge: { ...gaugeEntryFrom(job.gauge), thicknessMm } });
  };
  const container = containerOfJob(job);
  return (
    <section className="work stack" aria-labelledby="work-title">
      <div className="row row--apart">
        <h1 id="work-title">{text.work.titles[check.piece]}</h1>
        <button type="button" className="button button--quiet" onClick={() => leave(false)}>
          {text.work.back[place]}
        </button>
      </div>
      {check.photo ? (
        <WorkInPhoto
          check={{ ...check, photo: check.photo }}
          change={change}
          sight={sight}
          files={work.files}
          activity={activity}
          onThickness={keepThickness}
        >
          {check.piece === 'swatch' ? (
            <SwatchGauge job={job} check={check} dispatch={dispatch} onDone={() => leave(true)} />
          ) : (
            container && (
              <PlanVerdict
                job={job}
                check={check}
                container={container}
                dispatch={dispatch}
                onDone={() => leave(true)}
              />
            )
          )}
        </WorkInPhoto>
      ) : (
        <TakeWorkPhoto
          piece={check.piece}
          activity={activity}
          onPhoto={(file, counted) => void open(file, counted)}
          onCancel={sight.cancel}
          onRuler={() => dispatch({ type: 'go', screen: 'ruler' })}
        />
      )}
    </section>
  );
}

interface WorkInPhotoProps {
  readonly check: WorkCheck & { readonly photo: NonNullable<WorkCheck['photo']> };
  readonly change: ChangeWork;
  readonly sight: WorkSight;
  readonly files: PhotoFiles;
  readonly activity: Activity;
  readonly onThickness: (thicknessMm: number | null) => void;
  readonly children: React.ReactNode;
}

/** The photo with card and edge drawn on it, sizes and what they mean underneath. */
function WorkInPhoto({ check, change, sight, files, activity, onThickness, children }: WorkInPhotoProps) {
  const text = useText();
  const words = text.work;
  const { placed, photo } = check;
  const found = check.answer?.result ?? null;
  const isRound = isRoundNamed(placed.reference);
  const cornersPx = isRound ? null : (placed.cornersPx ?? (found && cornersOfWork(found)));
  const edgeIn = (result: WorkResult | null) => placed.edgePx ?? (result && edgeOfWork(result));
  const canSearch = files.has(photo.id);
  const coveredUrl = useObjectUrl(sight.picture ? null : check.picture);
  // Looked at from near, but the view stays where it is when something moves.
  const lookAtPx = useRef<readonly ImagePoint[] | undefined>(undefined);
  const foundEdgePx = edgeIn(found);
  const referencePx = cornersPx ?? (isRound ? found?.rimPx : null);
  if (referencePx && foundEdgePx) lookAtPx.current ??= [...referencePx, ...foundEdgePx];

  const place = (next: Partial<Placed>) => change((work) => withPlaced(work, next));
  const insideAt = (insidePx: ImagePoint) => place({ insidePx, edgePx: null });
  const otherPhoto = () => change((work) => withPhoto(work, null));
  return (
    <PlacingScreen<WorkResult>
      url={sight.picture?.url ?? coveredUrl}
      photo={photo}
      canSearch={canSearch}
      activity={activity}
      found={found}
      inPhoto={({ result }) => ({
        cornersPx,
        rimPx: isRound ? (result?.rimPx ?? null) : null,
        outlinePx: edgeIn(result),
        lookAtPx: lookAtPx.current,
        handleCount: HANDLES[check.piece],
      })}
      follow={(held, show) =>
        sight.follow(workOptions({ ...check, placed: { ...placed, ...placedOf(held) } }, true), show)
      }
      onPlaced={(held) => place(placedOf(held))}
      onUndo={check.past.length > 0 ? () => change(undone) : null}
      onRedo={check.future?.length ? () => change(redone) : null}
      points={[{ label: words.tap, hint: words.tapHint, handle: words.tapHandle, onPoint: insideAt }]}
      onTap={foundEdgePx ? null : insideAt}
      onFindAgain={() => change(foundAgain)}
      onTryAgain={sight.tryAgain}
      onOtherPhoto={otherPhoto}
      hint={() => null}
      busy={
        activity.kind === 'measuring' && (
          <div className="check__busy">
            <span role="status">{stageText(activity, words)}</span>
            <button type="button" className="button button--quiet" onClick={sight.cancel}>
              {text.photo.cancel}
            </button>
          </div>
        )
      }
      lead={words.check}
      tools={
        <>
          <button type="button" className="button" onClick={otherPhoto}>
            <Icon name="camera" /> {text.photo.otherPhoto}
          </button>
          {found && !cornersPx && !isRound && (
            <button type="button" className="button" onClick={() => place({ cornersPx: startingCard(photo) })}>
              {text.check.placeCard}
            </button>
          )}
          {found && !foundEdgePx && (
            <button type="button" className="button" onClick={() => place({ edgePx: startingOutline(photo) })}>
              {words.placeEdge}
            </button>
          )}
        </>
      }
      beside={() => <ReferenceChoice value={placed.reference} onChange={(reference) => place({ reference })} />}
    >
      {({ result }, trouble) => (
        <>
          <WorkSizes result={result} />
          {trouble}
          <Findings result={result} />
          <Counts check={check} change={change} onThickness={onThickness} />
          {children}
        </>
      )}
    </PlacingScreen>
  );
}

/** A disc after two rounds is small in the photo; a rectangle has a handle near each corner and between. */
const HANDLES: Readonly<Record<WorkPiece, number>> = { disc: 6, swatch: 8, tube: 8 };

/** What was moved on the photo, in the words of flat work. */
function placedOf({ cornersPx, outlinePx }: PlacedInPhoto): Partial<Placed> {
  return { ...(cornersPx && { cornersPx }), ...(outlinePx && { edgePx: outlinePx }) };
}

function WorkSizes({ result }: { readonly result: WorkResult | null }) {
  const text = useText();
  const words = text.work;
  const wording = useSettings();
  if (result?.outcome !== 'measured') return null;
  const percent = (share: number) => numberText(100 * share, 1, wording.language);
  const rows: readonly (readonly [string, string])[] =
    result.piece === 'disc'
      ? [
          [words.across, lengthText(result.disc.meanDiameterMm, wording)],
          [
            words.outOfRound,
            `${percent(result.disc.outOfRoundness.value)} ± ${percent(1.96 * result.disc.outOfRoundness.sd)} %`,
          ],
        ]
      : result.piece === 'swatch'
        ? [
            [words.alongRows, lengthText(result.swatch.widthMm, wording)],
            [words.acrossRows, lengthText(result.swatch.heightMm, wording)],
          ]
        : [
            [words.flatWidth, lengthText(result.tube.widthMm, wording)],
            [words.length, lengthText(result.tube.lengthMm, wording)],
            [words.around, lengthText(result.tube.aroundMm, wording)],
          ];
  return (
    <dl className="check__sizes panel" aria-live="polite">
      {rows.map(([name, size]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd className="number">{size}</dd>
        </div>
      ))}
    </dl>
  );
}

function Findings({ result }: { readonly result: WorkResult | null }) {
  const text = useText();
  return (
    <div className="stack stack--tight" aria-live="polite">
      {result?.outcome === 'refused' && (
        <Note kind="stop" title={text.work.refused}>
          {text.problems[result.reason.code]}
        </Note>
      )}
      {result?.outcome === 'measured' &&
        result.warnings.map(({ code }) => (
          <Note key={code} kind="warn" title={text.work.worth}>
            {text.problems[code]}
          </Note>
        ))}
    </div>
  );
}

/** Rounds and stitches, as the maker counted them, and how the rows run. The tube's stitches are the plan's. Counted anew for every photo. */
function Counts({ check, change, onThickness }: Pick<WorkInPhotoProps, 'check' | 'change' | 'onThickness'>) {
  const words = useText().work;
  const wording = useSettings();
  const { piece } = check;
  const { rounds: plannedRounds = null, stitches: plannedStitches = null } = check.planned ?? {};
  const hint = (count: number | null) =>
    count === null ? words.countThis : (piece === 'swatch' ? words.typedBefore : words.plannedHere)(count);
  const taken = check.answer && thicknessOfWork(check.answer.result);
  const rowsRun = check.placed.rowsRun ?? 'across';
  const ways = rowDirectionsToAsk(check);
  return (
    <fieldset className="stack stack--tight">
      <legend>{words.counts}</legend>
      <div className="fields work__counts">
        <NumberField
          label={words.rounds[piece]}
          digits={0}
          value={check.rounds}
          onChange={(rounds) => change((work) => ({ ...work, rounds }))}
          min={1}
          max={MOST[piece].rounds}
          hint={hint(plannedRounds)}
        />
        {piece !== 'tube' && (
          <NumberField
            label={words.stitches[piece]}
            digits={0}
            value={check.stitches}
            onChange={(stitches) => change((work) => ({ ...work, stitches }))}
            min={3}
            max={MOST[piece].stitches}
            hint={hint(plannedStitches)}
          />
        )}
        <LengthField
          label={words.thickness}
          value={check.thicknessMm}
          onChange={onThickness}
          min={0.2}
          max={40}
          hint={
            check.thicknessMm !== null || !taken
              ? words.thicknessTyped
              : words.thicknessGuessed(lengthText({ value: taken.valueMm, sd: taken.sdMm }, wording))
          }
        />
      </div>
      {piece !== 'disc' && (
        <Segments
          legend={words.rowsRun}
          options={ways}
          value={ways.find((way) => way === rowsRun) ?? null}
          name={(way) => words.ways[way]}
          onChange={(rowsRun) => change((work) => withPlaced(work, { rowsRun }))}
        />
      )}
    </fieldset>
  );
}

const MOST: Readonly<Record<WorkPiece, { readonly rounds: number; readonly stitches: number }>> = {
  disc: { rounds: 60, stitches: 1000 },
  swatch: { rounds: 500, stitches: 500 },
  tube: { rounds: 500, stitches: 1000 },
};
