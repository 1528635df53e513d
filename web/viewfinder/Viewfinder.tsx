import { type PointerEvent, useCallback, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import { useSettings } from '../app/use-settings.ts';
import { cornersOf, outlineOf } from '../engine/measure-options.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { SizeNumber } from '../ui/SizeNumber.tsx';
import { tick } from '../ui/touch-felt.ts';
import { type Camera, type CameraTrouble, openCamera } from './camera.ts';
import { HintDrawing } from './HintDrawing.tsx';
import { type Seen, useLooks } from './use-looks.ts';
import { WORDS } from './words.ts';
import './viewfinder.css';

interface ViewfinderProps {
  readonly onTaken: (picture: File) => void;
  readonly onClose: () => void;
  /** Where there is no camera to look through. */
  readonly onOtherWay: () => void;
}

/** A look through the camera that says what it sees and what to change, and takes the picture when it is good. */
export function Viewfinder({ onTaken, onClose, onOtherWay }: ViewfinderProps) {
  const words = WORDS[useSettings().language];
  const { close } = useText().shell;
  const place = useRef<HTMLDialogElement>(null);
  const live = useRef<HTMLVideoElement>(null);
  const [camera, setCamera] = useState<Camera | CameraTrouble | null>(null);
  const [byItself, setByItself] = useState(true);
  const [lit, setLit] = useState(false);
  const [tapPx, setTapPx] = useState<ImagePoint | null>(null);
  const seen = useLooks(live, tapPx);
  const isOpen = camera !== null && typeof camera === 'object';

  useLayoutEffect(() => {
    const dialog = place.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);
  useEffect(() => {
    let opened: Camera | CameraTrouble | null = null;
    let left = false;
    void openCamera().then((found) => {
      opened = found;
      if (left && typeof found === 'object') found.close();
      else setCamera(found);
    });
    return () => {
      left = true;
      if (opened && typeof opened === 'object') opened.close();
    };
  }, []);
  useEffect(() => {
    if (!isOpen || !live.current) return;
    live.current.srcObject = camera.stream;
    void live.current.play().catch(() => {});
  }, [camera, isOpen]);

  const taking = useRef(false);
  const take = useCallback(async () => {
    if (!isOpen || !live.current || taking.current) return;
    taking.current = true;
    tick();
    const picture = await camera.still(live.current);
    taking.current = false;
    if (picture) onTaken(new File([picture], 'photo.jpg', { type: picture.type }));
  }, [camera, isOpen, onTaken]);
  const isReady = byItself && seen?.readiness === 1;
  useEffect(() => {
    if (isReady) void take();
  }, [isReady, take]);

  const tapped = (event: PointerEvent<HTMLVideoElement>) => {
    const at = shareOfPicture(event.currentTarget, event.clientX, event.clientY);
    if (at) setTapPx(at);
  };
  const changeLight = (on: boolean) => {
    setLit(on);
    if (isOpen) void camera.lamp?.(on);
  };

  return (
    <dialog
      ref={place}
      className="viewfinder"
      aria-label={words.title}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      {isOpen ? (
        <div className="viewfinder__picture">
          <video ref={live} className="viewfinder__live" muted playsInline onPointerUp={tapped} data-testid="live" />
          {seen && <SeenDrawing seen={seen} />}
        </div>
      ) : (
        <div className="viewfinder__empty stack">
          {camera === null ? (
            <p role="status">{words.starting}</p>
          ) : (
            <>
              <p role="alert">{words[camera]}</p>
              <button type="button" className="button button--main" onClick={onOtherWay}>
                <Icon name="camera" /> {words.otherWay}
              </button>
            </>
          )}
        </div>
      )}
      {isOpen && (
        <p className="viewfinder__hint" role="status">
          {seen?.hint && <HintDrawing hint={seen.hint} />}
          <span>{seen ? (seen.hint ? words.hints[seen.hint] : words.good) : words.looking}</span>
        </p>
      )}
      <button
        type="button"
        className="button button--icon viewfinder__close"
        aria-label={close}
        onClick={onClose}
        data-testid="viewfinder-close"
      >
        <Icon name="close" />
      </button>
      {isOpen && (
        <div className="viewfinder__foot">
          <Sizes result={seen?.result ?? null} words={words} />
          <div className="viewfinder__bar">
            <label className="viewfinder__choice">
              <input type="checkbox" checked={byItself} onChange={(event) => setByItself(event.target.checked)} />
              {words.byItself}
            </label>
            <button
              type="button"
              className="viewfinder__take"
              aria-label={words.take}
              onClick={() => void take()}
              data-testid="viewfinder-take"
            >
              <Ring done={byItself ? (seen?.readiness ?? 0) : 0} />
            </button>
            {camera.lamp ? (
              <label className="viewfinder__choice">
                <input type="checkbox" checked={lit} onChange={(event) => changeLight(event.target.checked)} />
                {words.light}
              </label>
            ) : (
              <span className="viewfinder__choice small">{words.privacy}</span>
            )}
          </div>
        </div>
      )}
    </dialog>
  );
}

/** Card and container as they were seen, over the live picture. */
function SeenDrawing({ seen: { widthPx, heightPx, result } }: { readonly seen: Seen }) {
  const [card, outline] = [cornersOf(result), outlineOf(result)];
  const others = result.outcome === 'refused' ? (result.found.candidatesPx ?? []) : [];
  const points = (of: readonly ImagePoint[]) => of.map(([x, y]) => `${x.toFixed(0)},${y.toFixed(0)}`).join(' ');
  return (
    <svg className="viewfinder__seen" viewBox={`0 0 ${widthPx} ${heightPx}`} aria-hidden="true">
      {card && <polygon points={points(card)} className="viewfinder__card" />}
      {outline && <polygon points={points(outline)} className="viewfinder__outline" />}
      {others.map((of) => (
        <polygon key={points(of)} points={points(of)} className="viewfinder__outline" />
      ))}
    </svg>
  );
}

function Sizes({ result, words }: { readonly result: MeasureResult | null; readonly words: (typeof WORDS)['en'] }) {
  if (result?.outcome !== 'measured') return null;
  const { maxDiameterMm, heightMm } = result.measurement;
  return (
    <dl className="viewfinder__sizes">
      <SizeNumber name={words.widest} length={maxDiameterMm} />
      <SizeNumber name={words.height} length={heightMm} />
    </dl>
  );
}

/** Circumference of the ring on its grid. */
const ROUND = 2 * Math.PI * 30;

function Ring({ done }: { readonly done: number }) {
  return (
    <svg viewBox="0 0 72 72" width={72} height={72} aria-hidden="true">
      <circle cx={36} cy={36} r={24} className="viewfinder__button" />
      <circle cx={36} cy={36} r={30} className="viewfinder__ring" />
      <circle
        cx={36}
        cy={36}
        r={30}
        className="viewfinder__ring viewfinder__ring--done"
        strokeDasharray={`${done * ROUND} ${ROUND}`}
        transform="rotate(-90 36 36)"
      />
    </svg>
  );
}

/** Where in the live picture, in shares of it, a place on the screen is; null beside the picture. */
function shareOfPicture(live: HTMLVideoElement, x: number, y: number): ImagePoint | null {
  const { left, top, width, height } = live.getBoundingClientRect();
  const scale = Math.min(width / live.videoWidth, height / live.videoHeight);
  const [wide, high] = [live.videoWidth * scale, live.videoHeight * scale];
  const at: ImagePoint = [(x - left - (width - wide) / 2) / wide, (y - top - (height - high) / 2) / high];
  return at.every((share) => share >= 0 && share <= 1) ? at : null;
}
