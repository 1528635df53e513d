import { defaultChoices } from '../../sizing/choices.ts';
import type { Plan } from '../../sizing/plan.ts';
import { sizeSetOf } from '../../sizing/regrade/size-set.ts';
import { type GaugeEntry, usableGauge } from '../gauge/gauge-entry.ts';
import { CopyButton } from '../orders/CopyButton.tsx';
import { type CurrentPlan, currentPlan } from '../plan/current-plan.ts';
import { choicesFrom, NOT_STARTED, type PlanChoices } from '../plan/plan-progress.ts';
import { useVoice } from '../plan/use-voice.ts';
import { refusalText } from '../plan/words/refusal-words.ts';
import { disagreementText, regradeNoteText, sizeSetLines } from '../plan/words/regrade-words.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import type { Aim } from './aims.ts';
import type { OwnRounds } from './own-rounds.ts';
import { useRegradeText } from './regrade-text.ts';

interface RegradedProps {
  readonly own: OwnRounds;
  readonly aims: readonly Aim[];
  readonly entry: GaugeEntry;
  readonly onOpen: (aim: Aim, choices: PlanChoices) => void;
}

/** Her design at every size: the counts side by side, what had to change, and a plan to crochet from. */
export function Regraded({ own, aims, entry, onOpen }: RegradedProps) {
  const text = useText();
  const words = useRegradeText();
  const voice = useVoice();
  const gauge = usableGauge(entry);
  const made = aims.map((aim) => currentPlan(aim.container, gauge, { ...choicesFrom(null), own }, NOT_STARTED));
  const plans = made.flatMap((each) => (each.outcome === 'planned' ? [each.plan] : []));
  if (plans.length < made.length) {
    const problems = made.flatMap((each) => problemOf(each));
    return (
      <div role="alert" className="stack">
        {[...new Set(problems)].map((problem) => (
          <Note key={problem} kind="stop">
            {problem}
          </Note>
        ))}
      </div>
    );
  }
  const set = sizeSetOf(plans);
  // One size has no name, and no other to stand beside.
  const lines = sizeSetLines(set, words, voice).slice(plans.length === 1 ? 2 : 0);
  return (
    <section className="panel stack" aria-labelledby="regraded-title">
      <h2 id="regraded-title">{words.screen.result}</h2>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <CopyButton text={lines.join('\n')}>{words.screen.copy}</CopyButton>
      {made.map((each, index) =>
        each.outcome === 'planned' ? (
          <OneSize
            // biome-ignore lint/suspicious/noArrayIndexKey: two sizes may be alike
            key={index}
            plan={each.plan}
            name={set.names[index]}
            notes={each.regraded.map((note) => regradeNoteText(note, words, voice))}
            onOpen={() => onOpen(aims[index], { ...choicesFrom(null), ...defaultChoices(each.plan.carrier), own })}
          />
        ) : null,
      )}
    </section>
  );

  function problemOf(each: CurrentPlan): string[] {
    if (each.outcome === 'disagrees') return [disagreementText(each.disagreement, words, voice)];
    return each.outcome === 'refused' ? [refusalText(each.reason, text.planRefusals, voice)] : [];
  }
}

interface OneSizeProps {
  readonly plan: Plan;
  /** S, M, L; empty for a size alone. */
  readonly name: string;
  readonly notes: readonly string[];
  readonly onOpen: () => void;
}

/** What was kept and what had to change, and the way to the plan. */
function OneSize({ plan, name, notes, onOpen }: OneSizeProps) {
  const words = useRegradeText();
  const planWords = useText().plan;
  const voice = useVoice();
  const { maxDiameterMm, heightMm } = plan.container;
  const sizes = planWords.sizes(voice.length(maxDiameterMm.value), voice.length(heightMm.value));
  return (
    <div className="stack stack--tight">
      <h3>{name ? words.sizes.sizes(name, voice.length(maxDiameterMm.value), voice.length(heightMm.value)) : sizes}</h3>
      <ul>
        {notes.map((note) => (
          <li key={note}>{note}</li>
        ))}
      </ul>
      <div>
        <button type="button" className="button button--main" onClick={onOpen}>
          {words.screen.open} <Icon name="arrow" />
        </button>
      </div>
    </div>
  );
}
