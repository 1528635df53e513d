import { readFileSync } from 'node:fs';

/** True sizes and card corners of a sample photo. */
export function truthOf(name: string): {
  readonly maxDiameterMm: number;
  readonly heightMm: number;
  readonly cardPx: readonly (readonly [number, number])[];
  readonly outlinePx: readonly (readonly [number, number])[];
} {
  const file = new URL(`../../sample-images/${name}.json`, import.meta.url);
  const { container, card } = JSON.parse(readFileSync(file, 'utf8'));
  return {
    maxDiameterMm: container.max_diameter_mm,
    heightMm: container.height_mm,
    cardPx: card.corners_px,
    outlinePx: container.outline_px[0],
  };
}
