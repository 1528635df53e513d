import { createUseGesture, dragAction, pinchAction, wheelAction } from '@use-gesture/react';
import { type ReactNode, useLayoutEffect, useRef, useState } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { useElementSize } from '../ui/use-element-size.ts';
import { fitAround, fitView, imageFromScreen, panBy, type Size, type View, zoomAbout } from './view-transform.ts';

interface PhotoCanvasProps {
  /** Null when the picture was not kept; the drawing then stands on plain ground. */
  readonly url: string | null;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  /** The maker points at a place in the photo; null when pointing means nothing just now. */
  readonly onTap: ((pointPx: ImagePoint) => void) | null;
  /** A finger that goes along the photo draws instead of moving it; null when it moves it. */
  readonly onBrush?: {
    readonly move: (pathPx: readonly ImagePoint[]) => void;
    readonly done: (pathPx: readonly ImagePoint[], view: View) => void;
  } | null;
  /** Beside the buttons that zoom. */
  readonly tools?: ReactNode;
  /** What is in view at first; the whole photo when left out. */
  readonly lookAtPx?: readonly ImagePoint[] | undefined;
  /** Drawn over the photo, in photo px. */
  readonly drawing: ReactNode;
  /** Laid over it, in CSS px of the canvas, whose size it gets; told when two fingers zoom, so that none of them drags a point as well. */
  readonly children: (view: View, zooming: boolean, canvas: Size) => ReactNode;
}

const BUTTON_ZOOM = 1.5;

/** Only the gestures used here, so that the others are not part of the page. */
const useGesture = createUseGesture([dragAction, pinchAction, wheelAction]);

/** The photo, filling its place, with pinch, wheel and drag to look closer. */
export function PhotoCanvas(props: PhotoCanvasProps) {
  const { url, photo, onTap, onBrush = null, lookAtPx, drawing, tools, children } = props;
  const text = useText().check;
  const frame = useRef<HTMLDivElement>(null);
  const [element, setElement] = useState<HTMLDivElement | null>(null);
  const size: Size = { width: photo.widthPx, height: photo.heightPx };
  const canvas = useElementSize(element);
  useLayoutEffect(() => setElement(frame.current), []);
  const [moved, setMoved] = useState<View | null>(null);
  const [zooming, setZooming] = useState(false);
  const first = () => (lookAtPx ? fitAround(lookAtPx, size, canvas) : fitView(size, canvas));
  const view = moved ?? first();
  // Several gestures may come between two pictures: each starts from where the last one left the view.
  const change = (next: (view: View) => View) => setMoved((before) => next(before ?? first()));
  const zoom = (factor: number, at: readonly [number, number] = [canvas.width / 2, canvas.height / 2]) =>
    change((before) => zoomAbout(before, factor, at, size, canvas));
  const inFrame = ([x, y]: readonly [number, number]) => {
    const box = frame.current?.getBoundingClientRect();
    return [x - (box?.left ?? 0), y - (box?.top ?? 0)] as const;
  };

  const brushed = useRef<ImagePoint[]>([]);
  useGesture(
    {
      onDrag: ({ delta, tap, xy, first, last, pinching, event, cancel }) => {
        if (pinching) return cancel();
        if ((event.target as Element).closest('.handle')) return;
        if (onBrush) {
          brushed.current = [...(first ? [] : brushed.current), imageFromScreen(view, inFrame(xy))];
          if (last) onBrush.done(brushed.current, view);
          else onBrush.move(brushed.current);
        } else if (tap) {
          // else the click that follows a touch answers what the tap has just asked, under the same finger
          if (event.cancelable) event.preventDefault();
          onTap?.(imageFromScreen(view, inFrame(xy)));
        } else change((before) => panBy(before, delta, size, canvas));
      },
      onPinchStart: () => setZooming(true),
      onPinchEnd: () => setZooming(false),
      onPinch: ({ origin, movement: [factor], memo }) => {
        const start: View = memo ?? view;
        const at = inFrame(origin);
        setMoved(zoomAbout(start, factor, at, size, canvas));
        return start;
      },
      onWheel: ({ event, delta: [, down], ctrlKey }) => {
        if (ctrlKey) return;
        event.preventDefault();
        zoom(Math.exp(-down / 400), inFrame([event.clientX, event.clientY]));
      },
    },
    {
      target: frame,
      eventOptions: { passive: false },
      drag: { filterTaps: true, pointer: { touch: true } },
    },
  );

  const box = `${view.originPx[0]} ${view.originPx[1]} ${canvas.width / view.scale} ${canvas.height / view.scale}`;
  return (
    <div className="photo-canvas">
      <div className="photo-canvas__frame" ref={frame}>
        {canvas.width > 0 && (
          <svg viewBox={box} width={canvas.width} height={canvas.height} role="img" aria-label={text.canvasLabel}>
            {url ? (
              <image
                href={url}
                x={-0.5}
                y={-0.5}
                width={photo.widthPx}
                height={photo.heightPx}
                preserveAspectRatio="none"
              />
            ) : (
              <rect x={-0.5} y={-0.5} width={photo.widthPx} height={photo.heightPx} className="photo-canvas__blank" />
            )}
            {drawing}
          </svg>
        )}
        {canvas.width > 0 && children(view, zooming, canvas)}
      </div>
      <div className="photo-canvas__zoom">
        {tools}
        <button
          type="button"
          className="button button--icon"
          onClick={() => zoom(BUTTON_ZOOM)}
          aria-label={text.zoomIn}
        >
          <Icon name="plus" />
        </button>
        <button
          type="button"
          className="button button--icon"
          onClick={() => zoom(1 / BUTTON_ZOOM)}
          aria-label={text.zoomOut}
        >
          <Icon name="minus" />
        </button>
        <button
          type="button"
          className="button button--icon"
          onClick={() => setMoved(fitView(size, canvas))}
          aria-label={text.fit}
        >
          <Icon name="whole" />
        </button>
      </div>
    </div>
  );
}
