import { type Dispatch, type DragEvent, useEffect, useState } from 'react';
import type { Action, Activity } from '../app/app-state.ts';
import { WaysToTakeIt } from '../guide/WaysToTakeIt.tsx';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import './photo.css';
import { PhotoButtons } from './PhotoButtons.tsx';
import { SAMPLES } from './samples.ts';

/** @param reference  what lies beside the container; as usual when left out */
export type OpenPhoto = (file: Blob, reference?: string) => void;

interface PhotoStepProps {
  readonly activity: Activity;
  readonly dispatch: Dispatch<Action>;
  readonly onPhoto: OpenPhoto;
  readonly onTape: () => void;
}

/** First step: a photo from the camera, a file, a drop, the clipboard, another app, or a sample. */
export function PhotoStep({ activity, dispatch, onPhoto, onTape }: PhotoStepProps) {
  const text = useText();
  const [dropping, setDropping] = useState(false);

  useEffect(() => {
    const paste = (event: ClipboardEvent) => {
      const file = firstPicture(event.clipboardData);
      if (file) onPhoto(file);
    };
    document.addEventListener('paste', paste);
    return () => document.removeEventListener('paste', paste);
  }, [onPhoto]);

  const drop = (event: DragEvent) => {
    event.preventDefault();
    setDropping(false);
    const file = firstPicture(event.dataTransfer) ?? event.dataTransfer.files[0];
    if (file) onPhoto(file);
  };

  return (
    <section
      className="photo-step stack"
      aria-label={text.photo.title}
      onDragOver={(event) => {
        event.preventDefault();
        setDropping(true);
      }}
      onDragLeave={() => setDropping(false)}
      onDrop={drop}
    >
      <div className="photo-step__start">
        <div className="stack">
          <h1>{text.photo.title}</h1>
          <p>{text.photo.lead}</p>
          <div className="photo-step__choices">
            <PhotoButtons onFile={(file) => onPhoto(file)} testId="photo-file" />
            <button type="button" className="button button--quiet" onClick={onTape}>
              <Icon name="tape" /> {text.photo.tapeInstead}
            </button>
          </div>
          {dropping && <Note kind="info">{text.photo.dropHere}</Note>}
          {activity.kind === 'opening' && <p role="status">{text.photo.opening}</p>}
          {activity.kind === 'trouble' && (
            <div role="alert">
              <Note kind="stop">{text.photo.trouble[activity.reason]}</Note>
            </div>
          )}
          <p className="quiet small">
            {text.photo.privacy} {text.photo.cardHint} <span className="photo-step__drop">{text.photo.dropHint}</span>
          </p>
          <button
            type="button"
            className="button button--quiet"
            onClick={() => dispatch({ type: 'go', screen: 'ruler' })}
          >
            {text.reference.toRuler}
          </button>
        </div>
        <div className="panel stack stack--tight">
          <h2>{text.photo.howTo}</h2>
          <WaysToTakeIt />
          <button
            type="button"
            className="button button--quiet"
            onClick={() => dispatch({ type: 'go', screen: 'guide' })}
          >
            <Icon name="guide" /> {text.photo.wholeGuide}
          </button>
        </div>
      </div>
      <Samples onPhoto={onPhoto} />
    </section>
  );
}

function Samples({ onPhoto }: { readonly onPhoto: OpenPhoto }) {
  const text = useText().photo;
  const [gone, setGone] = useState(false);
  const open = async ({ url, reference }: (typeof SAMPLES)[number]) => {
    const answer = await fetch(url).catch(() => null);
    setGone(!answer?.ok);
    if (answer?.ok) onPhoto(await answer.blob(), reference);
  };
  return (
    <details className="samples">
      <summary>{text.samples}</summary>
      <div className="stack">
        <p className="quiet small">{text.samplesNote}</p>
        {gone && <Note kind="stop">{text.sampleGone}</Note>}
        <ul className="samples__list">
          {SAMPLES.map((sample) => (
            <li key={sample.name}>
              <button type="button" className="samples__one" onClick={() => open(sample)}>
                <img src={sample.thumbnailUrl} alt="" loading="lazy" width={240} height={240} />
                {text.sampleNames[sample.name] ?? sample.name}
              </button>
            </li>
          ))}
        </ul>
      </div>
    </details>
  );
}

function firstPicture(transfer: DataTransfer | null): File | null {
  return [...(transfer?.files ?? [])].find((file) => file.type.startsWith('image/')) ?? null;
}
