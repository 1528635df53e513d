import { useMemo, useRef, useState } from 'react';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { Edits } from '../app/app-state.ts';
import { useText } from '../text/text.ts';
import { bendOutline, evenlySpaced, handleIndices } from './bend-outline.ts';
import { Drawing } from './Drawing.tsx';
import { Handle } from './Handle.tsx';
import { Magnifier } from './Magnifier.tsx';
import { PhotoCanvas } from './PhotoCanvas.tsx';
import { snapStretch } from './snap-stretch.ts';
import { snapCorner } from './snap-to-edge.ts';
import type { ReadGreyPatch } from './use-grey-patch.ts';
import type { JobWork } from './use-job.ts';
import { screenFromImage, type View } from './view-transform.ts';

/** What of the drawing is placed by hand; the rest stays as found. */
export type Placed = Partial<Pick<Edits, 'cornersPx' | 'outlinePx' | 'tapPx'>>;

interface OutlineEditorProps {
  readonly url: string | null;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  readonly cornersPx: CornersPx | null;
  /** The corners are those of the square about a coin or disc; nothing in the photo is there for them to jump to. */
  readonly isRound?: boolean;
  /** The rim of a coin or disc as found, to look at. */
  readonly rimPx?: readonly ImagePoint[] | null;
  readonly outlinePx: readonly ImagePoint[] | null;
  readonly fittedPx: readonly ImagePoint[] | null;
  /** Where the tap point stands while the maker says which container she means; null otherwise. */
  readonly tapPx: ImagePoint | null;
  /** What that point is inside of, in words; the container when left out. */
  readonly tapLabel?: string | undefined;
  /** Points on the outline that can be moved; fewer for a small thing, so that each has room for a thumb. */
  readonly handleCount?: number;
  /** What of the photo is in view at first; all of it when left out. */
  readonly lookAtPx?: readonly ImagePoint[] | undefined;
  /** Where the base of a lying container is, to be named; null when it is plain to see. */
  readonly basePx: ImagePoint | null;
  /** While a point is dragged. */
  readonly onChange: (placed: Placed) => void;
  /** A point was let go, nudged or set; null calls the drag off. */
  readonly onDone: (placed: Placed | null) => void;
  /** The photo, whose edges a corner let go nearby jumps to; null when switched off. */
  readonly readPhoto: ReadGreyPatch | null;
  /** Lays an outline onto the photo's edges nearby; null when switched off. */
  readonly snapOutline: JobWork['snapOutline'] | null;
}

/** What was let go beside an edge of the photo, laid onto it. */
type Snap = (placed: Placed, reachPx: number) => Promise<Placed>;

/** Room around the points for the strips that are compared. */
const SNAP_MARGIN_PX = 12;

/** A point let go this close to an edge, on screen, jumps onto it. */
const SNAP_REACH_CSS = 12;

