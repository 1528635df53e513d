import { useEffect, useMemo, useReducer, useRef } from 'react';
import type { HandPlacement } from '../../vision/container/hand-placement.ts';
import type { SolidInView } from '../../vision/container/solid-in-view.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { View } from './view-transform.ts';

/** What lies over the photo. */
export interface Drawn {
  readonly cornersPx: CornersPx | null;
  /** The edge of flat work, or of a container that no solid is known of; closed. */
  readonly outlinePx: readonly ImagePoint[] | null;
  readonly solid: SolidInView | null;
}

/** What of it is placed by hand; the rest stays as found. */
export interface Placed {
  readonly cornersPx?: CornersPx;
  /** Standard uncertainty of what the finger left there, photo px. */
  readonly placementSdPx?: number;
  readonly outlinePx?: readonly ImagePoint[];
  readonly hand?: readonly HandPlacement[];
}

/** The one gesture there is: nothing, a finger on a handle, or let go and not yet measured. */
export type Gesture =
  | { readonly kind: 'idle' }
  | {
      readonly kind: 'held';
      readonly grip: string;
      readonly drawn: Drawn;
      readonly atPx: ImagePoint;
      readonly view: View;
    }
  | { readonly kind: 'settling'; readonly drawn: Drawn };

export type GestureEvent =
  | {
      readonly type: 'move';
      readonly grip: string;
      readonly drawn: Drawn;
      readonly atPx: ImagePoint;
      readonly view: View;
    }
  | { readonly type: 'let-go'; readonly drawn: Drawn }
  | { readonly type: 'call-off' }
  /** Something new was measured, or something old is shown again. */
  | { readonly type: 'measured' };

export function nextGesture(before: Gesture, event: GestureEvent): Gesture {
  switch (event.type) {
    case 'move': {
      // a second finger on another handle waits its turn
      if (before.kind === 'held' && before.grip !== event.grip) return before;
      const { type: _, ...held } = event;
      return { kind: 'held', ...held };
    }
    case 'let-go':
      return { kind: 'settling', drawn: event.drawn };
    case 'call-off':
      return { kind: 'idle' };
    case 'measured':
      return before.kind === 'settling' ? { kind: 'idle' } : before;
  }
}

/** A handle, whatever it belongs to: what is drawn while it is held, and what is placed when it is let go. */
export interface Grip {
  readonly id: string;
  readonly kind: 'solid' | 'card' | 'outline';
  readonly atPx: ImagePoint;
  readonly label: string;
  readonly drawnAt: (toPx: ImagePoint) => Drawn;
  readonly placedAt: (toPx: ImagePoint, view: View) => Placed;
}

interface PlacingOptions {
  /** As measured last. */
  readonly measured: Drawn;
  /** Changes with every measurement and every step back. */
  readonly answer: unknown;
  /** While a handle is held. */
  readonly onMove?: ((placed: Placed) => void) | undefined;
  readonly onPlaced: (placed: Placed) => void;
}

/** Holding and letting go, for everything that is placed on a photo. */
export function usePlacing({ measured, answer, onMove, onPlaced }: PlacingOptions) {
  const [gesture, send] = useReducer(nextGesture, { kind: 'idle' });
  // A drag starts from where things were when it began, so that errors never add up.
  const start = useRef<Grip | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new answer ends the wait for it
  useEffect(() => send({ type: 'measured' }), [answer]);
  const drawn = gesture.kind === 'idle' ? measured : gesture.drawn;
  const on = useMemo(
    () => ({
      move(grip: Grip, toPx: ImagePoint, view: View) {
        if (start.current?.id !== grip.id) start.current = grip;
        const from = start.current;
        send({ type: 'move', grip: grip.id, drawn: from.drawnAt(toPx), atPx: toPx, view });
        onMove?.(from.placedAt(toPx, view));
      },
      letGo(grip: Grip, toPx: ImagePoint | null, view: View) {
        const from = start.current?.id === grip.id ? start.current : grip;
        start.current = null;
        if (!toPx) return send({ type: 'call-off' });
        send({ type: 'let-go', drawn: from.drawnAt(toPx) });
        onPlaced(from.placedAt(toPx, view));
      },
    }),
    [onMove, onPlaced],
  );
  return { gesture, drawn, ...on };
}
