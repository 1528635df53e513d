import type { Plan } from '../../sizing/plan.ts';
import { INK, PAPER } from '../ui/palette.ts';
import type { CarrierPhoto } from './photo-look.ts';
import { carrierOnPhoto, carrierStill } from './still.ts';

const WIDTH_PX = 1200;
const MARGIN_PX = 60;
const LINE_PX = 64;

/**
 * The carrier with a few words under it. The photo in it is the covered one, and all is drawn anew: no card and no
 * metadata go with it.
 * @returns PNG 1200 px wide; null without WebGL
 */
export async function customerPicture(
  plan: Plan,
  photo: CarrierPhoto | null,
  colour: string,
  lines: readonly string[],
): Promise<Blob | null> {
  const picture = photo
    ? await carrierOnPhoto(plan, photo, colour)
    : await carrierStill(plan, plan.container, colour, [WIDTH_PX, 1500], { background: PAPER });
  const bitmap = picture && (await createImageBitmap(picture));
  const canvas = document.createElement('canvas');
  const drawing = canvas.getContext('2d');
  if (!bitmap || !drawing) return null;
  const heightPx = Math.round((bitmap.height * WIDTH_PX) / bitmap.width);
  canvas.width = WIDTH_PX;
  canvas.height = heightPx + 2 * MARGIN_PX + lines.length * LINE_PX;
  drawing.fillStyle = PAPER;
  drawing.fillRect(0, 0, canvas.width, canvas.height);
  drawing.imageSmoothingQuality = 'high';
  drawing.drawImage(bitmap, 0, 0, WIDTH_PX, heightPx);
  bitmap.close();
  drawing.fillStyle = INK;
  drawing.textBaseline = 'top';
  lines.forEach((line, k) => {
    drawing.font =
      k === 0 ? '700 48px "Bricolage Grotesque", sans-serif' : '34px "Atkinson Hyperlegible Next", sans-serif';
    drawing.fillText(line, MARGIN_PX, heightPx + MARGIN_PX + k * LINE_PX, WIDTH_PX - 2 * MARGIN_PX);
  });
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}
