import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import * as inPictures from '../../../web/ui/palette.ts';

/*
 * Contrast as WCAG 2.2 defines it: relative luminance of sRGB (definition "relative luminance"), ratio
 * (L1 + 0.05) / (L2 + 0.05); 4.5 for text (1.4.3), 3 for the edges of things to press (1.4.11), 7 for text that is read
 * outdoors at the stall (1.4.6).
 */
const css = readFileSync(new URL('../../../web/ui/palette.css', import.meta.url), 'utf8');
const [light, dark, darkByDevice] = [...css.matchAll(/color-scheme: (?:light|dark);([^}]*)}/g)].map(([, block]) =>
  Object.fromEntries([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, name, hex]) => [name, hex])),
);

const READ_OUTDOORS: readonly (readonly [string, string])[] = [
  ['ink', 'paper'],
  ['ink', 'card'],
  ['ink', 'mist'],
  ['ink', 'kelp-mist'],
  ['ink', 'buoy-mist'],
  ['soft', 'paper'],
  ['soft', 'card'],
  ['kelp', 'paper'],
  ['kelp', 'card'],
  ['on-kelp', 'kelp'],
];
const READ: readonly (readonly [string, string])[] = [
  ['soft', 'mist'],
  ['soft', 'kelp-mist'],
  ['kelp', 'mist'],
  ['kelp', 'kelp-mist'],
  ['buoy', 'paper'],
  ['buoy', 'card'],
  ['buoy', 'mist'],
  ['buoy', 'buoy-mist'],
  ['on-buoy', 'buoy'],
  ['water', 'paper'],
  ['water', 'card'],
];
const PRESSED: readonly (readonly [string, string])[] = [
  ['edge', 'paper'],
  ['edge', 'card'],
  ['edge', 'mist'],
  ['focus', 'paper'],
  ['focus', 'card'],
];

test('pictures that are sent have the colours of the light look', () => {
  for (const [name, hex] of Object.entries(inPictures)) expect([name, hex]).toEqual([name, light[name.toLowerCase()]]);
});

describe.each([
  ['light', light],
  ['dark', dark],
])('%s', (_look, palette) => {
  test.each(READ_OUTDOORS)('%s on %s can be read in the sun', (above, below) => {
    expect(contrast(palette[above], palette[below])).toBeGreaterThanOrEqual(7);
  });
  test.each(READ)('%s on %s can be read', (above, below) => {
    expect(contrast(palette[above], palette[below])).toBeGreaterThanOrEqual(4.5);
  });
  test.each(PRESSED)('%s stands out from %s', (above, below) => {
    expect(contrast(palette[above], palette[below])).toBeGreaterThanOrEqual(3);
  });
});

test('the dark look is the same whether the device or the maker asks for it', () => {
  expect(darkByDevice).toEqual(dark);
});

test('both looks name the same colours', () => {
  expect(Object.keys(dark)).toEqual(Object.keys(light));
});

test('black on white is 21:1 (WCAG 2.2)', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
});

function contrast(a: string, b: string): number {
  const [darker, lighter] = [luminance(a), luminance(b)].sort((one, other) => one - other);
  return (lighter + 0.05) / (darker + 0.05);
}

function luminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
