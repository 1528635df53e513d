import type { ReactNode } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { screenFromImage, type View } from './view-transform.ts';

interface MagnifierProps {
  readonly url: string | null;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  readonly atPx: ImagePoint;
  /** The canvas under it. */
  readonly view: View;
  readonly children: ReactNode;
}

const SIZE_CSS = 132;
const CLEAR_OF_FINGER_CSS = 44;
/** At least this many times larger than on the canvas, and never less than two CSS px per photo px. */
const ENLARGED = 3;

/** What lies under the finger, enlarged, with the drawing on it. */
export function Magnifier({ url, photo, atPx, view, children }: MagnifierProps) {
  const glassScale = Math.max(ENLARGED * view.scale, 2);
  const sidePx = SIZE_CSS / glassScale;
  const [x, y] = screenFromImage(view, atPx);
  // Above the finger where there is room, else beside it; never under the hand.
  const above = y > SIZE_CSS + CLEAR_OF_FINGER_CSS;
  const left = above
    ? Math.max(4, x - SIZE_CSS / 2)
    : x > SIZE_CSS + CLEAR_OF_FINGER_CSS
      ? x - SIZE_CSS - CLEAR_OF_FINGER_CSS
      : x + CLEAR_OF_FINGER_CSS;
  const top = above ? y - SIZE_CSS - CLEAR_OF_FINGER_CSS : Math.max(4, y - SIZE_CSS / 2);
  const box = `${atPx[0] - sidePx / 2} ${atPx[1] - sidePx / 2} ${sidePx} ${sidePx}`;
  return (
    <svg
      className="magnifier"
      style={{ left, top }}
      viewBox={box}
      width={SIZE_CSS}
      height={SIZE_CSS}
      aria-hidden="true"
    >
      {url && (
        <image href={url} x={-0.5} y={-0.5} width={photo.widthPx} height={photo.heightPx} preserveAspectRatio="none" />
      )}
      {children}
      <g transform={`translate(${atPx[0]} ${atPx[1]}) scale(${1 / glassScale})`} className="magnifier__cross">
        <path d="M-20 0h14M6 0h14M0-20v14M0 6v14" />
      </g>
    </svg>
  );
}
