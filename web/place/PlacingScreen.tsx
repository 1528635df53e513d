import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { Activity } from '../app/app-state.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import './check.css';
import { PlacePhoto, type PlacePhotoProps } from './PlacePhoto.tsx';
import type { Placed } from './placing.ts';

/** Something on the photo that she can point out, with a tap or with the keyboard. */
export interface Pointing {
  /** On the button. */
  readonly label: string;
  readonly hint: string;
  /** On the point itself. */
  readonly handle: string;
  readonly onPoint: (atPx: ImagePoint) => void;
}

type InPhoto = Pick<
  PlacePhotoProps,
  | 'cornersPx'
  | 'isRound'
  | 'rimPx'
  | 'solid'
  | 'shoulderZMm'
  | 'outlinePx'
  | 'handleCount'
  | 'doubtPx'
  | 'othersPx'
  | 'hand'
  | 'lookAtPx'
  | 'basePx'
>;

/** What is known of the photo on this screen. */
export interface Shown<Result> {
  /** Of the last answer, or of a later one while a point is held. */
  readonly result: Result | null;
  /** Only the later one. */
  readonly live: Result | null;
  /** Something changed since, and is being measured. */
  readonly isOld: boolean;
}

export interface PlacingScreenProps<Result> {
  /** Null when the picture was not kept. */
  readonly url: string | null;
  readonly photo: { readonly widthPx: number; readonly heightPx: number };
  /** The photo itself is at hand, for the engine to look at again. */
  readonly canSearch: boolean;
  readonly activity: Activity;
  /** The last answer. */
  readonly found: Result | null;
  /** What is drawn over the photo and can be moved. */
  readonly inPhoto: (shown: Shown<Result>) => InPhoto;
  /** Measures while a point is held. */
  readonly follow: (placed: Placed, show: (result: Result) => void) => void;
  readonly onPlaced: (placed: Placed) => void;
  readonly onUndo: (() => void) | null;
  readonly onRedo: (() => void) | null;
  readonly points: readonly Pointing[];
  readonly onTap: ((atPx: ImagePoint) => void) | null;
  readonly onFindAgain: () => void;
  readonly onTryAgain: () => void;
  readonly onOtherPhoto: () => void;
  /** What to do, said on the photo. */
  readonly hint: (shown: Shown<Result>) => string | null;
  /** A word on the photo. */
  readonly says?: (shown: Shown<Result>) => ReactNode;
  /** Sign of work on the photo. */
  readonly busy: ReactNode;
  /** A question on the photo. */
  readonly asks?: ReactNode;
  readonly isDoubtful?: (shown: Shown<Result>) => boolean;
  /** How things are put right here, in a sentence. */
  readonly lead: string;
  /** Further ways to put them right. */
  readonly tools: ReactNode;
  /** What lies beside, and how it lies. */
  readonly beside: (shown: Shown<Result>) => ReactNode;
  /** Sizes, and all that the answer asks and says, over the fold. */
  readonly children: (shown: Shown<Result>, trouble: ReactNode) => ReactNode;
  /** Under the fold. */
  readonly folds?: ReactNode;
  readonly wayOn?: ReactNode;
}

/** The one screen for all that is placed on a photo: everything movable, what comes of it, and the ways to put it right. */
export function PlacingScreen<Result>(props: PlacingScreenProps<Result>) {
  const { photo, activity, found, points, canSearch } = props;
  const text = useText();
  const words = text.check;
  const { live, move, place } = useLive(props);
  const [aiming, setAiming] = useState<{ readonly label: string; readonly atPx: ImagePoint } | null>(null);
  const aimed = points.find(({ label }) => label === aiming?.label);
  const shown: Shown<Result> = {
    result: live ?? found,
    live,
    isOld: activity.kind === 'measuring' && found !== null,
  };
  const aimAt = (atPx: ImagePoint) => aiming && setAiming({ ...aiming, atPx });
  const pointOut = ({ onPoint }: Pointing, atPx: ImagePoint) => {
    setAiming(null);
    onPoint(atPx);
  };
  const toggle = (label: string) =>
    setAiming(aiming?.label === label ? null : { label, atPx: [photo.widthPx / 2, photo.heightPx / 2] });
  return (
    <div className="check">
      <div className="check__photo">
        <PlacePhoto
          {...props.inPhoto(shown)}
          url={props.url}
          photo={photo}
          answer={found}
          aim={
            aiming &&
            aimed && {
              atPx: aiming.atPx,
              label: aimed.handle,
              onMove: aimAt,
              onEnter: () => pointOut(aimed, aiming.atPx),
            }
          }
          hint={aimed?.hint ?? props.hint(shown)}
          says={activity.kind !== 'measuring' && props.says?.(shown)}
          onTap={aimed ? (atPx) => pointOut(aimed, atPx) : props.onTap}
          onMove={move}
          onPlaced={place}
          onUndo={props.onUndo}
          onRedo={props.onRedo}
        >
          {props.busy}
          {props.asks}
        </PlacePhoto>
      </div>
      <div className={`check__side stack ${props.isDoubtful?.(shown) ? 'check__side--doubt' : ''}`}>
        {props.children(shown, <Trouble {...props} />)}
        <div>
          <Fold title={words.fold} icon="tap">
            <p className="quiet">{props.lead}</p>
            <div className="check__tools">
              <button type="button" className="button" disabled={!canSearch} onClick={props.onFindAgain}>
                <Icon name="search" /> {words.findAgain}
              </button>
              {points.map(({ label }) => (
                <button
                  key={label}
                  type="button"
                  className="button"
                  disabled={!canSearch}
                  aria-pressed={aiming?.label === label}
                  onClick={() => toggle(label)}
                >
                  <Icon name="tap" /> {label}
                </button>
              ))}
              {props.tools}
            </div>
            {!canSearch && <p className="quiet small">{words.findAgainGone}</p>}
            {props.beside(shown)}
            <p className="quiet small">{words.canvasHelp}</p>
          </Fold>
          {props.folds}
        </div>
        {props.wayOn}
      </div>
    </div>
  );
}

/** Sizes that follow a held point, until the place where it was left has been measured. */
function useLive<Result>({ found, activity: { kind }, follow, onPlaced }: PlacingScreenProps<Result>) {
  const [live, setLive] = useState<Result | null>(null);
  // A live result that comes in after the point was let go is late and must not show.
  const holding = useRef(false);
  useEffect(() => {
    if (found && kind !== 'measuring' && !holding.current) setLive(null);
  }, [found, kind]);
  return {
    live,
    move(placed: Placed) {
      // a solid is measured when it is let go: its drawing follows by itself
      if (placed.hand) return;
      holding.current = true;
      if (found) follow(placed, (result) => holding.current && setLive(result));
    },
    place(placed: Placed) {
      holding.current = false;
      onPlaced(placed);
    },
  };
}

type TroubleProps = Pick<PlacingScreenProps<unknown>, 'activity' | 'onTryAgain' | 'onOtherPhoto'>;

function Trouble({ activity, onTryAgain, onOtherPhoto }: TroubleProps) {
  const text = useText().photo;
  if (activity.kind !== 'trouble') return null;
  return (
    <div className="stack stack--tight" role="alert">
      <Note kind="stop">{text.trouble[activity.reason]}</Note>
      <div className="row">
        {activity.reason !== 'photo-gone' && (
          <button type="button" className="button" onClick={onTryAgain}>
            {text.tryAgain}
          </button>
        )}
        <button type="button" className="button button--quiet" onClick={onOtherPhoto}>
          {text.otherPhoto}
        </button>
      </div>
    </div>
  );
}
