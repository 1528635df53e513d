import { type RefObject, useEffect, useRef, useState } from 'react';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import { type Hint, hintFor } from '../../vision/viewfinder/hint.ts';
import { BEGINNING, readiness, type Settling, settle } from '../../vision/viewfinder/settle.ts';
import { hasMoved, isDark, type Thumbnail } from '../../vision/viewfinder/thumbnail.ts';
import { useSettings } from '../app/use-settings.ts';
import { newPhotoId } from '../engine/measuring.ts';
import { useMeasuring } from '../engine/use-measuring.ts';
import { anyReferenceNamed } from '../reference/reference-named.ts';
import { drawFrame, frameOf, frameSize } from './camera.ts';

/** What the last look saw, in px of the frame it looked at. */
export interface Seen {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly result: MeasureResult;
  readonly hint: Hint | null;
  /** 0 to 1; at 1 the picture takes itself. */
  readonly readiness: number;
}

/** The engine works at about 1000 px; more only costs time. */
const FRAME_LONG_SIDE_PX = 1280;
const FRAME_QUALITY = 0.9;
const THUMBNAIL_LONG_SIDE_PX = 64;
/** Apart enough for movement to show, short enough for none to matter that does not blur. */
const MOVEMENT_MS = 100;
/** Between two looks: nothing while the picture changes, some rest when three looks in a row saw the same. */
const BREATH_MS = 30;
const REST_MS = 1000;
const SAME_LOOKS = 3;

/** Looks through the camera again and again, one look at a time, and says what to change. Nothing of it is kept. */
export function useLooks(live: RefObject<HTMLVideoElement | null>, tapPx: ImagePoint | null): Seen | null {
  const measuring = useMeasuring();
  const { reference } = useSettings();
  const [seen, setSeen] = useState<Seen | null>(null);
  const tap = useRef(tapPx);
  tap.current = tapPx;

  useEffect(() => {
    const over = new AbortController();
    let settling: Settling = BEGINNING;
    let same = 0;

    const look = async (revision: number) => {
      const video = live.current;
      if (!video || document.visibilityState !== 'visible') return;
      const before = thumbnailOf(video);
      await new Promise((resolve) => setTimeout(resolve, MOVEMENT_MS));
      const now = thumbnailOf(video);
      const source = await frameOf(video, FRAME_LONG_SIDE_PX, FRAME_QUALITY);
      if (!source || over.signal.aborted) return;
      const isMoving = before !== null && now !== null && hasMoved(before, now);
      const known = reference === null ? null : anyReferenceNamed(reference);
      const answer = await measuring.measure(
        {
          photo: { id: newPhotoId(), source },
          job: 'viewfinder',
          revision,
          options: {
            atAGlance: true,
            ...(known && { reference: known }),
            ...(tap.current && { tapPx: inFrame(tap.current, video) }),
          },
        },
        NEVER,
        () => {},
      );
      // what cannot be answered now is not asked again at once
      if (!answer.ok) same = SAME_LOOKS;
      if (over.signal.aborted || !answer.ok) return;
      const { result } = answer;
      const { widthPx, heightPx } = frameSize(video, FRAME_LONG_SIDE_PX);
      const hint = hintFor(result, { widthPx, heightPx, isMoving, isDark: now !== null && isDark(now) });
      settling = settle(settling, result, isMoving);
      same = isMoving ? 0 : same + 1;
      setSeen({ widthPx, heightPx, result, hint, readiness: readiness(settling, hint) });
    };
    const goOn = async () => {
      for (let revision = 0; !over.signal.aborted; revision++) {
        await look(revision);
        const pause = same >= SAME_LOOKS ? REST_MS : BREATH_MS;
        await new Promise((resolve) => setTimeout(resolve, pause));
      }
    };
    void goOn();
    return () => over.abort();
  }, [live, measuring, reference]);

  return seen;
}

/** Stopping a look would stop the engine, and the picture is measured by it next. */
const NEVER = new AbortController().signal;

/** A tap in shares of the live picture. */
function inFrame([x, y]: ImagePoint, video: HTMLVideoElement): ImagePoint {
  const { widthPx, heightPx } = frameSize(video, FRAME_LONG_SIDE_PX);
  return [x * widthPx, y * heightPx];
}

function thumbnailOf(video: HTMLVideoElement): Thumbnail | null {
  const drawn = drawFrame(video, THUMBNAIL_LONG_SIDE_PX);
  const pixels = drawn?.getContext('2d')?.getImageData(0, 0, drawn.width, drawn.height);
  return pixels ? { widthPx: pixels.width, heightPx: pixels.height, rgba: pixels.data } : null;
}
