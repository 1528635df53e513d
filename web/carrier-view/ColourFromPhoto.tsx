import { type PointerEvent, useEffect, useRef, useState } from 'react';
import { useText } from '../text/text.ts';
import { colourTapped } from './yarn-colours.ts';

interface ColourFromPhotoProps {
  readonly photo: Blob;
  readonly onColour: (colour: string) => void;
  readonly onDone: () => void;
}

/** Half the side of the patch that is looked at, as a share of the picture: a few strands of yarn. */
const PATCH_SHARE = 0.012;
const LONG_SIDE_PX = 1000;

/** A photo of yarn, only looked at: tapping takes the colour there. It is not kept. */
export function ColourFromPhoto({ photo, onColour, onDone }: ColourFromPhotoProps) {
  const words = useText().picture;
  const canvas = useRef<HTMLCanvasElement>(null);
  const [state, setState] = useState<'opening' | 'ready' | 'tapped' | 'broken'>('opening');
  useEffect(() => {
    let current = true;
    createImageBitmap(photo, { imageOrientation: 'from-image' }).then(
      (picture) => {
        if (current && canvas.current) {
          const scale = Math.min(1, LONG_SIDE_PX / Math.max(picture.width, picture.height));
          canvas.current.width = Math.round(picture.width * scale);
          canvas.current.height = Math.round(picture.height * scale);
          const { width, height } = canvas.current;
          canvas.current.getContext('2d', { willReadFrequently: true })?.drawImage(picture, 0, 0, width, height);
          setState('ready');
        }
        picture.close();
      },
      () => current && setState('broken'),
    );
    return () => {
      current = false;
    };
  }, [photo]);
  const take = ({ nativeEvent: { offsetX, offsetY }, currentTarget }: PointerEvent<HTMLCanvasElement>) => {
    const { width, height, clientWidth, clientHeight } = currentTarget;
    const half = Math.max(2, Math.round(PATCH_SHARE * Math.max(width, height)));
    const [x, y] = [(offsetX / clientWidth) * width - half, (offsetY / clientHeight) * height - half];
    const pixels = currentTarget.getContext('2d')?.getImageData(x, y, 2 * half, 2 * half);
    if (!pixels) return;
    onColour(colourTapped(pixels.data));
    setState('tapped');
  };
  const said = { opening: '', ready: words.tapYarn, tapped: words.tapAgain, broken: words.notAPhoto }[state];
  return (
    <div className="stack stack--tight">
      <p role="status">{said}</p>
      {state !== 'broken' && (
        <canvas ref={canvas} className="yarn-photo" onPointerUp={take} aria-label={words.tapYarn} />
      )}
      <button type="button" className="button" onClick={onDone}>
        {words.done}
      </button>
    </div>
  );
}
