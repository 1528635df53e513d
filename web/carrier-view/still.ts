import type { Container } from '../../sizing/container.ts';
import { carrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import type { Plan } from '../../sizing/plan.ts';
import { CarrierScene, STAGE_LIGHT } from './carrier-scene.ts';
import { MAT_START, START, type Turn, turntableView } from './projection.ts';
import { stageExtent } from './stage-extent.ts';
import { linearRgb } from './yarn-colours.ts';
import { FINE } from './yarn-mesh.ts';

/** Longest side a picture may have: what every WebGL 2 gives at least (maximum render size of the standard). */
const LONGEST_PX = 2048;

export interface StillOptions {
  readonly turn?: Partial<Turn>;
  /** CSS colour behind it; null leaves it clear. */
  readonly background?: string | null;
}

/**
 * A picture of a carrier on its container on a neutral stage.
 * @param colour  of the yarn, `#rrggbb`
 * @returns PNG of at most 2048 px; null when the browser has no WebGL
 */
export async function carrierStill(
  plan: Plan,
  container: Container,
  colour: string,
  sizePx: readonly [width: number, height: number],
  { turn = {}, background = null }: StillOptions = {},
): Promise<Blob | null> {
  const canvas = document.createElement('canvas');
  const share = Math.min(1, LONGEST_PX / Math.max(...sizePx));
  const [width, height] = sizePx.map((px) => Math.round(px * share));
  const scene = sceneOn(canvas, width, height);
  if (!scene) return null;
  try {
    const carrier = carrierGeometry(plan);
    scene.show(carrier, container, FINE);
    const start = plan.carrier === 'mat' ? MAT_START : START;
    const view = turntableView({ ...start, ...turn }, stageExtent(plan, carrier), { widthPx: width, heightPx: height });
    scene.render(view, { yarn: linearRgb(colour), light: STAGE_LIGHT, setting: { place: 'stage' } });
    return await pngOf(canvas, background);
  } finally {
    scene.dispose();
  }
}

/** A scene for one picture; null without WebGL. */
export function sceneOn(canvas: HTMLCanvasElement, widthPx: number, heightPx: number): CarrierScene | null {
  try {
    const scene = new CarrierScene(canvas, { antialias: true, keep: true });
    scene.renderer.setPixelRatio(1);
    scene.renderer.setSize(widthPx, heightPx, false);
    return scene;
  } catch {
    return null;
  }
}

function pngOf(canvas: HTMLCanvasElement, background: string | null): Promise<Blob | null> {
  const flat = document.createElement('canvas');
  flat.width = canvas.width;
  flat.height = canvas.height;
  const drawing = flat.getContext('2d');
  if (!drawing) return Promise.resolve(null);
  if (background) {
    drawing.fillStyle = background;
    drawing.fillRect(0, 0, flat.width, flat.height);
  }
  drawing.drawImage(canvas, 0, 0);
  return new Promise((resolve) => flat.toBlob(resolve, 'image/png'));
}
