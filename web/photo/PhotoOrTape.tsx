import { type Dispatch, lazy, useState } from 'react';
import type { Action, Activity } from '../app/app-state.ts';
import { NO_TAPE, type Tape } from '../keep/records.ts';
import { useText } from '../text/text.ts';
import { type OpenPhoto, PhotoStep } from './PhotoStep.tsx';

const TapeEntry = lazy(() => import('../sizes/TapeEntry.tsx').then(({ TapeEntry }) => ({ default: TapeEntry })));

interface PhotoOrTapeProps {
  readonly activity: Activity;
  readonly dispatch: Dispatch<Action>;
  readonly onPhoto: OpenPhoto;
}

/** First step: a photo, or two numbers from the tape. */
export function PhotoOrTape({ activity, dispatch, onPhoto }: PhotoOrTapeProps) {
  const text = useText().shell;
  const [tape, setTape] = useState<Tape | null>(null);
  if (!tape) {
    return <PhotoStep activity={activity} dispatch={dispatch} onPhoto={onPhoto} onTape={() => setTape(NO_TAPE)} />;
  }
  return (
    <div className="stack">
      <button type="button" className="button button--quiet" onClick={() => setTape(null)}>
        {text.back}
      </button>
      <TapeEntry
        tape={tape}
        onTape={setTape}
        onUse={() => dispatch({ type: 'tape-only', id: crypto.randomUUID(), tape })}
      />
    </div>
  );
}
