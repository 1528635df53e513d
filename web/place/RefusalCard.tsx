import type { Dispatch } from 'react';
import type { ProblemCode } from '../../vision/measurement.ts';
import type { Action } from '../app/app-state.ts';
import { useText } from '../text/text.ts';
import { LayACard, StepBack, TiltALittle, UseATape } from '../ui/drawings.tsx';
import { Icon, type IconName } from '../ui/Icon.tsx';
import { type WayOn, waysOn } from './verdict.ts';

interface RefusalCardProps {
  readonly code: ProblemCode;
  readonly dispatch: Dispatch<Action>;
  /** Shows the handles of what was guessed. */
  readonly onPutRight: (() => void) | null;
  readonly onCorners: () => void;
}

const ICONS: Readonly<Record<WayOn, IconName>> = {
  again: 'camera',
  tape: 'tape',
  standing: 'check',
  lying: 'check',
  'put-right': 'tap',
  corners: 'tap',
};

/** Why there are no sizes, in one card: what, why, and one or two ways on. */
export function RefusalCard({ code, dispatch, onPutRight, onCorners }: RefusalCardProps) {
  const text = useText();
  const words = text.check;
  const go: Readonly<Record<WayOn, (() => void) | null>> = {
    again: () => dispatch({ type: 'go', screen: 'photo' }),
    tape: () => dispatch({ type: 'go', screen: 'tape' }),
    standing: () => dispatch({ type: 'edit', edits: { arrangement: 'standing' } }),
    lying: () => dispatch({ type: 'edit', edits: { arrangement: 'lying' } }),
    'put-right': onPutRight,
    corners: onCorners,
  };
  const ways = waysOn(code).filter((way) => go[way]);
  return (
    <div className="refusal" role="alert">
      <div className="refusal__drawing" aria-hidden="true">
        <RefusalDrawing code={code} />
      </div>
      <h2>{words.refusals[code as keyof typeof words.refusals] ?? words.refusedTitle}</h2>
      <p>{text.problems[code]}</p>
      <div className="row">
        {ways.map((way, k) => (
          <button
            key={way}
            type="button"
            className={`button ${k === 0 ? 'button--main' : ''}`}
            onClick={() => go[way]?.()}
          >
            <Icon name={ICONS[way]} /> {words.wayOn[way]}
          </button>
        ))}
      </div>
    </div>
  );
}

function RefusalDrawing({ code }: { readonly code: ProblemCode }) {
  if (code === 'no-card' || code === 'no-round-reference') return <LayACard />;
  if (code === 'container-cut-off' || code === 'card-cut-off') return <StepBack />;
  if (code === 'card-too-oblique' || code === 'round-too-oblique' || code === 'base-hidden') return <TiltALittle />;
  if (code === 'not-round' || code === 'too-flat') return <UseATape />;
  return null;
}
