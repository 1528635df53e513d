import type { ReactNode } from 'react';
import type { ImagePoint } from '../../vision/frames.ts';

interface MagnifierProps {
  readonly url: string | null;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  readonly atPx: ImagePoint;
  /** CSS px per photo px of the canvas under it. */
  readonly scale: number;
  /** The point is on the left half of the screen, so the glass goes to the right. */
  readonly onRight: boolean;
  readonly children: ReactNode;
}

const SIZE_CSS = 132;
/** At least this many times larger than on the canvas, and never less than two CSS px per photo px. */
const ENLARGED = 3;

/** What lies under the finger, enlarged, with the drawing on it. */
export function Magnifier({ url, photo, atPx, scale, onRight, children }: MagnifierProps) {
  const glassScale = Math.max(ENLARGED * scale, 2);
  const sidePx = SIZE_CSS / glassScale;
  const box = `${atPx[0] - sidePx / 2} ${atPx[1] - sidePx / 2} ${sidePx} ${sidePx}`;
  return (
    <svg
      className={`magnifier ${onRight ? 'magnifier--right' : ''}`}
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
