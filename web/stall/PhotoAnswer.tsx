import { useText } from '../text/text.ts';
import { Busy } from '../ui/Busy.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Answer, type Offered } from './Answer.tsx';
import { stallAnswers } from './answer.ts';
import type { StallPhoto } from './StallView.tsx';

interface PhotoAnswerProps extends Offered {
  readonly photo: StallPhoto;
  readonly onPutRight: () => void;
  readonly onNext: () => void;
}

/** The photo, and the answer over its lower edge as soon as it is there. */
export function PhotoAnswer({ photo, onNext, onPutRight, ...rest }: PhotoAnswerProps) {
  const words = useText().stall;
  const { container, state, url, isCovered } = photo;
  return (
    <>
      <div className="stall__photo">
        {url && <img src={url} alt="" className={isCovered ? undefined : 'stall__unread'} />}
        {state === 'measuring' && <Busy done={2}>{words.looking}</Busy>}
      </div>
      {state === 'refused' && (
        <div className="note note--warn row row--apart" role="alert">
          <span>{words.refused}</span>
          <button type="button" className="button" onClick={onPutRight}>
            {words.putRight}
          </button>
        </div>
      )}
      {state === 'measured' && container && (
        <div className="stall__sheet">
          <Answer {...rest} container={container} answers={stallAnswers(rest.hanging, container)} tape={null} />
        </div>
      )}
      <div>
        <button type="button" className="button" onClick={onNext}>
          <Icon name="camera" /> {words.another}
        </button>
      </div>
    </>
  );
}
