import { createUseGesture, dragAction, pinchAction } from '@use-gesture/react';
import { type KeyboardEvent, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { carrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import type { Plan } from '../../sizing/plan.ts';
import { useText } from '../text/text.ts';
import { useObjectUrl } from '../ui/use-object-url.ts';
import { CarrierScene, STAGE_LIGHT } from './carrier-scene.ts';
import { type CarrierPhoto, glance, lookIn, lookOfPhoto, type PhotoLook, sectionIn } from './photo-look.ts';
import { MAT_START, photoView, START, TILT_LIMITS, type Turn, turntableView, ZOOM_LIMITS } from './projection.ts';
import { stageExtent } from './stage-extent.ts';
import { linearRgb } from './yarn-colours.ts';
import { movingDetail, restingDetail } from './yarn-mesh.ts';

interface CarrierCanvasProps {
  readonly plan: Plan;
  readonly photo: CarrierPhoto | null;
  readonly colour: string;
  /** How much of the far side shows through the container in a photo, 0 to 1. */
  readonly behind: number;
  /** Share of the picture, from the left, that shows the carrier. */
  readonly shown: number;
  readonly label: string;
  readonly onNoWebGl: () => void;
}

const useGesture = createUseGesture([dragAction, pinchAction]);
const RAD_PER_PX = 0.011;
const RAD_PER_KEY = Math.PI / 12;
/** What follows a hand is drawn coarsely; this long after the last move it is drawn as it should be. */
const AT_REST_MS = 160;
/** Pixels drawn for each CSS px: at rest enough to smooth edges; in motion no more than the screen has, fewer if it is slow. */
const AT_REST = 2;
const FEWEST = 0.5;
/** A frame of a motion may take this long, ms; else the next are drawn with fewer pixels. */
const SLOW_MS = 45;
/** At first it turns a little to and fro, once, to say that it can be turned. */
const HELLO_MS = 2600;
const HELLO_RAD = 0.3;

/** The drawn carrier: turns under the hand or by keys, on a stage or over a photo. */
export default function CarrierCanvas(props: CarrierCanvasProps) {
  const { plan, photo, colour, behind, shown, label, onNoWebGl } = props;
  const words = useText().picture;
  const frame = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const scene = useRef<CarrierScene | null>(null);
  const carrier = useMemo(() => carrierGeometry(plan), [plan]);
  const start = plan.carrier === 'mat' ? MAT_START : START;
  const [turn, setTurn] = useState<Turn>(start);
  const photoUrl = useObjectUrl(photo?.blanked ?? null);
  const [photoLook, setPhotoLook] = useState<PhotoLook | null>(null);
  const [size, setSize] = useState<readonly [number, number]>([0, 0]);
  const [moving, setMoving] = useState(false);
  const rest = useRef(0);

  // One scene for as long as the canvas is there: a canvas whose scene was disposed of never draws again.
  const noWebGl = useRef(onNoWebGl);
  noWebGl.current = onNoWebGl;
  useEffect(() => {
    if (!canvas.current) return;
    try {
      scene.current = new CarrierScene(canvas.current, { antialias: false });
    } catch {
      noWebGl.current();
      return;
    }
    return () => {
      scene.current?.dispose();
      scene.current = null;
    };
  }, []);

  useEffect(() => {
    if (!frame.current) return;
    const watch = new ResizeObserver(([entry]) => setSize([entry.contentRect.width, entry.contentRect.height]));
    watch.observe(frame.current);
    return () => watch.disconnect();
  }, []);

  useEffect(() => {
    scene.current?.show(carrier, plan.container, photo ? sectionIn(photo.measurement) : undefined);
  }, [carrier, plan.container, photo]);

  const inMotion = useRef({ ratio: 1, lastMs: 0 });
  const draw = useCallback(
    (at: Turn, moving: boolean) => {
      const [width, height] = size;
      if (!scene.current || width < 1 || height < 1) return;
      const detail = moving ? movingDetail(carrier) : restingDetail(carrier);
      const { renderer } = scene.current;
      const sharp = moving ? Math.min(1, window.devicePixelRatio) * paced(inMotion.current) : AT_REST;
      if (!moving) inMotion.current.lastMs = 0;
      if (renderer.getPixelRatio() !== sharp || renderer.domElement.width !== Math.floor(width * sharp)) {
        renderer.setPixelRatio(sharp);
        renderer.setSize(width, height, false);
      }
      if (photo?.measurement.view) {
        if (!photoLook) return;
        const view = photoView(photo.measurement.view, photo, at.turnRad);
        scene.current.render(view, lookIn(photo, view, photoLook, { colour, behind }), detail);
        return;
      }
      const view = turntableView(at, stageExtent(plan, carrier), { widthPx: width, heightPx: height });
      const look = { yarn: linearRgb(colour), light: STAGE_LIGHT, setting: { place: 'stage' } } as const;
      scene.current.render(view, look, detail);
    },
    [size, photo, photoLook, colour, behind, plan, carrier],
  );

  useEffect(() => {
    const next = requestAnimationFrame(() => draw(turn, moving));
    return () => cancelAnimationFrame(next);
  }, [draw, turn, moving]);

  const turnTo = useCallback((change: (turn: Turn) => Turn) => {
    setTurn((before) => within(change(before)));
    setMoving(true);
    window.clearTimeout(rest.current);
    rest.current = window.setTimeout(() => setMoving(false), AT_REST_MS);
  }, []);
  useEffect(() => () => window.clearTimeout(rest.current), []);
  useHello(photo ? null : turnTo, start);

  useGesture(
    {
      onDrag: ({ delta: [right, down], pinching, cancel }) => {
        if (pinching) return cancel();
        turnTo((before) => ({
          ...before,
          turnRad: before.turnRad - right * RAD_PER_PX,
          tiltRad: photo ? before.tiltRad : before.tiltRad + down * RAD_PER_PX * 0.6,
        }));
      },
      onPinch: ({ movement: [factor], memo }) => {
        const from: number = memo ?? turn.zoom;
        if (!photo) turnTo((before) => ({ ...before, zoom: from * factor }));
        return from;
      },
    },
    // its keys are ours: else every arrow would drag as well
    { target: frame, drag: { pointer: { touch: true, keys: false } } },
  );

  const byKey = (event: KeyboardEvent) => {
    const change = KEYS[event.key];
    if (!change) return;
    event.preventDefault();
    turnTo(event.key === 'Home' ? () => start : change);
  };

  const degrees = ((Math.round((turn.turnRad * 180) / Math.PI) % 360) + 360) % 360;
  const aspectRatio = photo ? `${photo.widthPx} / ${photo.heightPx}` : undefined;
  return (
    <>
      <div className="carrier__frame">
        <div
          ref={frame}
          className={photo ? 'carrier__photo' : 'carrier__stage'}
          style={{ aspectRatio }}
          role="slider"
          tabIndex={0}
          aria-label={label}
          aria-valuemin={0}
          aria-valuemax={359}
          aria-valuenow={degrees}
          aria-valuetext={words.turned(degrees)}
          onKeyDown={byKey}
        >
          {photo && photoUrl && (
            <img
              src={photoUrl}
              alt=""
              draggable={false}
              onLoad={({ currentTarget }) => {
                const pixels = glance(currentTarget);
                if (pixels) setPhotoLook(lookOfPhoto(pixels, photo));
              }}
            />
          )}
          <canvas ref={canvas} style={{ clipPath: shown < 1 ? `inset(0 ${100 * (1 - shown)}% 0 0)` : undefined }} />
        </div>
      </div>
      <div className="row row--apart carrier__hint">
        <p className="quiet small">{words.howTo}</p>
        <button
          type="button"
          className="button button--quiet"
          // Keeps its room, so that nothing moves when it is wanted.
          style={{ visibility: turn === start ? 'hidden' : undefined }}
          onClick={() => turnTo(() => start)}
        >
          {words.reset}
        </button>
      </div>
    </>
  );
}

const turned =
  (byRad: number, tiltRad = 0) =>
  (turn: Turn) => ({
    ...turn,
    turnRad: turn.turnRad + byRad,
    tiltRad: turn.tiltRad + tiltRad,
  });
const zoomed = (factor: number) => (turn: Turn) => ({ ...turn, zoom: turn.zoom * factor });
const KEYS: Readonly<Record<string, (turn: Turn) => Turn>> = {
  ArrowLeft: turned(-RAD_PER_KEY),
  ArrowRight: turned(RAD_PER_KEY),
  ArrowUp: turned(0, RAD_PER_KEY / 2),
  ArrowDown: turned(0, -RAD_PER_KEY / 2),
  '+': zoomed(1.25),
  '-': zoomed(0.8),
  Home: (turn) => turn,
};

/** Share of the screen's pixels that the next frame of a motion gets, by how long the last one took. */
function paced(motion: { ratio: number; lastMs: number }): number {
  const now = performance.now();
  const tookMs = motion.lastMs === 0 ? 0 : now - motion.lastMs;
  motion.lastMs = now;
  if (tookMs > SLOW_MS) motion.ratio = Math.max(FEWEST, motion.ratio * 0.8);
  return motion.ratio;
}

function within(turn: Turn): Turn {
  const clamped = (value: number, [min, max]: readonly [number, number]) => Math.min(max, Math.max(min, value));
  const tiltRad = clamped(turn.tiltRad, TILT_LIMITS);
  const zoom = clamped(turn.zoom, ZOOM_LIMITS);
  return tiltRad === turn.tiltRad && zoom === turn.zoom ? turn : { ...turn, tiltRad, zoom };
}

/** Sways once when it first comes into view, unless the maker asked for no movement. */
function useHello(turnTo: ((change: (turn: Turn) => Turn) => void) | null, start: Turn): void {
  const first = useRef(true);
  useEffect(() => {
    if (!turnTo || !first.current || window.matchMedia('(prefers-reduced-motion: reduce)').matches) return;
    first.current = false;
    const began = performance.now();
    let swayed = start;
    let next = requestAnimationFrame(function sway(now) {
      const share = Math.min(1, (now - began) / HELLO_MS);
      const turnRad = start.turnRad + HELLO_RAD * Math.sin(2 * Math.PI * share) * (1 - share);
      let goesOn = share < 1;
      turnTo((before) => {
        // a hand that turns it meanwhile ends the greeting
        if (before !== swayed) {
          goesOn = false;
          return before;
        }
        swayed = goesOn ? { ...start, turnRad } : start;
        return swayed;
      });
      if (goesOn) next = requestAnimationFrame(sway);
    });
    return () => cancelAnimationFrame(next);
  }, [turnTo, start]);
}
