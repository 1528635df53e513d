import { type Dispatch, useId, useState } from 'react';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Action, Job } from '../app/app-state.ts';
import { swatchFromPhoto } from '../engine/work-to-gauge.ts';
import { GaugeNumbers } from '../gauge/GaugeView.tsx';
import { FIRST_GAUGE_ENTRY, type GaugeEntry, gaugeOf } from '../gauge/gauge-entry.ts';
import { newRecord } from '../keep/records.ts';
import { useAttempt, useStore } from '../keep/use-store.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { CountsApart } from './CountsApart.tsx';
import { areApart } from './counts-apart.ts';
import type { WorkCheck } from './work-check.ts';

interface SwatchGaugeProps {
  readonly job: Job;
  readonly check: WorkCheck;
  readonly dispatch: Dispatch<Action>;
  readonly onDone: () => void;
}

/** The gauge that a photographed swatch gives, with its ±; used for the job and kept. */
export function SwatchGauge({ job, check, dispatch, onDone }: SwatchGaugeProps) {
  const words = useText().work.gauge;
  const { store } = useStore();
  const attempt = useAttempt();
  const before = job.gauge ?? FIRST_GAUGE_ENTRY;
  const [name, setName] = useState(before.name);
  const [sureOf, setSureOf] = useState('');
  const id = useId();
  const result = check.answer?.result;
  if (result?.outcome !== 'measured' || result.piece !== 'swatch') return null;
  const { rounds, stitches } = check;
  const entry: GaugeEntry | null =
    rounds === null || stitches === null
      ? null
      : { ...before, name, source: 'swatch', swatch: { ...swatchFromPhoto(result.swatch), rounds, stitches } };
  const outcome = entry && gaugeOf(entry);
  const counts = `${rounds} ${stitches}`;
  // a guess from the yarn was never hers: any swatch beats it
  const typed = before.source === 'swatch' ? gaugeOf(before) : null;
  const believed = typed?.outcome === 'gauge' ? typed.gauge : null;
  const apart = outcome?.outcome === 'gauge' && believed ? sideApart(outcome.gauge, believed) : null;
  const use = () => {
    if (!entry) return;
    dispatch({ type: 'gauge', gauge: entry });
    if (store) void attempt(store.put({ ...newRecord('gauge', name), gauge: { ...entry } }));
    onDone();
  };
  return (
    <section className="work__outcome stack stack--tight" aria-labelledby="work-gauge" aria-live="polite">
      <h2 id="work-gauge">{words.title}</h2>
      {!outcome && <p>{words.missing}</p>}
      {outcome?.outcome === 'refused' && <Note kind="stop">{words.odd}</Note>}
      {outcome?.outcome === 'gauge' && <GaugeNumbers gauge={outcome.gauge} />}
      {outcome?.outcome === 'gauge' && believed && apart && (
        <CountsApart
          what={apart}
          seen={outcome.gauge[apart]}
          believed={believed[apart]}
          sure={sureOf === counts}
          onSure={(sure) => setSureOf(sure ? counts : '')}
        />
      )}
      <div className="field">
        <label htmlFor={id}>{words.name}</label>
        <input id={id} type="text" maxLength={200} value={name} onChange={(event) => setName(event.target.value)} />
      </div>
      <button
        type="button"
        className="button button--main"
        disabled={outcome?.outcome !== 'gauge' || (apart !== null && sureOf !== counts)}
        onClick={use}
      >
        {words.use} <Icon name="arrow" />
      </button>
    </section>
  );
}

/** A stitch's width or height that does not go with the gauge typed before. */
function sideApart(seen: Gauge, believed: Gauge): 'stitchWidthMm' | 'roundHeightMm' | null {
  const sides = ['stitchWidthMm', 'roundHeightMm'] as const;
  return sides.find((side) => areApart(seen[side], believed[side])) ?? null;
}
