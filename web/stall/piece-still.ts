import type { Plan } from '../../sizing/plan.ts';
import { USUAL_YARN } from '../carrier-view/yarn-colours.ts';
import { MIST } from '../ui/palette.ts';

/** Twice as wide as it is shown: sharp on a phone, and 500 of them are some 15 MB. */
const SIDE_PX = 400;

/** A carrier as its plan draws it, small; null without WebGL. */
export async function pieceStill(plan: Plan, colour: string | null): Promise<Blob | null> {
  const { carrierStill } = await import('../carrier-view/still.ts');
  const options = { background: MIST };
  const picture = await carrierStill(plan, plan.container, colour ?? USUAL_YARN, [SIDE_PX, SIDE_PX], options);
  return picture && smallPicture(picture);
}

/** A picture as the stock shows it: square, the middle of it, JPEG. */
export async function smallPicture(picture: Blob): Promise<Blob | null> {
  const bitmap = await createImageBitmap(picture);
  const side = Math.min(bitmap.width, bitmap.height);
  const canvas = document.createElement('canvas');
  canvas.width = SIDE_PX;
  canvas.height = SIDE_PX;
  const drawing = canvas.getContext('2d');
  if (drawing) {
    drawing.imageSmoothingQuality = 'high';
    const [left, top] = [(bitmap.width - side) / 2, (bitmap.height - side) / 2];
    drawing.drawImage(bitmap, left, top, side, side, 0, 0, SIDE_PX, SIDE_PX);
  }
  bitmap.close();
  return drawing && new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.8));
}
