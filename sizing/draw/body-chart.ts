import type { MeshZone, Plan, Round } from '../plan.ts';
import type { FabricStitch, Stitch } from '../stitches.ts';
import type { DrawingWords } from './drawing-words.ts';
import { label, path, svgDocument } from './svg.ts';
import {
  arrowSymbol,
  chainSymbol,
  type LegendItem,
  legend,
  legendHeightMm,
  type Pen,
  type Point,
  stitchSymbol,
} from './symbols.ts';

/** Spaces that are drawn: enough to see the repeat. */
const SPACES = 4;

/** Units of the drawing: a stitch is 6 wide, whatever the yarn; the paper decides how large it prints. */
const STITCH = 6;
const PEN: Pen = { strokeMm: 0.55, stitchMm: STITCH };
const ROW: Readonly<Record<FabricStitch, number>> = { sc: 7, hdc: 9, dc: 12, tr: 16 };

interface Row {
  readonly label: string;
  readonly round: Round;
  readonly to: number;
  readonly heightMm: number;
  readonly draw: (bottomMm: number, sheet: Sheet) => string[];
}

/** Places along a row are counted the way it is worked; `xOf` puts them on the paper. */
interface Sheet {
  readonly cellMm: number;
  readonly xOf: (alongMm: number) => number;
  /** The way the work goes: -1 to the left. */
  readonly way: 1 | -1;
}

/**
 * Net and band flat, in the trade's chart symbols: the round the net stands on, the net as it repeats, and the band, read
 * from right to left (from left to right in the left hand). The shorter stitches at the start and end of the spiral are
 * in the words, not here.
 */
export function bodyChartSvg(plan: Plan, words: DrawingWords, litRound: number | null = null): string {
  const rows = rowsOf(plan);
  const { skip, kind } = plan.choices.mesh;
  const cellMm = (skip + 1) * STITCH;
  const widthMm = SPACES * cellMm;
  const left = words.hand === 'left';
  const way = left ? 1 : -1;
  const xOf = (alongMm: number) => (left ? alongMm : widthMm - alongMm);
  // Loops hang over the start: the first of a round begins half a loop before it.
  const beforeMm = kind === 'loop' ? (cellMm + STITCH) / 2 : 0;
  const textMm = 5.2;
  const marginMm = 24 + beforeMm;
  const heightMm = rows.reduce((sum, row) => sum + row.heightMm, 0);
  const items = legendItems(plan);
  const legendMm = litRound === null ? legendHeightMm(items.length, textMm) : 0;
  const captionMm = textMm * 1.7;
  const minX = left ? -marginMm : -4;
  let bottom = 0;
  const drawn = rows.flatMap((row) => {
    const parts = row.draw(-bottom, { cellMm, xOf, way }).join('');
    const middle = -bottom - row.heightMm / 2;
    bottom += row.heightMm;
    const isPale = litRound !== null && !(row.round.number <= litRound && litRound <= row.to);
    const arrow = arrowSymbol([xOf(-beforeMm - textMm * 0.5), middle], [way, 0], textMm * 0.55);
    const number = label({
      x: xOf(-beforeMm - textMm * 1.1),
      y: middle + textMm * 0.35,
      size: textMm,
      anchor: left ? 'end' : 'start',
      text: row.label,
    });
    return [`<g${isPale ? ' opacity="0.3"' : ''}>${parts}${arrow}${number}</g>`];
  });
  return svgDocument(
    {
      title: words.bodyTitle,
      description: words.bodyDescription(plan.zones[0]?.cells ?? 0),
      minX,
      minY: -heightMm - 4,
      width: widthMm + marginMm + 4,
      height: heightMm + 8 + captionMm + legendMm,
    },
    [
      ...drawn,
      ...repeatSvg(plan, words, { cellMm, xOf, textMm }),
      ...(litRound === null
        ? legend(items, words, { leftMm: minX, topMm: 4 + captionMm, widthMm: widthMm + marginMm + 4, textMm })
        : []),
    ],
  );
}

