import type { Container } from '../../sizing/container.ts';
import { carrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import type { Plan } from '../../sizing/plan.ts';
import { CarrierScene, STAGE_LIGHT } from './carrier-scene.ts';
import { type CarrierPhoto, glance, lookIn, lookOfPhoto, sectionIn } from './photo-look.ts';
import { MAT_START, photoView, START, type Turn, turntableView } from './projection.ts';
import { stageExtent } from './stage-extent.ts';
import { linearRgb } from './yarn-colours.ts';
import { FINE } from './yarn-mesh.ts';

/** Longest side a picture may have: what every WebGL 2 gives at least (maximum render size of the standard). */
export const LONGEST_PX = 2048;

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
    scene.show(carrier, container);
    const start = plan.carrier === 'mat' ? MAT_START : START;
    const view = turntableView({ ...start, ...turn }, stageExtent(plan, carrier), { widthPx: width, heightPx: height });
    scene.render(view, { yarn: linearRgb(colour), light: STAGE_LIGHT, setting: { place: 'stage' } }, FINE);
    return await pngOf(canvas, background);
  } finally {
    scene.dispose();
  }
}

/**
 * The same in a measured photo, through the camera that took it.
 * @param behind  how much of the far side shows through the container, 0 to 1
 * @returns PNG no larger than asked and than the picture given; null without WebGL or when the photo cannot be shown
 */
export async function carrierOnPhoto(
  plan: Plan,
  photo: CarrierPhoto,
  colour: string,
  { longSidePx = LONGEST_PX, behind = 0 }: { readonly longSidePx?: number; readonly behind?: number } = {},
): Promise<Blob | null> {
  const { view } = photo.measurement;
  const picture = await createImageBitmap(photo.blanked).catch(() => null);
  const pixels = picture && glance(picture);
  if (!view || !picture || !pixels) return null;
  const share = Math.min(1, Math.min(LONGEST_PX, longSidePx) / Math.max(picture.width, picture.height));
  const [width, height] = [picture.width, picture.height].map((px) => Math.round(px * share));
  const canvas = document.createElement('canvas');
  const scene = sceneOn(canvas, width, height);
  if (!scene) return null;
  try {
    scene.show(carrierGeometry(plan), plan.container, sectionIn(photo.measurement));
    const pictured = photoView(view, photo, 0);
    scene.render(pictured, lookIn(photo, pictured, lookOfPhoto(pixels, photo), { colour, behind }), FINE);
    return await pngOf(canvas, picture);
  } finally {
    picture.close();
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

function pngOf(canvas: HTMLCanvasElement, background: string | ImageBitmap | null): Promise<Blob | null> {
  const flat = document.createElement('canvas');
  flat.width = canvas.width;
  flat.height = canvas.height;
  const drawing = flat.getContext('2d');
  if (!drawing) return Promise.resolve(null);
  drawing.imageSmoothingQuality = 'high';
  if (background instanceof ImageBitmap) drawing.drawImage(background, 0, 0, flat.width, flat.height);
  else if (background) {
    drawing.fillStyle = background;
    drawing.fillRect(0, 0, flat.width, flat.height);
  }
  drawing.drawImage(canvas, 0, 0);
  return new Promise((resolve) => flat.toBlob(resolve, 'image/png'));
}
