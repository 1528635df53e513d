import { useState } from 'react';
import type { WorkPiece } from '../../vision/flat-piece/measure-work.ts';
import type { Activity } from '../app/app-state.ts';
import { PhotoButtons } from '../photo/PhotoButtons.tsx';
import { WORK_SAMPLES } from '../photo/samples.ts';
import { type Text, useText } from '../text/text.ts';
import { Note } from '../ui/Note.tsx';
import type { Counted } from './work-check.ts';

interface TakeWorkPhotoProps {
  readonly piece: WorkPiece;
  readonly activity: Activity;
  /** @param counted  what is known about a sample */
  readonly onPhoto: (file: Blob, counted?: Counted) => void;
  readonly onCancel: () => void;
  readonly onRuler: () => void;
}

/** How to lay the work down, and a photo of it from the camera, a file or the samples. */
export function TakeWorkPhoto({ piece, activity, onPhoto, onCancel, onRuler }: TakeWorkPhotoProps) {
  const text = useText();
  const words = text.work;
  const busy = activity.kind === 'opening' || activity.kind === 'measuring';
  return (
    <div className="work__take stack">
      <p>
        {words.how[piece]} {words.from}
      </p>
      {busy ? (
        <div className="panel row row--apart">
          <span role="status">{stageText(activity, words)}</span>
          <button type="button" className="button button--quiet" onClick={onCancel}>
            {text.photo.cancel}
          </button>
        </div>
      ) : (
        <div className="work__choices">
          <PhotoButtons onFile={onPhoto} testId="work-photo" />
          <button type="button" className="button button--quiet" onClick={onRuler}>
            {text.reference.toRuler}
          </button>
        </div>
      )}
      {activity.kind === 'trouble' && activity.reason !== 'cancelled' && (
        <div role="alert">
          <Note kind="stop">{text.photo.trouble[activity.reason]}</Note>
        </div>
      )}
      <p className="quiet small">{text.photo.privacy}</p>
      <WorkSamples piece={piece} onPhoto={onPhoto} />
    </div>
  );
}

/** What the engine is at. */
export function stageText(activity: Activity, { stages }: Text['work']): string {
  const stage = activity.kind === 'measuring' ? activity.stage : null;
  return stage === 'card' || stage === 'outline' ? stages[stage] : stages.start;
}

interface WorkSamplesProps {
  readonly piece: WorkPiece;
  readonly onPhoto: TakeWorkPhotoProps['onPhoto'];
}

function WorkSamples({ piece, onPhoto }: WorkSamplesProps) {
  const text = useText();
  const [gone, setGone] = useState(false);
  const open = async ({ url, ...counted }: (typeof WORK_SAMPLES)[number]) => {
    const answer = await fetch(url).catch(() => null);
    setGone(!answer?.ok);
    if (answer?.ok) onPhoto(await answer.blob(), counted);
  };
  return (
    <details className="samples">
      <summary>{text.work.samples}</summary>
      <div className="stack">
        <p className="quiet small">{text.work.samplesNote}</p>
        {gone && <Note kind="stop">{text.photo.sampleGone}</Note>}
        <ul className="samples__list">
          {WORK_SAMPLES.filter((sample) => sample.piece === piece).map((sample) => (
            <li key={sample.name}>
              <button type="button" className="samples__one" onClick={() => void open(sample)}>
                <img src={sample.thumbnailUrl} alt="" loading="lazy" width={240} height={240} />
                {text.work.sampleNames[sample.name] ?? sample.name}
              </button>
            </li>
          ))}
        </ul>
      </div>
    </details>
  );
}
