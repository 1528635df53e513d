import { type Dispatch, lazy, Suspense, useState } from 'react';
import type { Action, Activity } from '../app/app-state.ts';
import { goBack } from '../app/use-history.ts';
import { NO_TAPE, type Tape } from '../keep/tape.ts';
import { useText } from '../text/text.ts';
import { Sheet } from '../ui/Sheet.tsx';
import { type OpenPhoto, PhotoStep } from './PhotoStep.tsx';

const TapeEntry = lazy(() => import('../sizes/TapeEntry.tsx').then(({ TapeEntry }) => ({ default: TapeEntry })));

interface PhotoOrTapeProps {
  readonly activity: Activity;
  /** The sheet for the tape's numbers is up. */
  readonly tapeOpen: boolean;
  readonly dispatch: Dispatch<Action>;
  readonly onPhoto: OpenPhoto;
  readonly onSent: (files: readonly Blob[]) => void;
}

/** First place: a photo, or two numbers from the tape on a sheet over it. */
export function PhotoOrTape({ activity, tapeOpen, dispatch, onPhoto, onSent }: PhotoOrTapeProps) {
  const text = useText();
  const [tape, setTape] = useState<Tape>(NO_TAPE);
  return (
    <>
      <PhotoStep activity={activity} dispatch={dispatch} onPhoto={onPhoto} onSent={onSent} />
      {tapeOpen && (
        <Sheet title={text.sizes.entry.title} onClose={() => goBack(() => dispatch({ type: 'go', screen: 'photo' }))}>
          <Suspense fallback={<p role="status">{text.shell.loading}</p>}>
            <TapeEntry
              tape={tape}
              onTape={setTape}
              onUse={() => dispatch({ type: 'tape-only', id: crypto.randomUUID(), tape })}
            />
          </Suspense>
        </Sheet>
      )}
    </>
  );
}
