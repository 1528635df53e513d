import { lazy, type ReactNode, Suspense, useRef, useState } from 'react';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { useHasCamera } from './use-has-camera.ts';

const Viewfinder = lazy(() =>
  import('../viewfinder/Viewfinder.tsx').then(({ Viewfinder }) => ({ default: Viewfinder })),
);

interface PhotoButtonsProps {
  readonly onFile: (file: File) => void;
  /** Photos out of files, where these may be somebody else's and several; left out, one of them is like one just taken. */
  readonly onSent?: (files: readonly File[]) => void;
  readonly testId: string;
  /** What is taken is a container beside its card: the camera says what it sees of them. */
  readonly aims?: boolean;
  /** Other ways than a photo, beside the file. */
  readonly children?: ReactNode;
}

/** A photo from the camera or from a file. */
export function PhotoButtons({ onFile, onSent, testId, aims = false, children }: PhotoButtonsProps) {
  const text = useText().photo;
  const camera = useRef<HTMLInputElement>(null);
  const files = useRef<HTMLInputElement>(null);
  const [aiming, setAiming] = useState(false);
  const isThere = useHasCamera();
  const canAim = aims && isThere;
  const picked = (input: HTMLInputElement, take = onSent) => {
    const chosen = [...(input.files ?? [])];
    if (take) take(chosen);
    else if (chosen.length > 0) onFile(chosen[0]);
    input.value = '';
  };
  return (
    <>
      <button
        type="button"
        className="button button--main"
        onClick={() => (canAim ? setAiming(true) : camera.current?.click())}
      >
        <Icon name="camera" /> {text.take}
      </button>
      <div className="photo-buttons">
        <button type="button" className="button" onClick={() => files.current?.click()}>
          <Icon name="picture" /> {text.choose}
        </button>
        {children}
      </div>
      {aiming && (
        <Suspense fallback={null}>
          <Viewfinder
            onTaken={(picture) => {
              setAiming(false);
              onFile(picture);
            }}
            onClose={() => setAiming(false)}
            onOtherWay={() => {
              setAiming(false);
              camera.current?.click();
            }}
          />
        </Suspense>
      )}
      <input
        ref={camera}
        type="file"
        accept="image/*"
        capture="environment"
        hidden
        onChange={(event) => picked(event.target, ([taken]) => taken && onFile(taken))}
      />
      <input
        ref={files}
        type="file"
        accept="image/*,.heic,.heif,.avif"
        hidden
        multiple={onSent !== undefined}
        data-testid={testId}
        onChange={(event) => picked(event.target)}
      />
    </>
  );
}
