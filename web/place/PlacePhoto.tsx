import { type ReactNode, useEffect, useMemo, useRef, useState } from 'react';
import type { HandPlacement } from '../../vision/container/hand-placement.ts';
import type { SolidInView } from '../../vision/container/solid-in-view.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { useElementSize } from '../ui/use-element-size.ts';
import { evenlySpaced } from './bend-outline.ts';
import { Drawing } from './Drawing.tsx';
import { clearOfHandles, gripsOf, leftOut, type SaysAt, uncrowded } from './grips.ts';
import { Handle } from './Handle.tsx';
import { Magnifier } from './Magnifier.tsx';
import { PhotoCanvas } from './PhotoCanvas.tsx';
import { type Drawn, type Placed, usePlacing } from './placing.ts';
import { SolidDrawing } from './SolidDrawing.tsx';
import { screenFromImage, type View } from './view-transform.ts';
import './check.css';

/** Where a point stands that the maker aims with the keyboard, and what it is inside of, in words. */
export interface Aim {
  readonly atPx: ImagePoint;
  readonly label: string;
  readonly onMove: (toPx: ImagePoint) => void;
  readonly onEnter: () => void;
}

export interface PlacePhotoProps {
  /** Null when the picture was not kept. */
  readonly url: string | null;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  readonly cornersPx: CornersPx | null;
  /** The corners are those of the square about a coin or disc. */
  readonly isRound?: boolean;
  /** The rim of a coin or disc as found, to look at. */
  readonly rimPx?: readonly ImagePoint[] | null;
  /** The container; when it is there no outline is shown. */
  readonly solid?: SolidInView | null;
  readonly shoulderZMm?: number | null;
  readonly outlinePx: readonly ImagePoint[] | null;
  /** Points on the outline that can be moved; fewer for a small thing, so that each has room for a thumb. */
  readonly handleCount?: number;
  /** A stretch to look at once more. */
  readonly doubtPx?: readonly ImagePoint[] | null;
  /** Things that may be meant, to be outlined thinly. */
  readonly othersPx?: readonly (readonly ImagePoint[])[];
  /** What the maker has placed of the solid so far; null where nothing of the kind can be. */
  readonly hand?: readonly HandPlacement[] | null;
  /** What of the photo is in view at first; all of it when left out. */
  readonly lookAtPx?: readonly ImagePoint[] | undefined;
  /** Where the base of a lying container is, to be named; null when it is plain to see. */
  readonly basePx?: ImagePoint | null;
  /** The last answer: what was let go stays as it was drawn until another comes. */
  readonly answer: unknown;
  readonly aim?: Aim | null;
  /** What to do, said on the photo. */
  readonly hint?: string | null;
  readonly onTap?: ((pointPx: ImagePoint) => void) | null;
  /** While a handle is held. */
  readonly onMove?: ((placed: Placed) => void) | undefined;
  readonly onPlaced: (placed: Placed) => void;
  /** Null when there is nothing to take back or to do again. */
  readonly onUndo: (() => void) | null;
  readonly onRedo: (() => void) | null;
  /** A word on the photo, where it covers no handle. */
  readonly says?: ReactNode;
  /** Signs of work and questions, on the photo. */
  readonly children?: ReactNode;
}

