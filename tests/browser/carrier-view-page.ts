/** Runs inside the browser for carrier-view.test.ts. */
import type { Container } from '../../sizing/container.ts';
import { carrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import type { Plan } from '../../sizing/plan.ts';
import type { PhotoView } from '../../vision/measurement.ts';
import { CarrierScene, STAGE_LIGHT } from '../../web/carrier-view/carrier-scene.ts';
import type { Section } from '../../web/carrier-view/container-mesh.ts';
import { photoView, START, turntableView } from '../../web/carrier-view/projection.ts';
import { stageExtent } from '../../web/carrier-view/stage-extent.ts';
import { linearRgb } from '../../web/carrier-view/yarn-colours.ts';
import { COARSE, FINE } from '../../web/carrier-view/yarn-mesh.ts';

const LOOK = { yarn: linearRgb('#2f6f5e'), light: STAGE_LIGHT, setting: { place: 'stage' } } as const;

export interface Left {
  readonly geometries: number;
  readonly textures: number;
  readonly programs: number;
  readonly inUse: number;
}

/** Shows plans one after the other in one scene, then takes the scene down: what is left on the graphics card. */
export function openMany(plans: readonly Plan[], times: number): Left {
  const canvas = document.createElement('canvas');
  const scene = new CarrierScene(canvas, { antialias: false });
  scene.renderer.setSize(60, 80, false);
  let inUse = 0;
  for (let k = 0; k < times; k++) {
    const plan = plans[k % plans.length];
    const carrier = carrierGeometry(plan);
    scene.show(carrier, plan.container);
    const view = turntableView(START, stageExtent(plan, carrier), { widthPx: 60, heightPx: 80 });
    scene.render(view, LOOK, COARSE);
    if (k % 10 === 0) scene.render(view, LOOK, FINE);
    inUse = Math.max(inUse, scene.renderer.info.memory.geometries);
  }
  scene.dispose();
  const { memory, programs } = scene.renderer.info;
  return { geometries: memory.geometries, textures: memory.textures, programs: programs?.length ?? 0, inUse };
}

/** The bare container drawn through a photo's camera, in a window of the photo at its full scale. */
export function bareContainer(
  view: PhotoView,
  container: Container,
  section: Section,
  window: { readonly leftPx: number; readonly topPx: number; readonly widthPx: number; readonly heightPx: number },
): string {
  const canvas = document.createElement('canvas');
  const scene = new CarrierScene(canvas, { antialias: false, keep: true });
  const { leftPx, topPx, widthPx, heightPx } = window;
  scene.renderer.setPixelRatio(1);
  scene.renderer.setSize(widthPx, heightPx, false);
  scene.show({ stitches: [], yarnDiameterMm: 2, bottomMm: 0, topMm: 0, reachMm: 0 }, container, section);
  const { camera } = view;
  const moved = { ...camera, centreXPx: camera.centreXPx - leftPx, centreYPx: camera.centreYPx - topPx };
  scene.render(photoView({ ...view, camera: moved }, { widthPx, heightPx }, 0), LOOK, COARSE);
  const url = canvas.toDataURL('image/png');
  scene.dispose();
  return url;
}

export { stageText } from '../../web/carrier-view/picture-page.ts';
