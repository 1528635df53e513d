import { useRef, useState } from 'react';
import { DISAGREE_BELOW } from '../../vision/container/photos-agree.ts';
import type { Measurement } from '../../vision/measurement.ts';
import type { FurtherPhoto } from '../app/app-state.ts';
import { useSettings } from '../app/use-settings.ts';
import type { Measured, PhotoId } from '../engine/measuring.ts';
import { agreementOf } from '../engine/several-photos.ts';
import { lengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';

interface FurtherPhotosProps {
  /** What the photo on screen says. */
  readonly first: Measurement;
  readonly photos: readonly FurtherPhoto[];
  readonly onRemove: (photo: PhotoId) => void;
  /** Measures and adds; null when the job is no longer the one on screen. */
  readonly measure: (file: Blob) => Promise<Measured | null>;
  readonly busy: boolean;
  /** True while one shape is fitted to all of them. */
  readonly joining: boolean;
}

/** Further photos of the same container: each is measured on its own and only its sizes are kept. */
export function FurtherPhotos({ first, photos, onRemove, measure, busy, joining }: FurtherPhotosProps) {
  const text = useText();
  const wording = useSettings();
  const input = useRef<HTMLInputElement>(null);
  const [problem, setProblem] = useState<string | null>(null);

  const add = async (files: readonly File[]) => {
    setProblem(null);
    for (const answer of await Promise.all(files.map(measure))) {
      if (answer && !answer.ok) setProblem(text.photo.trouble[answer.reason]);
      else if (answer?.result.outcome === 'refused') setProblem(text.problems[answer.result.reason.code]);
    }
  };

  return (
    <>
      <p className="quiet small">{text.photo.further.why}</p>
      {photos.map(({ photo, measurement }, k) => (
        <div className="row row--apart" key={photo}>
          <span>
            {text.photo.further.one(
              k + 2,
              lengthText(measurement.maxDiameterMm, wording),
              lengthText(measurement.heightMm, wording),
            )}
          </span>
          <button
            type="button"
            className="button button--quiet button--icon"
            aria-label={text.photo.further.remove(k + 2)}
            onClick={() => onRemove(photo)}
          >
            <Icon name="bin" />
          </button>
        </div>
      ))}
      {!busy && photos.length > 0 && <Disagreement photos={[first, ...photos.map(({ measurement }) => measurement)]} />}
      {problem && <Note kind="stop">{problem}</Note>}
      <button type="button" className="button" disabled={busy} onClick={() => input.current?.click()}>
        <Icon name="plus" /> {text.photo.further.add}
      </button>
      <p role="status">{busy ? text.photo.further.measuring : joining && text.photo.further.joining}</p>
      <input
        ref={input}
        type="file"
        accept="image/*,.heic,.heif,.avif"
        multiple
        hidden
        data-testid="further-photo"
        onChange={(event) => {
          void add([...(event.target.files ?? [])]);
          event.target.value = '';
        }}
      />
    </>
  );
}

/** Says when photos that are said to show one container do not. */
function Disagreement({ photos }: { readonly photos: readonly Measurement[] }) {
  const text = useText().photo.further;
  const { leftOut, probability } = agreementOf(photos);
  if (leftOut.length > 0) {
    return <Note kind="warn">{text.leftOut(leftOut.map((k) => k + 1).join(', '))}</Note>;
  }
  return probability < DISAGREE_BELOW ? <Note kind="warn">{text.disagree}</Note> : null;
}
