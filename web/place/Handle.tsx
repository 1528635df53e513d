import { useDrag } from '@use-gesture/react';
import type { KeyboardEvent } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { useText } from '../text/text.ts';
import { imageFromScreen, type ScreenPoint, screenFromImage, type View } from './view-transform.ts';

interface HandleProps {
  readonly atPx: ImagePoint;
  /** Where the target lies when there is no room for it at the point itself. */
  readonly atCss?: ScreenPoint | undefined;
  readonly view: View;
  /** Stays where it is: the finger on it is one of two that zoom. */
  readonly held: boolean;
  readonly label: string;
  readonly kind: 'card' | 'outline' | 'solid' | 'tap';
  /** While moving; the point is where the handle would be. */
  readonly onMove: (toPx: ImagePoint) => void;
  /** Moving ended there; null when it was called off. */
  readonly onDone: (toPx: ImagePoint | null) => void;
  readonly onEnter?: () => void;
  readonly onDelete?: (() => void) | undefined;
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/**
 * A point of the drawing that can be dragged, or moved by arrow keys: one photo px, with Shift ten.
 * It is thumb-sized at any zoom (check.css).
 */
export function Handle(props: HandleProps) {
  const { atPx, atCss, view, held, label, kind, onMove, onDone, onEnter, onDelete } = props;
  const text = useText().check;
  const bind = useDrag(
    ({ last, canceled, xy, initial, memo, event, tap, cancel }) => {
      event.stopPropagation();
      // a handle that had to step aside goes where the finger goes, as the others do
      const start: ImagePoint = memo ?? (atCss ? imageFromScreen(view, atCss) : atPx);
      // not `movement`, which leaves out the first 3 px, those that tell a drag from a tap
      const to: ImagePoint = [
        start[0] + (xy[0] - initial[0]) / view.scale,
        start[1] + (xy[1] - initial[1]) / view.scale,
      ];
      if (held && !canceled) cancel();
      else if (canceled || tap) onDone(null);
      else if (last) onDone(to);
      else onMove(to);
      return start;
    },
    { filterTaps: true, pointer: { capture: true, keys: false }, preventDefault: true },
  );
  const nudge = (event: KeyboardEvent) => {
    if (event.key === 'Enter') onEnter?.();
    if (event.key === 'Delete') onDelete?.();
    const arrow = ARROWS[event.key];
    if (!arrow) return;
    event.preventDefault();
    const step = event.shiftKey ? 10 : 1;
    onDone([atPx[0] + arrow[0] * step, atPx[1] + arrow[1] * step]);
  };
  const [left, top] = atCss ?? screenFromImage(view, atPx);
  return (
    <button
      type="button"
      {...bind()}
      className={`handle handle--${kind}`}
      style={{ transform: `translate(${left}px, ${top}px)` }}
      aria-label={label}
      aria-roledescription={text.handleRole}
      onKeyDown={nudge}
    />
  );
}
