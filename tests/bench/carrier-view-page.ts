/** Timed inside a headless browser by carrier-view-bench.ts. */
import { type CarrierGeometry, carrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import type { Plan } from '../../sizing/plan.ts';
import { CarrierScene, STAGE_LIGHT } from '../../web/carrier-view/carrier-scene.ts';
import { START, turntableView } from '../../web/carrier-view/projection.ts';
import { stageExtent } from '../../web/carrier-view/stage-extent.ts';
import { linearRgb } from '../../web/carrier-view/yarn-colours.ts';
import { movingDetail, restingDetail } from '../../web/carrier-view/yarn-mesh.ts';

/** What the page falls to where frames are slow (CarrierCanvas.tsx). */
const MOVING_SHARPNESS = 0.5;
const SIZE = { widthPx: 390, heightPx: 600 };

let scene: CarrierScene | null = null;
let shown: { readonly plan: Plan; readonly carrier: CarrierGeometry } | null = null;

/** From the plan to the first picture on screen, scene and shaders included; ms, and how many stitches. */
export function first(plan: Plan): { readonly stitches: number; readonly ms: number } {
  const canvas = document.createElement('canvas');
  document.body.replaceChildren(canvas);
  const ms = msOf(() => {
    scene = new CarrierScene(canvas, { antialias: false });
    scene.renderer.setSize(SIZE.widthPx, SIZE.heightPx, false);
    show(plan);
    draw(0, false);
  });
  return { stitches: shown?.carrier.stitches.length ?? 0, ms };
}

/** Frames of a turn, as coarse as under the hand; ms each. */
export function turn(frames: number): number[] {
  return Array.from({ length: frames }, (_, frame) => msOf(() => draw(frame * 0.05, true)));
}

/** Changed plans on the screen, drawn as they stay; ms each. */
export function change(plans: readonly Plan[]): number[] {
  return plans.map((plan) =>
    msOf(() => {
      show(plan);
      draw(0, false);
    }),
  );
}

function show(plan: Plan): void {
  shown = { plan, carrier: carrierGeometry(plan) };
  scene?.show(shown.carrier, plan.container);
}

function draw(turnRad: number, moving: boolean): void {
  if (!scene || !shown) return;
  scene.renderer.setPixelRatio(moving ? MOVING_SHARPNESS : 1);
  scene.renderer.setSize(SIZE.widthPx, SIZE.heightPx, false);
  const view = turntableView({ ...START, turnRad }, stageExtent(shown.plan, shown.carrier), SIZE);
  const look = { yarn: linearRgb('#2f6f5e'), light: STAGE_LIGHT, setting: { place: 'stage' } } as const;
  scene.render(view, look, (moving ? movingDetail : restingDetail)(shown.carrier));
  finished(scene);
}

/** Reading a pixel waits until all is drawn. */
function finished(scene: CarrierScene): void {
  const gl = scene.renderer.getContext();
  gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
}

function msOf(work: () => void): number {
  const began = performance.now();
  work();
  return performance.now() - began;
}
