import { type Dispatch, useState } from 'react';
import { parseOwnPattern } from '../../sizing/regrade/own-pattern.ts';
import type { Action, Job } from '../app/app-state.ts';
import { FIRST_GAUGE_ENTRY, type GaugeEntry } from '../gauge/gauge-entry.ts';
import { useAllRecords, useStore } from '../keep/use-store.ts';
import type { JobPhotos } from '../photo/use-job-photos.ts';
import type { PlanChoices } from '../plan/plan-progress.ts';
import { notationText } from '../plan/words/regrade-words.ts';
import { Note } from '../ui/Note.tsx';
import { type Aim, aimFor } from './aims.ts';
import { type Draft, firstDraft, keepDraft, ownRoundsOf } from './draft.ts';
import { Regraded } from './Regraded.tsx';
import { RoundsPanel } from './RoundsPanel.tsx';
import { useRegradeText } from './regrade-text.ts';
import { TargetsPanel } from './TargetsPanel.tsx';

interface RegradeViewProps {
  /** The container in hand, if there is one. */
  readonly job: Job | null;
  readonly lastGauge: GaugeEntry | null;
  readonly dispatch: Dispatch<Action>;
  readonly work: Pick<JobPhotos, 'showKept'>;
}

/** Her own rounds for one container, typed or taken from a kept plan, for others: counts at once, plans on demand. */
export function RegradeView({ job, lastGauge, dispatch, work }: RegradeViewProps) {
  const regradeWords = useRegradeText();
  const words = regradeWords.screen;
  const { store, flush } = useStore();
  const { container: kept } = useAllRecords();
  const [draft, setDraft] = useState(() => firstDraft(job));
  const change = (part: Partial<Draft>) => {
    const next = { ...draft, ...part };
    setDraft(next);
    keepDraft(next);
  };
  const entry = job?.gauge ?? lastGauge ?? FIRST_GAUGE_ENTRY;
  const parsed = parseOwnPattern(draft.rounds.trim());
  const own = parsed.outcome === 'read' ? ownRoundsOf(draft) : null;
  const aims = draft.targets.map((target) => aimFor(target, job, kept)).filter((aim) => aim !== null);
  const isComplete = own !== null && aims.length === draft.targets.length;

  const open = async (aim: Aim, choices: PlanChoices) => {
    await flush();
    const taken = aim.job();
    // A plan that is begun stays as it is: this is another one for the same container.
    const another = { planId: crypto.randomUUID(), planBegun: true, stored: { ...taken.stored, plan: null } };
    const next: Job = { ...taken, ...another, choices, progress: null, gauge: entry };
    const picture = next.photo && next.id !== job?.id ? await store?.picture(next.id) : null;
    dispatch({ type: 'open-job', job: next, screen: 'plan' });
    if (next.id !== job?.id) {
      work.showKept({ blanked: picture?.blanked ?? null, original: picture?.original ?? null }, next);
    }
  };

  return (
    <div className="stack">
      <div>
        <h1>{words.title}</h1>
        <p className="quiet">{words.lead}</p>
      </div>
      <RoundsPanel draft={draft} change={change} entry={entry} />
      <TargetsPanel draft={draft} change={change} job={job} kept={kept} />
      <div role="status">
        {draft.rounds.trim() !== '' && parsed.outcome === 'not-read' && (
          <Note kind="stop">{notationText(parsed.error, regradeWords)}</Note>
        )}
        {parsed.outcome === 'read' && !isComplete && <p>{words.missing}</p>}
      </div>
      {own && isComplete && (
        <Regraded own={own} aims={aims} entry={entry} onOpen={(aim, choices) => void open(aim, choices)} />
      )}
    </div>
  );
}