/** Under the chart: what repeats, and how often in a round. */
function repeatSvg(
  { zones }: Plan,
  words: DrawingWords,
  { cellMm, xOf, textMm }: { cellMm: number; xOf: Sheet['xOf']; textMm: number },
): string[] {
  if (zones.length === 0) return [];
  const [from, to] = [xOf(cellMm), xOf(2 * cellMm)].sort((a, b) => a - b);
  const [top, low] = [1, 3];
  const bracket = path(
    [
      [from, top],
      [from, low],
      [to, low],
      [to, top],
    ],
    `stroke-width="${PEN.strokeMm}"`,
  );
  const text = words.repeat(zones[0].cells);
  return [bracket, label({ x: (from + to) / 2, y: low + textMm * 0.95, size: textMm * 0.9, anchor: 'middle', text })];
}

function rowsOf(plan: Plan): Row[] {
  const mesh = plan.parts.find(({ name }) => name === 'mesh')?.rounds ?? [];
  const band = plan.parts.find(({ name }) => name === 'band')?.rounds ?? [];
  const below = plan.parts
    .filter(({ name }) => name === 'base' || name === 'wall')
    .at(-1)
    ?.rounds.at(-1);
  const zone = plan.zones[0];
  if (!below || !zone || mesh.length === 0) return [];
  const drawn = mesh.slice(0, 2);
  const rows: Row[] = [plainRow(below, plan.choices.mesh.skip)];
  drawn.forEach((round, index) => {
    const isLast = index === drawn.length - 1;
    rows.push(meshRow(plan, zone, round, isLast ? mesh[mesh.length - 1].number : round.number));
  });
  for (const round of band) rows.push(round.spaces > 0 ? holesRow(plan, round) : bandRow(plan, round));
  return rows;
}

function plainRow(round: Round, skip: number): Row {
  const stitch = round.stitch ?? 'sc';
  const heightMm = ROW[stitch];
  const count = SPACES * (skip + 1);
  return {
    label: String(round.number),
    round,
    to: round.number,
    heightMm,
    draw: (bottomMm, { xOf }) =>
      Array.from({ length: count }, (_, index) => upright(stitch, xOf((index + 0.5) * STITCH), bottomMm, heightMm)),
  };
}

function meshRow(plan: Plan, zone: MeshZone, round: Round, to: number): Row {
  const { kind, postStitch } = plan.choices.mesh;
  const heightMm = kind === 'loop' ? 13 : ROW[postStitch];
  const first = plan.parts.find(({ name }) => name === 'mesh')?.rounds[0].number ?? round.number;
  return {
    label: to > round.number ? `${round.number}–${to}` : String(round.number),
    round,
    to,
    heightMm,
    draw: (bottomMm, sheet) =>
      kind === 'v-stitch'
        ? pairs(postStitch, zone.chains, { ...sheet, bottomMm, heightMm })
        : kind === 'post'
          ? posts(postStitch, zone.chains, { ...sheet, bottomMm, heightMm })
          : loops(zone.chains, (round.number - first) % 2 === 1, { ...sheet, bottomMm, heightMm }),
  };
}

interface Cell extends Sheet {
  readonly bottomMm: number;
  readonly heightMm: number;
}

/** A post on the first stitch of its cell, and its chains over those that are skipped. */
function posts(stitch: FabricStitch, chains: number, { bottomMm, heightMm, cellMm, xOf }: Cell): string[] {
  return Array.from({ length: SPACES }, (_, cell) => {
    const alongMm = cell * cellMm + STITCH / 2;
    const step = cellMm / (chains + 1);
    const ovals = Array.from({ length: chains }, (_, chain) => {
      const at: Point = [xOf(alongMm + (chain + 1) * step), bottomMm - heightMm + 1];
      return chainSymbol(at, 0, Math.min(step, STITCH) * 0.95, PEN);
    });
    return upright(stitch, xOf(alongMm), bottomMm, heightMm) + ovals.join('');
  });
}

