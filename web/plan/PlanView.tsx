import { useState } from 'react';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { CarrierView } from '../carrier-view/CarrierView.tsx';
import type { CarrierPhoto } from '../carrier-view/photo-look.ts';
import { useYarnColour } from '../carrier-view/use-yarn-colour.ts';
import { type FinishedCarrier, finishedCarrier } from '../stall/finished-carrier.ts';
import { shortLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { BaseChoice } from './BaseChoice.tsx';
import type { WorkToPhotograph } from './CheckpointEntry.tsx';
import { ChoicesPanel } from './ChoicesPanel.tsx';
import { LoadAndCautions } from './LoadAndCautions.tsx';
import { PlanDrawing } from './PlanDrawing.tsx';
import { PlanSheet } from './PlanSheet.tsx';
import { currentPlan, type PlanChoices, type PlanProgress } from './plan-progress.ts';
import { RoundList } from './RoundList.tsx';
import { useSay, useVoice } from './use-voice.ts';
import { fitWords, patternOf } from './words/pattern.ts';
import { blocksAsText, patternBlocks } from './words/pattern-text.ts';
import { refusalText } from './words/refusal-words.ts';
import { YarnAndTime } from './YarnAndTime.tsx';
import './plan.css';
import './print.css';

interface PlanViewProps {
  /** Whose container it is; may be empty. */
  readonly label: string;
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
  readonly onFinished: (carrier: FinishedCarrier) => Promise<boolean>;
}

/** Step 5: the carrier, round by round, from the first loop to the last check. */
export function PlanView(props: PlanViewProps) {
  const { label, container, gauge, choices, onChoices, progress, onProgress } = props;
  const text = useText();
  const words = text.plan;
  const wording = useSettings();
  const [yarnColour, setYarnColour] = useYarnColour();
  const voice = useVoice();
  const current = currentPlan(container, gauge, choices, progress);
  const title = label ? words.titleFor(words.titles[choices.carrier], label) : words.titles[choices.carrier];
  const sizes = words.sizes(
    shortLengthText(container.maxDiameterMm.value, wording),
    shortLengthText(container.heightMm.value, wording),
  );
  return (
    <section className="plan" aria-labelledby="plan-title">
      <div className="plan__screen stack">
        <div>
          <h1 id="plan-title">{title}</h1>
          <p className="quiet">{sizes}</p>
        </div>
        {current.outcome === 'refused' ? (
          <Note kind="stop" title={words.refusedTitle}>
            {refusalText(current.reason, text.planRefusals, voice)}
          </Note>
        ) : (
          <div className="plan__top">
            <CarrierView plan={current.plan} photo={props.photo} yarnColour={yarnColour} onYarnColour={setYarnColour} />
            <div className="stack">
              <FitPanel plan={current.plan} />
              <Drawings plan={current.plan} />
            </div>
          </div>
        )}
        <ChoicesPanel choices={choices} onChange={onChoices} isWorked={progress.roundsDone > 0} />
        {current.outcome === 'planned' && (
          <>
            <BaseChoice
              plan={current.plan}
              isMeasured={progress.readings.length > 0}
              onChoose={(baseCandidate) => onChoices({ ...choices, baseCandidate })}
            />
            <RoundList
              current={current}
              progress={progress}
              onProgress={onProgress}
              onPhotograph={props.onPhotograph}
            />
            <YarnAndTime plan={current.plan} />
            <LoadAndCautions plan={current.plan} />
            <Actions title={title} plan={current.plan} onFinished={props.onFinished} />
          </>
        )}
      </div>
      {current.outcome === 'planned' && <PlanSheet title={title} plan={current.plan} />}
    </section>
  );
}

function FitPanel({ plan }: { readonly plan: Plan }) {
  const text = useText();
  const words = text.plan;
  const voice = useVoice();
  const say = useSay();
  const { headline, more, figures } = fitWords(plan, text, voice);
  return (
    <section className="panel stack stack--tight" aria-labelledby="plan-fit">
      <h2 id="plan-fit">{words.fit.title}</h2>
      <p className="plan__chance">{headline}</p>
      {more && <p>{more}</p>}
      {plan.coverReason && <p>{say(plan.coverReason)}</p>}
      {figures.length > 0 && (
        <details className="plan__more">
          <summary>{words.fit.figuresTitle}</summary>
          <p>{figures.join(' ')}</p>
        </details>
      )}
      {plan.warnings.map((warning) => (
        <Note key={warning.code} kind="warn">
          {say(warning)}
        </Note>
      ))}
    </section>
  );
}

function Drawings({ plan }: { readonly plan: Plan }) {
  const words = useText().plan;
  const [shown, setShown] = useState<'side' | 'base'>('side');
  return (
    <section className="panel stack stack--tight plan__drawings">
      <div className="row">
        {(['side', 'base'] as const).map((each) => (
          <button
            key={each}
            type="button"
            className="button"
            aria-pressed={shown === each}
            onClick={() => setShown(each)}
          >
            {each === 'side' ? words.drawingTitle : words.chartTitle}
          </button>
        ))}
      </div>
      <PlanDrawing className="plan__drawing" plan={plan} shows={shown} />
    </section>
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
    if (await onFinished(finishedCarrier(plan))) setSaid(words.stocked);
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