/** Card corners and outline points on the photo. Controlled: it draws what it is given and reports what the hand does. */
export function OutlineEditor(props: OutlineEditorProps) {
  const { handleCount, isRound = false } = props;
  const { url, photo, cornersPx, fittedPx, tapPx, basePx, onChange, onDone, readPhoto, snapOutline } = props;
  const text = useText().check;
  const cornerNames = isRound ? text.coin.corner : text.corner;
  const outlinePx = useMemo(() => props.outlinePx && evenlySpaced(props.outlinePx), [props.outlinePx]);
  const [grip, setGrip] = useState<{ readonly atPx: ImagePoint; readonly view: View } | null>(null);
  // While a point is dragged the outline bends from where it was when the drag began, so errors never add up.
  const [held, setHeld] = useState<readonly ImagePoint[] | null>(null);
  // A point taken up while the last one is still on its way to an edge carries that one along as it was left.
  const drags = useRef(0);
  const handles = useMemo(
    () => (outlinePx ? handleIndices(held ?? outlinePx, handleCount) : []),
    [outlinePx, held, handleCount],
  );

  const report = (placed: (toPx: ImagePoint) => Placed, snapped: Snap, view: View) => ({
    onMove: (toPx: ImagePoint) => {
      if (!grip) drags.current += 1;
      setGrip({ atPx: toPx, view });
      setHeld((before) => before ?? outlinePx);
      onChange(placed(toPx));
    },
    onDone: (toPx: ImagePoint | null) => {
      setGrip(null);
      setHeld(null);
      if (!toPx) return onDone(null);
      if (!grip) return onDone(placed(toPx));
      const turn = drags.current;
      snapped(placed(toPx), SNAP_REACH_CSS / view.scale).then((snapped) => turn === drags.current && onDone(snapped));
    },
  });

  const withCorner = (corner: number) => (toPx: ImagePoint) => ({
    cornersPx: (cornersPx as CornersPx).map((point, k) => (k === corner ? toPx : point)) as unknown as CornersPx,
  });
  const withBend = (which: number) => (toPx: ImagePoint) => {
    const from = held ?? (outlinePx as readonly ImagePoint[]);
    const [x, y] = from[handles[which]];
    return { outlinePx: bendOutline(from, handles, which, [toPx[0] - x, toPx[1] - y]) };
  };

  const snapTo =
    (corner: number): Snap =>
    async (placed, reachPx) => {
      const quad = placed.cornersPx;
      const sides = [(corner + 3) % 4, corner, (corner + 1) % 4].flatMap((k) => (quad ? [quad[k]] : []));
      const patch = isRound ? null : readPhoto?.(sides, reachPx + SNAP_MARGIN_PX);
      return patch && quad ? withCorner(corner)(snapCorner(patch, quad, corner, reachPx)) : placed;
    };
  const snapBend =
    (which: number): Snap =>
    async (placed, reachPx) => {
      const edgePx = placed.outlinePx && (await snapOutline?.(placed.outlinePx, reachPx));
      return edgePx && placed.outlinePx
        ? { outlinePx: snapStretch(placed.outlinePx, edgePx, handles, which, reachPx) }
        : placed;
    };

  const drawing = (
    <Drawing
      cornersPx={cornersPx}
      isRound={isRound}
      rimPx={props.rimPx ?? null}
      outlinePx={outlinePx}
      fittedPx={fittedPx}
    />
  );
  return (
    <>
      <PhotoCanvas
        url={url}
        photo={photo}
        lookAtPx={props.lookAtPx}
        onTap={tapPx ? (pointPx) => onDone({ tapPx: pointPx }) : null}
        drawing={drawing}
      >
        {(view, zooming) => (
          <>
            {basePx && <BaseName atPx={basePx} view={view} />}
            {tapPx ? (
              <Handle
                kind="tap"
                atPx={tapPx}
                view={view}
                held={zooming}
                label={props.tapLabel ?? text.tapHandle}
                onMove={(toPx) => onChange({ tapPx: toPx })}
                onDone={(toPx) => toPx && onChange({ tapPx: toPx })}
                onEnter={() => onDone({ tapPx })}
              />
            ) : (
              <>
                {outlinePx &&
                  handles.map((index, which) => (
                    <Handle
                      key={`outline-${which.toString()}`}
                      kind="outline"
                      atPx={outlinePx[index]}
                      view={view}
                      held={zooming}
                      label={text.outlineHandle(which + 1, handles.length)}
                      {...report(withBend(which), snapBend(which), view)}
                    />
                  ))}
                {cornersPx?.map((cornerPx, k) => (
                  <Handle
                    key={cornerNames[k]}
                    kind="card"
                    atPx={cornerPx}
                    view={view}
                    held={zooming}
                    label={cornerNames[k]}
                    {...report(withCorner(k), snapTo(k), view)}
                  />
                ))}
              </>
            )}
          </>
        )}
      </PhotoCanvas>
      {grip && (
        <Magnifier url={url} photo={photo} atPx={grip.atPx} view={grip.view}>
          {drawing}
        </Magnifier>
      )}
    </>
  );
}

/** Names the end that is taken for the base. */
function BaseName({ atPx, view }: { readonly atPx: ImagePoint; readonly view: View }) {
  const [left, top] = screenFromImage(view, atPx);
  return (
    <span className="base-name" style={{ transform: `translate(${left}px, ${top}px)` }}>
      {useText().check.baseHere}
    </span>
  );
}
