import { type ReactNode, useRef } from 'react';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';

interface PhotoButtonsProps {
  readonly onFile: (file: File) => void;
  /** Photos out of files, where these may be somebody else's and several; left out, one of them is like one just taken. */
  readonly onSent?: (files: readonly File[]) => void;
  readonly testId: string;
  /** Other ways than a photo, beside the file. */
  readonly children?: ReactNode;
}

/** A photo from the camera or from a file. */
export function PhotoButtons({ onFile, onSent, testId, children }: PhotoButtonsProps) {
  const text = useText().photo;
  const camera = useRef<HTMLInputElement>(null);
  const files = useRef<HTMLInputElement>(null);
  const picked = (input: HTMLInputElement, take = onSent) => {
    const chosen = [...(input.files ?? [])];
    if (take) take(chosen);
    else if (chosen.length > 0) onFile(chosen[0]);
    input.value = '';
  };
  return (
    <>
      <button type="button" className="button button--main" onClick={() => camera.current?.click()}>
        <Icon name="camera" /> {text.take}
      </button>
      <div className="photo-buttons">
        <button type="button" className="button" onClick={() => files.current?.click()}>
          <Icon name="picture" /> {text.choose}
        </button>
        {children}
      </div>
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
