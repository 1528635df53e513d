import type { MeshZone, Plan, Round } from '../plan.ts';
import type { FabricStitch, Stitch } from '../stitches.ts';
import type { DrawingWords } from './drawing-words.ts';
import { label, svgDocument } from './svg.ts';
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
  readonly draw: (bottomMm: number, cellMm: number) => string[];
}

/**
 * Net and band flat, in the trade's chart symbols: the round the net stands on, the net as it repeats, and the band. The
 * shorter stitches at the start and end of the spiral are in the words, not here.
 */
export function bodyChartSvg(plan: Plan, words: DrawingWords, litRound: number | null = null): string {
  const rows = rowsOf(plan);
  const { skip } = plan.choices.mesh;
  const cellMm = (skip + 1) * STITCH;
  // The last space reaches half its width beyond the stitches it stands on.
  const widthMm = (SPACES + 0.55) * cellMm;
  const textMm = 5.2;
  const marginMm = 22;
  const heightMm = rows.reduce((sum, row) => sum + row.heightMm, 0);
  const items = legendItems(plan);
  const legendMm = litRound === null ? legendHeightMm(items.length, textMm) : 0;
  // Right-handed rounds are read from right to left, so their numbers stand on the right.
  const left = words.hand === 'left';
  let bottom = 0;
  const drawn = rows.flatMap((row) => {
    const parts = row.draw(-bottom, cellMm).join('');
    const middle = -bottom - row.heightMm / 2;
    bottom += row.heightMm;
    const isPale = litRound !== null && !(row.round.number <= litRound && litRound <= row.to);
    const x = left ? -textMm * 0.5 : widthMm + textMm * 0.5;
    const number = label({
      x: x + (left ? -1 : 1) * textMm * 0.9,
      y: middle + textMm * 0.35,
      size: textMm,
      anchor: left ? 'end' : 'start',
      text: row.label,
    });
    const arrow = arrowSymbol([x, middle], [left ? 1 : -1, 0], textMm * 0.55);
    return [`<g${isPale ? ' opacity="0.3"' : ''}>${parts}${arrow}${number}</g>`];
  });
  return svgDocument(
    {
      title: words.bodyTitle,
      description: words.bodyDescription(plan.zones[0]?.cells ?? 0),
      minX: left ? -marginMm : -4,
      minY: -heightMm - 4,
      width: widthMm + marginMm + 4,
      height: heightMm + 8 + legendMm,
    },
    [
      ...drawn,
      ...(litRound === null
        ? legend(items, words, { leftMm: left ? -marginMm : -4, topMm: 4, widthMm: widthMm + marginMm + 4, textMm })
        : []),
    ],
  );
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
  for (const round of band) rows.push(bandRow(plan, round));
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
    draw: (bottomMm) =>
      Array.from({ length: count }, (_, index) => upright(stitch, (index + 0.5) * STITCH, bottomMm, heightMm)),
  };
}

function meshRow(plan: Plan, zone: MeshZone, round: Round, to: number): Row {
  const { kind, postStitch } = plan.choices.mesh;
  const heightMm = kind === 'post' ? ROW[postStitch] : 13;
  const first = plan.parts.find(({ name }) => name === 'mesh')?.rounds[0].number ?? round.number;
  return {
    label: to > round.number ? `${round.number}–${to}` : String(round.number),
    round,
    to,
    heightMm,
    draw: (bottomMm, cellMm) =>
      kind === 'post'
        ? posts(postStitch, zone.chains, { bottomMm, heightMm, cellMm })
        : loops(zone.chains, (round.number - first) % 2 === 1, { bottomMm, heightMm, cellMm }),
  };
}

interface Cell {
  readonly bottomMm: number;
  readonly heightMm: number;
  readonly cellMm: number;
}

function posts(stitch: FabricStitch, chains: number, { bottomMm, heightMm, cellMm }: Cell): string[] {
  return Array.from({ length: SPACES }, (_, cell) => {
    const x = (cell + 0.5) * cellMm;
    const step = cellMm / (chains + 1);
    const ovals = Array.from({ length: chains }, (_, chain) =>
      chainSymbol([x + (chain + 1) * step, bottomMm - heightMm + 1], 0, Math.min(step, STITCH) * 0.95, PEN),
    );
    return upright(stitch, x, bottomMm, heightMm) + ovals.join('');
  });
}

/** Every other round is shifted by half a space: a loop is caught in the middle of the one below. */
function loops(chains: number, isShifted: boolean, { bottomMm, heightMm, cellMm }: Cell): string[] {
  const foot = bottomMm - 1;
  return Array.from({ length: SPACES }, (_, cell) => {
    const from = (cell + (isShifted ? 0 : 0.5)) * cellMm;
    const ovals = Array.from({ length: chains }, (_, chain) => {
      const share = (chain + 0.5) / chains;
      const rise = 4 * share * (1 - share) * (heightMm - 4);
      const slope = (4 * (1 - 2 * share) * (heightMm - 4)) / cellMm;
      const degrees = (-Math.atan(slope) * 180) / Math.PI;
      return chainSymbol(
        [from + share * cellMm, foot - 3 - rise],
        degrees,
        Math.min(cellMm / chains, STITCH) * 1.05,
        PEN,
      );
    });
    return upright('sc', from, foot + 1, 7) + ovals.join('');
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
    draw: (bottomMm, cellMm) =>
      Array.from({ length: count }, (_, index) =>
        upright('sc', ((index + 0.5) / count) * SPACES * cellMm, bottomMm, ROW.sc),
      ),
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
