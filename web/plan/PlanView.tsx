import { type ReactNode, useState } from 'react';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { CarrierView } from '../carrier-view/CarrierView.tsx';
import type { CarrierPhoto } from '../carrier-view/photo-look.ts';
import { keptColour, useYarnColour } from '../carrier-view/use-yarn-colour.ts';
import { useRegradeText } from '../regrade/regrade-text.ts';
import { type FinishedCarrier, finishedCarrier } from '../stall/finished-carrier.ts';
import { timeText, valueText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { BaseChoice } from './BaseChoice.tsx';
import type { WorkToPhotograph } from './CheckpointEntry.tsx';
import { ChoicesPanel } from './ChoicesPanel.tsx';
import { currentPlan } from './current-plan.ts';
import { HookInHand } from './HookInHand.tsx';
import { LoadAndCautions } from './LoadAndCautions.tsx';
import { PlanDrawing } from './PlanDrawing.tsx';
import { PlanSheet } from './PlanSheet.tsx';
import type { PlanChoices, PlanProgress } from './plan-progress.ts';
import { RoundList } from './RoundList.tsx';
import { useSay, useVoice } from './use-voice.ts';
import { fitWords, hookText, patternOf } from './words/pattern.ts';
import { blocksAsText, patternBlocks } from './words/pattern-text.ts';
import { refusalText } from './words/refusal-words.ts';
import { disagreementText, regradeNoteText } from './words/regrade-words.ts';
import { YarnAndTime } from './YarnAndTime.tsx';
import './plan.css';
import './print.css';

interface PlanViewProps {
  /** Whose container it is; may be empty. */
  readonly label: string;
  /** Beside the title: the way to name it. */
  readonly naming: ReactNode;
  readonly container: Container;
  /** The measured photo with its card covered, to show the carrier in; null without one. */
  readonly photo: CarrierPhoto | null;
  readonly gauge: Gauge;
  readonly choices: PlanChoices;
  readonly onChoices: (choices: PlanChoices) => void;
  readonly progress: PlanProgress;
  readonly onProgress: (progress: PlanProgress) => void;
  /** Measures work in hand by a photo instead of a ruler. */
  readonly onPhotograph: (work: WorkToPhotograph) => void;
  /** Puts the finished piece into the stock; true once it is there. */
  readonly onFinished: (carrier: FinishedCarrier, plan: Plan) => Promise<boolean>;
}

/** Step 5: the carrier, round by round, from the first loop to the last check. */
export function PlanView(props: PlanViewProps) {
  const { label, container, gauge, choices, onChoices, progress, onProgress } = props;
  const text = useText();
  const words = text.plan;
  const regradeWords = useRegradeText();
  const wording = useSettings();
  const [yarnColour, setYarnColour] = useYarnColour();
  const voice = useVoice();
  const current = currentPlan(container, gauge, choices, progress);
  const title = label ? words.titleFor(words.titles[choices.carrier], label) : words.titles[choices.carrier];
  const sizes = words.sizes(valueText(container.maxDiameterMm, wording), valueText(container.heightMm, wording));
  const [inHand, setInHand] = useState(false);
  if (current.outcome !== 'planned') {
    return (
      <section className="plan stack" aria-labelledby="plan-title">
        <h1 id="plan-title">{title}</h1>
        <Note kind="stop" title={words.refusedTitle}>
          {current.outcome === 'disagrees'
            ? disagreementText(current.disagreement, regradeWords, voice)
            : refusalText(current.reason, text.planRefusals, voice)}
        </Note>
        <ChoicesPanel choices={choices} onChange={onChoices} isWorked={progress.roundsDone > 0} narrows={false} />
      </section>
    );
  }
  const { plan, rounds, regraded } = current;
  return (
    <section className="plan" aria-labelledby="plan-title">
      <div className="plan__screen stack">
        <div>
          <div className="plan__title">
            <h1 id="plan-title">{title}</h1>
            {props.naming}
          </div>
          <p className="quiet">{sizes}</p>
          <InALine plan={plan} />
        </div>
        <div className="plan__top">
          <CarrierView plan={plan} photo={props.photo} yarnColour={yarnColour} onYarnColour={setYarnColour} />
          <div className="stack">
            <WillItFit plan={plan} />
            <Warnings plan={plan} />
          </div>
        </div>
        <ChoicesPanel
          choices={choices}
          onChange={onChoices}
          isWorked={progress.roundsDone > 0}
          narrows={plan.warnings.some(({ code }) => STANDS_OFF.has(code))}
        />
        {regraded.length > 0 ? (
          <Fold title={regradeWords.title}>
            <ul>
              {regraded.map((note) => (
                <li key={note.code}>{regradeNoteText(note, regradeWords, voice)}</li>
              ))}
            </ul>
          </Fold>
        ) : (
          <Fold title={words.basesTitle}>
            <BaseChoice
              plan={plan}
              isMeasured={progress.readings.length > 0}
              onChoose={(baseCandidate) => onChoices({ ...choices, baseCandidate })}
            />
          </Fold>
        )}
        <Fold title={words.fit.title}>
          <FitPanel plan={plan} />
        </Fold>
        <Fold title={words.more}>
          <Drawings plan={plan} />
        </Fold>
        <RoundList current={current} progress={progress} onProgress={onProgress} onPhotograph={props.onPhotograph} />
        <YarnAndTime plan={plan} />
        <LoadAndCautions plan={plan} />
        <Actions title={title} plan={plan} onFinished={props.onFinished} />
        <StartButton done={progress.roundsDone} all={rounds.length} onStart={() => setInHand(true)} />
      </div>
      {inHand && (
        <HookInHand
          current={current}
          progress={progress}
          onProgress={onProgress}
          onPhotograph={props.onPhotograph}
          onClose={() => setInHand(false)}
        />
      )}
      <PlanSheet title={title} plan={plan} />
    </section>
  );
}

/** What a plan warns of where it has to pass a wider place and stands off above it. */
const STANDS_OFF: ReadonlySet<string> = new Set(['wall-loose', 'band-loose', 'mesh-loose-at-narrow']);

/** Yarn, hook and time. */
function InALine({ plan: { gauge, yarn, minutes } }: { readonly plan: Plan }) {
  const text = useText();
  const voice = useVoice();
  return (
    <p>
      {text.gauge.fibres[gauge.yarn.fibre]} {voice.mass(yarn.grams.value)}
      {gauge.hookMm !== null && ` · ${hookText(gauge.hookMm, voice)}`} · {text.plan.timeAbout(timeText(minutes.value))}
    </p>
  );
}

/** In a sentence whether it will fit. */
function WillItFit({ plan }: { readonly plan: Plan }) {
  const text = useText();
  const voice = useVoice();
  const { headline, more } = fitWords(plan, text, voice);
  return (
    <div className="plan__glance stack stack--tight">
      <p className="plan__headline">{headline}</p>
      {more && <p className="quiet">{more}</p>}
    </div>
  );
}

function StartButton({
  done,
  all,
  onStart,
}: {
  readonly done: number;
  readonly all: number;
  readonly onStart: () => void;
}) {
  const words = useText().plan.hand;
  return (
    <div className="way-on">
      <button type="button" className="button button--main" onClick={onStart}>
        {done === 0 ? words.start : done < all ? words.goOn(done + 1) : words.look}
      </button>
    </div>
  );
}

/** What needs a decision; that the gauge is a guess is said by the line above. */
function Warnings({ plan }: { readonly plan: Plan }) {
  const say = useSay();
  return plan.warnings
    .filter(({ code }) => code !== 'gauge-guessed')
    .map((warning) => (
      <Note key={warning.code} kind="warn">
        {say(warning)}
      </Note>
    ));
}

function FitPanel({ plan }: { readonly plan: Plan }) {
  const text = useText();
  const voice = useVoice();
  const say = useSay();
  const { headline, more, figures } = fitWords(plan, text, voice);
  const guess = plan.warnings.find(({ code }) => code === 'gauge-guessed');
  return (
    <>
      <p>
        {headline} {more}
      </p>
      {guess && <p>{say(guess)}</p>}
      {plan.coverReason && <p>{say(plan.coverReason)}</p>}
      {figures.map((figure) => (
        <p key={figure}>{figure}</p>
      ))}
    </>
  );
}

function Drawings({ plan }: { readonly plan: Plan }) {
  const words = useText().plan;
  const [shown, setShown] = useState<'side' | 'base' | 'body'>('side');
  const titles = { side: words.drawingTitle, base: words.chartTitle, body: words.bodyChartTitle };
  const all = (['side', 'base', 'body'] as const).filter((each) => each !== 'body' || plan.zones.length > 0);
  return (
    <>
      <div className="row">
        {all.map((each) => (
          <button
            key={each}
            type="button"
            className="button"
            aria-pressed={shown === each}
            onClick={() => setShown(each)}
          >
            {titles[each]}
          </button>
        ))}
      </div>
      <PlanDrawing className="plan__drawing" plan={plan} shows={shown} />
    </>
  );
}

interface ActionsProps {
  readonly title: string;
  readonly plan: Plan;
  readonly onFinished: PlanViewProps['onFinished'];
}

function Actions({ title, plan, onFinished }: ActionsProps) {
  const text = useText();
  const words = text.plan;
  const voice = useVoice();
  const [said, setSaid] = useState('');
  const copy = () =>
    navigator.clipboard.writeText(blocksAsText(patternBlocks(patternOf(title, plan, text, voice), text))).then(
      () => setSaid(words.copied),
      () => setSaid(words.copyFailed),
    );
  const finish = async () => {
    if (await onFinished(finishedCarrier(plan, { colour: keptColour(), price: null }), plan)) setSaid(words.stocked);
  };
  return (
    <div className="stack stack--tight">
      <div className="row">
        <button type="button" className="button button--main" onClick={() => window.print()}>
          {words.print}
        </button>
        <button type="button" className="button" onClick={() => void copy()}>
          {words.copy}
        </button>
        <button type="button" className="button" onClick={() => void finish()}>
          <Icon name="check" /> {words.stock}
        </button>
      </div>
      <p role="status">{said}</p>
    </div>
  );
}