/** Two posts that lean apart from one place, over the middle of the pair below, and the chains between their tops. */
function pairs(stitch: FabricStitch, chains: number, { bottomMm, heightMm, cellMm, xOf }: Cell): string[] {
  const halfMm = cellMm * 0.3;
  return Array.from({ length: SPACES }, (_, cell) => {
    const alongMm = cell * cellMm + cellMm / 2;
    const foot: Point = [xOf(alongMm), bottomMm - 0.6];
    const legs = [-1, 1].map((side) => {
      const top: Point = [xOf(alongMm + side * halfMm), bottomMm - heightMm + 1];
      return stitchSymbol(stitch, foot, top, { ...PEN, stitchMm: STITCH * 0.7 });
    });
    const step = (2 * halfMm) / (chains + 1);
    const ovals = Array.from({ length: chains }, (_, chain) =>
      chainSymbol(
        [xOf(alongMm - halfMm + (chain + 1) * step), bottomMm - heightMm + 1],
        0,
        Math.min(step, STITCH) * 0.95,
        PEN,
      ),
    );
    return [...legs, ...ovals].join('');
  });
}

/** A loop and the stitch that catches it down; every other round starts half a loop back, in the middle of one below. */
function loops(chains: number, isBack: boolean, { bottomMm, heightMm, cellMm, xOf, way }: Cell): string[] {
  const foot = bottomMm - 1;
  const risesMm = heightMm - 4;
  return Array.from({ length: SPACES }, (_, cell) => {
    const fromMm = (cell - (isBack ? 0.5 : 0)) * cellMm - STITCH / 2;
    const ovals = Array.from({ length: chains }, (_, chain) => {
      const share = (chain + 0.5) / chains;
      const slope = (4 * (1 - 2 * share) * risesMm) / cellMm;
      const degrees = (-way * Math.atan(slope) * 180) / Math.PI;
      const at: Point = [xOf(fromMm + share * cellMm), foot - 3 - 4 * share * (1 - share) * risesMm];
      return chainSymbol(at, degrees, Math.min(cellMm / chains, STITCH) * 1.05, PEN);
    });
    return ovals.join('') + upright('sc', xOf(fromMm + cellMm), foot + 1, 7);
  });
}

function bandRow(plan: Plan, round: Round): Row {
  const perSpace = Math.max(1, Math.round(round.stitches / (plan.zones.at(-1)?.cells ?? round.stitches)));
  const count = SPACES * perSpace;
  return {
    label: String(round.number),
    round,
    to: round.number,
    heightMm: ROW.sc,
    draw: (bottomMm, { cellMm, xOf }) =>
      Array.from({ length: count }, (_, index) =>
        upright('sc', xOf(((index + 0.5) / count) * SPACES * cellMm), bottomMm, ROW.sc),
      ),
  };
}

/** A round of holes: a stitch, a chain over the one that is skipped. */
function holesRow(plan: Plan, round: Round): Row {
  const cells = plan.zones.at(-1)?.cells ?? round.spaces;
  const count = Math.max(1, Math.round((SPACES * round.spaces) / cells));
  return {
    label: String(round.number),
    round,
    to: round.number,
    heightMm: ROW.sc,
    draw: (bottomMm, { cellMm, xOf }) =>
      Array.from({ length: count }, (_, index) => {
        const stepMm = (SPACES * cellMm) / count;
        const chain: Point = [xOf((index + 0.75) * stepMm), bottomMm - ROW.sc + 1.6];
        return (
          upright('sc', xOf((index + 0.25) * stepMm), bottomMm, ROW.sc) +
          chainSymbol(chain, 0, Math.min(STITCH, stepMm / 2) * 0.95, PEN)
        );
      }),
  };
}

function upright(stitch: FabricStitch, x: number, bottomMm: number, heightMm: number): string {
  const foot: Point = [x, bottomMm - 0.6];
  return stitchSymbol(stitch, foot, [x, bottomMm - heightMm + 1], PEN);
}

function legendItems(plan: Plan): LegendItem[] {
  const rounds = rowsOf(plan).map(({ round }) => round);
  const used = new Set<Stitch>(['ch', 'sc', ...rounds.flatMap(({ stitch }) => stitch ?? [])]);
  return [...(['ch', 'sc', 'hdc', 'dc', 'tr'] as const).filter((stitch) => used.has(stitch)), 'start'];
}
