import { type Dispatch, useRef, useState } from 'react';
import type { WorkPiece, WorkResult } from '../../vision/flat-piece/measure-work.ts';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { parseRoundReference } from '../../vision/reference/round-reference.ts';
import type { Action, Job } from '../app/app-state.ts';
import { gaugeEntryFrom } from '../gauge/gauge-entry.ts';
import { startingOutline } from '../place/bend-outline.ts';
import { PlacePhoto } from '../place/PlacePhoto.tsx';
import type { Placed as PlacedInPhoto } from '../place/placing.ts';
import { startingCard } from '../place/starting-card.ts';
import { lengthText, numberText } from '../text/estimate-text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { LengthField, NumberField } from '../ui/NumberField.tsx';
import { Segments } from '../ui/Segments.tsx';
import '../photo/photo.css';
import { useSettings } from '../app/use-settings.ts';
import { containerOfJob } from '../keep/job-of-record.ts';
import type { JobWork } from '../place/use-job.ts';
import { ReferenceChoice } from '../reference/ReferenceChoice.tsx';
import { useText } from '../text/text.ts';
import { PlanVerdict } from './PlanVerdict.tsx';
import { SwatchGauge } from './SwatchGauge.tsx';
import { stageText, TakeWorkPhoto } from './TakeWorkPhoto.tsx';
import { type ChangeWork, useWorkCheck, type WorkSight } from './use-work-check.ts';
import {
  cornersOfWork,
  edgeOfWork,
  foundAgain,
  type Placed,
  rowDirectionsToAsk,
  thicknessOfWork,
  undone,
  type WorkCheck,
  withPhoto,
  withPlaced,
} from './work-check.ts';
import './work.css';

interface WorkScreenProps {
  readonly job: Job & { readonly work: WorkCheck };
  readonly dispatch: Dispatch<Action>;
  readonly work: JobWork;
}

/** The maker's own work in a photo: base, swatch or tube, and what its size means for plan or gauge. */
export function WorkScreen({ job, dispatch, work }: WorkScreenProps) {
  const text = useText();
  const check = job.work;
  const change: ChangeWork = (next) => dispatch({ type: 'work', change: (before) => before && next(before) });
  const sight = useWorkCheck(check, change, job.id, work);
  const place = check.piece === 'swatch' ? 'gauge' : 'plan';
  const leave = (done: boolean) => {
    dispatch({ type: 'go', screen: place });
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
        <WorkInPhoto check={{ ...check, photo: check.photo }} change={change} sight={sight} onThickness={keepThickness}>
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
        <TakeWorkPhoto piece={check.piece} sight={sight} onRuler={() => dispatch({ type: 'go', screen: 'ruler' })} />
      )}
    </section>
  );
}

interface WorkInPhotoProps {
  readonly check: WorkCheck & { readonly photo: NonNullable<WorkCheck['photo']> };
  readonly change: ChangeWork;
  readonly sight: WorkSight;
  readonly onThickness: (thicknessMm: number | null) => void;
  readonly children: React.ReactNode;
}

