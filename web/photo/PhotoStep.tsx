import { type Dispatch, lazy, Suspense, useState } from 'react';
import type { Action, Activity } from '../app/app-state.ts';
import type { PhotoFrom } from '../photo/use-job-photos.ts';
import { useText } from '../text/text.ts';
import { Busy } from '../ui/Busy.tsx';
import { Fold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import './photo.css';
import { EXAMPLE, Example } from './Example.tsx';
import { PhotoButtons } from './PhotoButtons.tsx';
import { SAMPLES } from './samples.ts';

// Below the first view: it comes once that is there.
const WaysToTakeIt = lazy(() =>
  import('../guide/WaysToTakeIt.tsx').then(({ WaysToTakeIt }) => ({ default: WaysToTakeIt })),
);

export type OpenPhoto = (file: Blob, from?: PhotoFrom) => void;

interface PhotoStepProps {
  readonly activity: Activity;
  readonly dispatch: Dispatch<Action>;
  readonly onPhoto: OpenPhoto;
  readonly onSent: (files: readonly Blob[]) => void;
}

/** First place: a photo from the camera, a file, a drop, the clipboard, another app, or a sample; or the tape. */
export function PhotoStep({ activity, dispatch, onPhoto, onSent }: PhotoStepProps) {
  const text = useText();
  const [dropping, setDropping] = useState(false);
  const [sample, setSample] = useState<'fetching' | 'gone' | null>(null);

  const openSample = async ({ url, reference }: (typeof SAMPLES)[number]) => {
    setSample('fetching');
    const answer = await fetch(url).catch(() => null);
    setSample(answer?.ok ? null : 'gone');
    if (answer?.ok) onPhoto(await answer.blob(), { reference });
  };
  const example = SAMPLES.find(({ name }) => name === EXAMPLE);
  const go = (screen: 'tape' | 'stall' | 'guide' | 'ruler') => () => dispatch({ type: 'go', screen });

  return (
    <section
      className="photo-step"
      aria-label={text.photo.title}
      onDragOver={() => setDropping(true)}
      onDragLeave={() => setDropping(false)}
      onDrop={() => setDropping(false)}
    >
      <div className="photo-step__example">{example && <Example onOpen={() => openSample(example)} />}</div>
      <div className="photo-step__start stack">
        <div>
          <h1>{text.photo.title}</h1>
          <p>{text.photo.lead}</p>
        </div>
        <div className="photo-step__choices">
          <PhotoButtons onFile={(file) => onPhoto(file)} onSent={onSent} testId="photo-file" aims>
            <button type="button" className="button" onClick={go('tape')}>
              <Icon name="tape" /> {text.photo.tapeInstead}
            </button>
          </PhotoButtons>
        </div>
        {dropping && <Note kind="info">{text.photo.dropHere}</Note>}
        {activity.kind === 'trouble' && (
          <div role="alert">
            <Note kind="stop">{text.photo.trouble[activity.reason]}</Note>
          </div>
        )}
        {sample === 'gone' && <Note kind="stop">{text.photo.sampleGone}</Note>}
        <div className="photo-step__line">
          {sample === 'fetching' || activity.kind === 'opening' ? (
            <Busy done={0}>{text.photo.opening}</Busy>
          ) : (
            <p className="quiet small">
              {text.photo.privacy} <span className="photo-step__drop">{text.photo.dropHint}</span>
            </p>
          )}
        </div>
      </div>
      {/* All of it at once, so that nothing moves. */}
      <Suspense fallback={null}>
        <div className="photo-step__more stack">
          <h2>{text.photo.howTo}</h2>
          <WaysToTakeIt />
          <p className="quiet small">{text.photo.cardHint}</p>
          <div className="photo-step__links">
            <button type="button" className="button button--quiet" onClick={go('guide')}>
              <Icon name="guide" /> {text.photo.wholeGuide}
            </button>
            <button type="button" className="button button--quiet" onClick={go('ruler')}>
              <Icon name="ruler" /> {text.reference.toRuler}
            </button>
            <button type="button" className="button button--quiet" onClick={go('stall')}>
              <Icon name="stall" /> {text.photo.toStall}
            </button>
          </div>
          <Fold title={text.photo.samples} icon="photos">
            <p className="quiet small">{text.photo.samplesNote}</p>
            <ul className="samples__list">
              {SAMPLES.map((sample) => (
                <li key={sample.name}>
                  <button type="button" className="samples__one" onClick={() => openSample(sample)}>
                    <img src={sample.thumbnailUrl} alt="" loading="lazy" width={240} height={240} />
                    {text.photo.sampleNames[sample.name] ?? sample.name}
                  </button>
                </li>
              ))}
            </ul>
          </Fold>
        </div>
      </Suspense>
    </section>
  );
}
