/** Yarn shades of the stall; names in text/, by the same keys. */
export const YARN_SHADES = {
  kelp: '#2f6f5e',
  buoy: '#d2552b',
  chalk: '#ece6d8',
  tar: '#2b2c30',
  rope: '#c9a86a',
  'plum stone': '#6b2f4a',
  'sea glass': '#9cc9b8',
  mussel: '#3b4a6b',
  straw: '#e3c65b',
  coral: '#e58a78',
  slate: '#6f7c85',
  moss: '#7d8a46',
} as const;
export type YarnShade = keyof typeof YARN_SHADES;

export const USUAL_YARN = YARN_SHADES.kelp;

/** Red, green and blue of a `#rrggbb` in linear light, 0 to 1. */
export function linearRgb(hex: string): readonly [number, number, number] {
  const value = Number.parseInt(hex.slice(1), 16);
  return [16, 8, 0].map((shift) => linear(((value >> shift) & 255) / 255)) as unknown as [number, number, number];
}

/** The electro-optical transfer function of IEC 61966-2-1. */
function linear(c: number): number {
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
}

/** The shade nearest to a colour, for naming it: by distance in linear light's cube root, which is about even to the eye. */
export function nearestShade(hex: string): YarnShade {
  const wanted = linearRgb(hex).map(Math.cbrt);
  const off = (shade: YarnShade) =>
    Math.hypot(...linearRgb(YARN_SHADES[shade]).map((c, k) => Math.cbrt(c) - wanted[k]));
  return (Object.keys(YARN_SHADES) as YarnShade[]).reduce((best, each) => (off(each) < off(best) ? each : best));
}

/** `#rrggbb` of a patch of a photo: the median of each channel, so that shade between strands counts little. */
export function colourTapped(rgba: Uint8ClampedArray): string {
  const channels = [0, 1, 2].map((c) => {
    const values = Array.from({ length: rgba.length / 4 }, (_, k) => rgba[4 * k + c]).sort((a, b) => a - b);
    return values[values.length >> 1];
  });
  return `#${channels.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
}