/** The photo with card and edge drawn on it, everything movable, sizes underneath. */
function WorkInPhoto({ check, change, sight, onThickness, children }: WorkInPhotoProps) {
  const text = useText();
  const words = text.work;
  const [live, setLive] = useState<WorkResult | null>(null);
  const [aiming, setAiming] = useState<ImagePoint | null>(null);
  const holding = useRef(false);

  const found = check.answer?.result ?? null;
  const result = live ?? found;
  const { placed } = check;
  const isRound = placed.reference !== null && parseRoundReference(placed.reference) !== null;
  const cornersPx = isRound ? null : (placed.cornersPx ?? (found && cornersOfWork(found)));
  const rimPx = isRound ? (result?.rimPx ?? null) : null;
  const edgePx = placed.edgePx ?? (result && edgeOfWork(result));
  // Looked at from near, but the view stays where it is when something moves.
  const lookAtPx = useRef<readonly ImagePoint[] | undefined>(undefined);
  const referencePx = cornersPx ?? rimPx;
  if (referencePx && edgePx) lookAtPx.current ??= [...referencePx, ...edgePx];

  const move = (moved: PlacedInPhoto) => {
    holding.current = true;
    const show = (next: WorkResult) => holding.current && setLive(next);
    sight.measureLive({ ...check, placed: { ...check.placed, ...placedOf(moved) } }, show);
  };
  const done = (moved: PlacedInPhoto) => {
    holding.current = false;
    setLive(null);
    change((work) => withPlaced(work, placedOf(moved)));
  };
  const showInside = (insidePx: ImagePoint) => {
    setAiming(null);
    change((work) => withPlaced(work, { insidePx, edgePx: null }));
  };
  const aim = () => setAiming(aiming ? null : [check.photo.widthPx / 2, check.photo.heightPx / 2]);
  const busy = sight.activity.kind === 'measuring' || sight.activity.kind === 'opening';

  return (
    <div className="check">
      <div className="check__photo">
        <PlacePhoto
          url={sight.url}
          photo={check.photo}
          cornersPx={cornersPx}
          outlinePx={edgePx}
          rimPx={rimPx}
          lookAtPx={lookAtPx.current}
          handleCount={HANDLES[check.piece]}
          answer={check.answer}
          aim={
            aiming && {
              atPx: aiming,
              label: words.tapHandle,
              onMove: setAiming,
              onEnter: () => showInside(aiming),
            }
          }
          hint={aiming ? words.tapHint : null}
          onTap={aiming || !edgePx ? showInside : null}
          onMove={move}
          onPlaced={done}
          onUndo={check.past.length > 0 ? () => change(undone) : null}
          onRedo={null}
        />
        {busy && (
          <div className="check__busy">
            <span role="status">{stageText(sight.activity, words)}</span>
            <button type="button" className="button button--quiet" onClick={sight.cancel}>
              {text.photo.cancel}
            </button>
          </div>
        )}
      </div>
      <div className="stack">
        <p className="quiet">{words.check}</p>
        <WorkSizes result={result} />
        <Findings result={result} sight={sight} />
        <Counts check={check} change={change} onThickness={onThickness} />
        {children}
        <div className="check__tools">
          <button type="button" className="button" disabled={!sight.original} onClick={() => change(foundAgain)}>
            <Icon name="search" /> {text.check.findAgain}
          </button>
          <button
            type="button"
            className="button"
            disabled={!sight.original}
            aria-pressed={aiming !== null}
            onClick={aim}
          >
            <Icon name="tap" /> {words.tap}
          </button>
          <button type="button" className="button" onClick={() => change((work) => withPhoto(work, null))}>
            <Icon name="camera" /> {text.photo.otherPhoto}
          </button>
          {!cornersPx && !isRound && (
            <button
              type="button"
              className="button"
              onClick={() => change((work) => withPlaced(work, { cornersPx: startingCard(check.photo) }))}
            >
              {text.check.placeCard}
            </button>
          )}
          {!edgePx && found && (
            <button
              type="button"
              className="button"
              onClick={() => change((work) => withPlaced(work, { edgePx: startingOutline(check.photo) }))}
            >
              {words.placeEdge}
            </button>
          )}
        </div>
        {!sight.original && <p className="quiet small">{text.check.findAgainGone}</p>}
        <ReferenceChoice
          value={check.placed.reference}
          onChange={(reference) => change((work) => withPlaced(work, { reference }))}
        />
        <p className="quiet small">{text.check.canvasHelp}</p>
      </div>
    </div>
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

function Findings({ result, sight }: { readonly result: WorkResult | null; readonly sight: WorkSight }) {
  const text = useText();
  const { activity } = sight;
  return (
    <div className="stack stack--tight" aria-live="polite">
      {activity.kind === 'trouble' && (
        <>
          <Note kind="stop">{text.photo.trouble[activity.reason]}</Note>
          {activity.reason !== 'photo-gone' && (
            <div>
              <button type="button" className="button" onClick={sight.tryAgain}>
                {text.photo.tryAgain}
              </button>
            </div>
          )}
        </>
      )}
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
function Counts({ check, change, onThickness }: Omit<WorkInPhotoProps, 'sight' | 'children'>) {
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
