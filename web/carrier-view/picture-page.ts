/** What the command line draws in a headless browser: pictures of a carrier, as `data:` text that can leave a page. */
import type { Plan } from '../../sizing/plan.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { coverCard } from '../engine/cover.ts';
import { carrierOnPhoto, carrierStill, LONGEST_PX } from './still.ts';

export async function stageText(
  plan: Plan,
  colour: string,
  sizePx: readonly [number, number],
  options: Parameters<typeof carrierStill>[4],
): Promise<string | null> {
  return asText(await carrierStill(plan, plan.container, colour, sizePx, options));
}

export interface PhotoToDrawOn {
  /** A picture as base64, in a format that browsers show, and its full size. */
  readonly base64: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly measurement: Measurement;
}

export async function photoText(
  plan: Plan,
  photo: PhotoToDrawOn,
  colour: string,
  options: Parameters<typeof carrierOnPhoto>[3],
): Promise<string | null> {
  const bytes = Uint8Array.from(atob(photo.base64), (letter) => letter.charCodeAt(0));
  const blanked = await covered(await createImageBitmap(new Blob([bytes])), photo);
  return blanked && asText(await carrierOnPhoto(plan, { ...photo, blanked }, colour, options));
}

/** The photo as far as a picture can show it, with the card under its cover. */
function covered(picture: ImageBitmap, { widthPx, heightPx, measurement }: PhotoToDrawOn): Promise<Blob> | null {
  const scale = Math.min(1, LONGEST_PX / Math.max(widthPx, heightPx));
  const canvas = new OffscreenCanvas(Math.round(widthPx * scale), Math.round(heightPx * scale));
  const drawing = canvas.getContext('2d');
  if (!drawing) return null;
  drawing.imageSmoothingQuality = 'high';
  drawing.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  coverCard(drawing, measurement.card.cornersPx, scale);
  return canvas.convertToBlob({ type: 'image/png' });
}

function asText(picture: Blob | null): Promise<string | null> {
  if (!picture) return Promise.resolve(null);
  return new Promise((resolve) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result));
    reader.readAsDataURL(picture);
  });
}