/** A photo with what is drawn over it, to be put right by hand: the one place where anything is placed. */
export function PlacePhoto(props: PlacePhotoProps) {
  const { url, photo, cornersPx, isRound = false, solid = null, shoulderZMm = null, handleCount, hand = null } = props;
  const { aim = null, onTap = null, onMove, onPlaced, onUndo, onRedo } = props;
  const text = useText().check;
  const outlinePx = useMemo(() => props.outlinePx && evenlySpaced(props.outlinePx), [props.outlinePx]);
  const measured = useMemo<Drawn>(
    () => ({ cornersPx, outlinePx: solid ? null : outlinePx, solid }),
    [cornersPx, outlinePx, solid],
  );
  const { gesture, drawn, move, letGo } = usePlacing({ measured, answer: props.answer, onMove, onPlaced });
  const base = useRef(drawn);
  if (gesture.kind !== 'held') base.current = drawn;
  const from = base.current;
  const grips = useMemo(
    () => gripsOf(from, text, { shoulderZMm, hand: hand ?? [], isRound, handleCount }),
    [from, text, shoulderZMm, hand, isRound, handleCount],
  );
  // while a handle is held the word stays where it is
  const saysAt = useRef<SaysAt>('bottom-start');
  const [says, setSays] = useState<HTMLElement | null>(null);
  const saysSize = useElementSize(says);
  const [path, setPath] = useState<readonly ImagePoint[] | null>(null);
  const [isLeaving, setLeaving] = useState(false);
  useUndoKeys(onUndo, onRedo);

  const leave = (pathPx: readonly ImagePoint[], view: View) => {
    setPath(null);
    setLeaving(false);
    onPlaced({ hand: [...(hand ?? []), leftOut(pathPx, view)] });
  };
  const held = gesture.kind === 'held' ? gesture : null;
  const drawing = (
    <>
      {props.othersPx?.map((polygon) => (
        <polygon key={polygon[0].join()} points={polygon.map((p) => p.join()).join(' ')} className="drawing__other" />
      ))}
      {drawn.solid && <SolidDrawing solid={drawn.solid} />}
      <Drawing
        cornersPx={drawn.cornersPx}
        isRound={isRound}
        isFaceCovered={gesture.kind !== 'held'}
        rimPx={props.rimPx ?? null}
        outlinePx={drawn.outlinePx}
      />
      {props.doubtPx && gesture.kind === 'idle' && (
        <polyline points={props.doubtPx.map((p) => p.join()).join(' ')} className="drawing__doubt" />
      )}
      {[...(hand ?? []).flatMap((each) => (each.feature === 'left-out' ? [each.pathPx] : [])), path ?? []].map(
        (points, k) =>
          points.length > 0 && (
            <polyline
              key={`left-out-${k.toString()}`}
              points={[...points, points[points.length - 1]].map((p) => p.join()).join(' ')}
              className="drawing__left-out"
            />
          ),
      )}
    </>
  );
  const hint = isLeaving ? text.leaveOutHint : (props.hint ?? null);
  return (
    <div className="place-photo">
      <PhotoCanvas
        url={url}
        photo={photo}
        lookAtPx={props.lookAtPx}
        onTap={onTap}
        onBrush={isLeaving ? { move: setPath, done: leave } : null}
        drawing={drawing}
        tools={
          <>
            <ToolButton name="undo" label={text.undo} onClick={onUndo} />
            <ToolButton name="redo" label={text.redo} onClick={onRedo} />
            {hand && (
              <ToolButton
                name="leave"
                label={text.leaveOut}
                pressed={isLeaving}
                onClick={solid ? () => setLeaving(!isLeaving) : null}
              />
            )}
          </>
        }
      >
        {(view, zooming, canvas) => {
          const shown = uncrowded(grips, { view, canvas }, held?.grip ?? null);
          if (!held) saysAt.current = clearOfHandles(shown, canvas, saysSize);
          return (
            <>
              {props.says && (
                <div ref={setSays} className={`place-photo__says place-photo__says--${saysAt.current}`}>
                  {props.says}
                </div>
              )}
              {props.basePx && <BaseName atPx={props.basePx} view={view} />}
              {aim ? (
                <Handle
                  kind="tap"
                  atPx={aim.atPx}
                  view={view}
                  held={zooming}
                  label={aim.label}
                  onMove={aim.onMove}
                  onDone={(toPx) => toPx && aim.onMove(toPx)}
                  onEnter={aim.onEnter}
                />
              ) : (
                !isLeaving &&
                shown.map(({ grip, atCss }) => {
                  const isHeld = held?.grip === grip.id;
                  if (held && !isHeld) return null;
                  return (
                    <Handle
                      key={grip.id}
                      kind={grip.kind}
                      atPx={isHeld ? held.atPx : grip.atPx}
                      atCss={isHeld ? undefined : atCss}
                      view={view}
                      held={zooming}
                      label={grip.label}
                      onMove={(toPx) => move(grip, toPx, view)}
                      onDone={(toPx) => letGo(grip, toPx, view)}
                      onDelete={
                        grip.kind === 'solid' && grip.id.startsWith('wall') ? () => leave([grip.atPx], view) : undefined
                      }
                    />
                  );
                })
              )}
            </>
          );
        }}
      </PhotoCanvas>
      {hint && (
        <p className="place-photo__hint" role="status">
          {hint}
        </p>
      )}
      {props.children}
      {held && (
        <Magnifier url={url} photo={photo} atPx={held.atPx} view={held.view}>
          {drawing}
        </Magnifier>
      )}
    </div>
  );
}

interface ToolButtonProps {
  readonly name: 'undo' | 'redo' | 'leave';
  readonly label: string;
  readonly pressed?: boolean;
  readonly onClick: (() => void) | null;
}

function ToolButton({ name, label, pressed, onClick }: ToolButtonProps) {
  return (
    <button
      type="button"
      className="button button--icon"
      aria-label={label}
      title={label}
      aria-pressed={pressed}
      disabled={!onClick}
      onClick={() => onClick?.()}
    >
      <Icon name={name} />
    </button>
  );
}

/** Ctrl or Cmd with Z takes back, with Shift as well (or with Y) does again. */
function useUndoKeys(onUndo: (() => void) | null, onRedo: (() => void) | null) {
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      // a field takes back its own letters
      if (event.target instanceof Element && event.target.closest('input, textarea, select, [contenteditable]')) return;
      const key = event.key.toLowerCase();
      const act = key === 'y' || (key === 'z' && event.shiftKey) ? onRedo : key === 'z' ? onUndo : null;
      if (!act) return;
      event.preventDefault();
      act();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, [onUndo, onRedo]);
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
