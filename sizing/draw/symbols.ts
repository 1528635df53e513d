import type { FabricStitch, Stitch } from '../stitches.ts';
import type { DrawingWords } from './drawing-words.ts';
import { fixed, label, path } from './svg.ts';

export type Point = readonly [x: number, y: number];

export interface Pen {
  readonly strokeMm: number;
  readonly stitchMm: number;
}

/** Half a stroke across a symbol, in stitch widths. */
export const ARM = 0.28;

/**
 * The trade's chart symbols (Craft Yarn Council): chain an oval, slip stitch a dot, single crochet a cross, half double a
 * T, the taller ones a T with one and two bars.
 */
export function stitchSymbol(stitch: FabricStitch, foot: Point, top: Point, pen: Pen, weight = 1): string {
  const width = `stroke-width="${(pen.strokeMm * weight).toFixed(2)}"`;
  const arm = pen.stitchMm * ARM;
  const [along, across] = axes(foot, top);
  if (stitch === 'sc') {
    const middle = between(foot, top, 0.6);
    return [
      path([shifted(middle, along, -arm), shifted(middle, along, arm)], width),
      path([shifted(middle, across, -arm), shifted(middle, across, arm)], width),
    ].join('');
  }
  const bars = { hdc: 0, dc: 1, tr: 2 }[stitch];
  const parts = [path([foot, top], width), path([shifted(top, across, -arm), shifted(top, across, arm)], width)];
  for (let bar = 0; bar < bars; bar++) {
    const at = between(foot, top, 0.5 + 0.18 * bar);
    const slope: Point = [across[0] * 0.85 + along[0] * 0.35, across[1] * 0.85 + along[1] * 0.35];
    parts.push(path([shifted(at, slope, -arm), shifted(at, slope, arm)], width));
  }
  return parts.join('');
}

/** Chains along a line. */
export function chainSymbols(chains: number, from: Point, to: Point, pen: Pen): string {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) / chains;
  const degrees = (Math.atan2(to[1] - from[1], to[0] - from[0]) * 180) / Math.PI;
  return Array.from({ length: chains }, (_, index) =>
    chainSymbol(between(from, to, (index + 0.5) / chains), degrees, length, pen),
  ).join('');
}

export function chainSymbol([x, y]: Point, degrees: number, lengthMm: number, pen: Pen): string {
  const turn = `rotate(${degrees.toFixed(0)} ${fixed(x)} ${fixed(y)})`;
  const size = `rx="${fixed(lengthMm * 0.44)}" ry="${fixed(Math.min(lengthMm * 0.26, pen.stitchMm * 0.2))}"`;
  return `<ellipse cx="${fixed(x)}" cy="${fixed(y)}" ${size} transform="${turn}" stroke-width="${pen.strokeMm.toFixed(2)}"/>`;
}

export function slipSymbol([x, y]: Point, pen: Pen): string {
  return `<circle cx="${fixed(x)}" cy="${fixed(y)}" r="${fixed(pen.stitchMm * 0.13)}" fill="currentColor" stroke="none"/>`;
}

/** A small filled arrowhead at a point, towards a direction. */
export function arrowSymbol(at: Point, direction: Point, sizeMm: number): string {
  const side: Point = [-direction[1], direction[0]];
  const tip = shifted(at, direction, sizeMm);
  const corners = [tip, shifted(at, side, sizeMm * 0.55), shifted(at, side, -sizeMm * 0.55)];
  return path(corners, 'fill="currentColor" stroke="none"', true);
}

/** What a chart may need explained. */
export type LegendItem = Stitch | 'ring' | 'increase' | 'start';

interface LegendPlace {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly textMm: number;
}

/** Symbols and their words in columns of three. */
export function legend(items: readonly LegendItem[], words: DrawingWords, place: LegendPlace): string[] {
  const { leftMm, topMm, widthMm, textMm } = place;
  const columnMm = widthMm / LEGEND_COLUMNS;
  return items.flatMap((item, index) => {
    const x = leftMm + columnMm * (index % LEGEND_COLUMNS) + textMm * 0.8;
    const y = topMm + textMm * 1.7 * (Math.floor(index / LEGEND_COLUMNS) + 0.7);
    return [
      legendSymbol(item, [x, y], textMm),
      label({
        x: x + textMm * 0.95,
        y: y + textMm * 0.33,
        size: textMm,
        anchor: 'start',
        text: legendWord(item, words),
      }),
    ];
  });
}

export const LEGEND_COLUMNS = 3;

export function legendHeightMm(items: number, textMm: number): number {
  return textMm * (1.7 * Math.ceil(items / LEGEND_COLUMNS) + 0.6);
}

function legendWord(item: LegendItem, words: DrawingWords): string {
  if (item === 'ring' || item === 'increase' || item === 'start') return words[item];
  return words.stitch(item);
}

function legendSymbol(item: LegendItem, [x, y]: Point, textMm: number): string {
  const pen = { strokeMm: textMm * 0.09, stitchMm: textMm * 1.15 };
  const [foot, top]: [Point, Point] = [
    [x, y + textMm * 0.55],
    [x, y - textMm * 0.6],
  ];
  switch (item) {
    case 'ring':
      return `<circle cx="${fixed(x)}" cy="${fixed(y)}" r="${fixed(textMm * 0.42)}" stroke-width="${pen.strokeMm.toFixed(2)}"/>`;
    case 'ch':
      return chainSymbol([x, y], 0, textMm * 1.1, pen);
    case 'sl st':
      return slipSymbol([x, y], pen);
    case 'start':
      return arrowSymbol([x - textMm * 0.35, y], [1, 0], textMm * 0.8);
    case 'increase': {
      const sides = [-1, 1].map((side): Point => [x + side * textMm * 0.4, top[1]]);
      return sides.map((side) => path([side, foot], `stroke-width="${(pen.strokeMm * 1.7).toFixed(2)}"`)).join('');
    }
    default:
      return stitchSymbol(item, foot, top, pen);
  }
}

export function between(a: Point, b: Point, share: number): Point {
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

export function shifted(point: Point, direction: Point, distance: number): Point {
  return [point[0] + direction[0] * distance, point[1] + direction[1] * distance];
}

/** Unit vectors along foot to top and across. */
function axes(foot: Point, top: Point): readonly [Point, Point] {
  const length = Math.hypot(top[0] - foot[0], top[1] - foot[1]) || 1;
  const along: Point = [(top[0] - foot[0]) / length, (top[1] - foot[1]) / length];
  return [along, [-along[1], along[0]]];
}
