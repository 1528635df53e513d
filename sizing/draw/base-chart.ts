import { roundHeightMm } from '../gauge.ts';
import type { Plan, Round, Step } from '../plan.ts';
import { FABRIC_STITCHES, type FabricStitch } from '../stitches.ts';
import type { DrawingWords } from './drawing-words.ts';
import { fixed, label, svgDocument } from './svg.ts';
import {
  arrowSymbol,
  between,
  chainSymbols,
  type LegendItem,
  legend,
  legendHeightMm,
  type Pen,
  type Point,
  slipSymbol,
  stitchSymbol,
} from './symbols.ts';

/** A stitch of a round as it is charted: where its foot stands in the round before, and how it came about. */
interface ChartStitch {
  readonly stitch: FabricStitch;
  /** Place in the round before; null for the ring. */
  readonly parent: number | null;
  readonly increase: boolean;
  /** Drawn as this many chains instead. */
  readonly chains: number;
}

interface ChartRound {
  readonly round: Round;
  readonly stitches: readonly ChartStitch[];
  readonly innerMm: number;
  readonly outerMm: number;
}

/**
 * The base from above, stitch by stitch, in the trade's chart symbols and to scale, read from the middle outwards and
 * against the clock (with it in the left hand). Stitches of an increase stand on one foot and are drawn heavier. The
 * round in work, if one is given, is drawn in full ink and the others pale.
 */
export function baseChartSvg(plan: Plan, words: DrawingWords, litRound: number | null = null): string {
  const rounds = chartRounds(plan);
  const outerMm = rounds[rounds.length - 1].outerMm;
  const pen = {
    strokeMm: Math.min(0.8, plan.gauge.stitchWidthMm.value * 0.09),
    stitchMm: plan.gauge.stitchWidthMm.value,
  };
  const halfMm = outerMm * 1.1 + 3;
  // On paper the chart is some 70 mm wide: this is then 8 points.
  const textMm = halfMm * 0.08;
  const items = legendItems(plan);
  const legendMm = litRound === null ? legendHeightMm(items.length, textMm) : 0;
  const turn = words.hand === 'left' ? -1 : 1;
  const ringMm = Math.max(0.6, rounds[0].outerMm * 0.12);
  return svgDocument(
    {
      title: words.baseTitle,
      description: words.baseDescription(rounds.map(({ round }) => round.stitches)),
      minX: -halfMm,
      minY: -halfMm,
      width: 2 * halfMm,
      height: 2 * halfMm + legendMm,
    },
    [
      `<circle r="${fixed(ringMm)}" stroke-width="${pen.strokeMm.toFixed(2)}"/>`,
      ...rounds.map((round, index) =>
        faded(
          chartRoundSvg(round, rounds[index - 1], { pen, turn, textMm }),
          litRound !== null && litRound !== round.round.number,
        ),
      ),
      ...(litRound === null
        ? legend(items, words, { leftMm: -halfMm, topMm: halfMm, widthMm: 2 * halfMm, textMm })
        : []),
    ],
  );
}

function faded(parts: readonly string[], isPale: boolean): string {
  return isPale ? `<g opacity="0.3">${parts.join('')}</g>` : parts.join('');
}

function legendItems(plan: Plan): LegendItem[] {
  const { rounds } = plan.parts[0];
  const steps = JSON.stringify(rounds);
  const uses = (what: string) => steps.includes(what);
  return [
    'ring',
    ...(uses('"do":"turning-chain"') ? (['ch'] as const) : []),
    ...(uses('"do":"join"') || uses('"do":"level"') ? (['sl st'] as const) : []),
    ...FABRIC_STITCHES.filter((stitch) => rounds.some((round) => round.stitch === stitch)),
    'increase',
    'start',
  ];
}

function chartRounds(plan: Plan): ChartRound[] {
  let reachMm = 0;
  return plan.parts[0].rounds.map((round) => {
    const innerMm = reachMm;
    reachMm += roundHeightMm(plan.gauge, round.stitch ?? plan.gauge.stitch);
    return { round, stitches: chartStitches(round), innerMm, outerMm: reachMm };
  });
}

/** Unrolls a base round: its steps name only whole stitches, increases and what starts and ends a round. */
function chartStitches({ steps, stitch: main }: Round): ChartStitch[] {
  const result: ChartStitch[] = [];
  let taken = 0;
  const add = (stitch: FabricStitch, parent: number | null, increase: boolean, chains = 0) =>
    result.push({ stitch, parent, increase, chains });
  const work = (step: Step): void => {
    if (step.do === 'repeat') for (let each = 0; each < step.times; each++) step.steps.forEach(work);
    if (step.do === 'turning-chain' && step.countsAs) {
      add(step.countsAs, result.length === 0 && steps[0].do === 'ring' ? null : taken++, false, step.chains);
    }
    if (step.do === 'increase') {
      for (let each = 0; each < step.made; each++) add(step.stitch, taken, true);
      taken++;
    }
    if (step.do === 'stitch') {
      for (let each = 0; each < step.times; each++) {
        const parent = step.into === 'ring' ? null : step.into === 'same' ? taken - 1 : taken++;
        add(step.stitch, parent, step.into === 'same');
      }
    }
  };
  steps.forEach(work);
  return main === null ? [] : result;
}

interface Sheet {
  readonly pen: Pen;
  /** 1 against the clock, -1 with it. */
  readonly turn: 1 | -1;
  readonly textMm: number;
}

function chartRoundSvg(chart: ChartRound, before: ChartRound | undefined, { pen, turn, textMm }: Sheet): string[] {
  const count = chart.stitches.length;
  const at = (radius: number, index: number, of: number) => polar(radius, angleOf(index, of, turn));
  const drawn = chart.stitches.map(({ stitch, parent, increase, chains }, index) => {
    const top = at(chart.outerMm - 0.12 * pen.stitchMm, index, count);
    const footMm = chart.innerMm + (before ? 0.15 : 0.3) * (chart.outerMm - chart.innerMm);
    const foot = parent === null || !before ? at(footMm, index, count) : at(footMm, parent, before.stitches.length);
    if (chains > 0) return chainSymbols(chains, foot, top, pen);
    return stitchSymbol(stitch, foot, top, pen, increase ? 1.7 : 1);
  });
  const join =
    chart.round.closing === 'joined' ? [slipSymbol(at(chart.outerMm - 0.3 * pen.stitchMm, -0.5, count), pen)] : [];
  const middleMm = (chart.innerMm + chart.outerMm) / 2;
  const [x, y] = before ? at(middleMm, -0.5, count) : at(chart.outerMm * 0.5, -0.5, count);
  const size = Math.min(textMm, (chart.outerMm - chart.innerMm) * 0.62);
  return [...drawn, ...join, roundNumber([x, y], chart.round.number, size), startArrow(chart, turn, size)];
}

function roundNumber([x, y]: Point, number: number, size: number): string {
  const ground = `<circle cx="${fixed(x)}" cy="${fixed(y)}" r="${fixed(size * 0.62)}" fill="var(--paper, #fff)" stroke="none"/>`;
  return ground + label({ x, y: y + size * 0.35, size, anchor: 'middle', text: String(number) });
}

/** Beside the first stitch, pointing the way the round is worked. */
function startArrow({ outerMm, stitches }: ChartRound, turn: 1 | -1, size: number): string {
  const angle = angleOf(0, stitches.length, turn);
  const along: Point = [turn * Math.sin(angle), -turn * Math.cos(angle)];
  return arrowSymbol(between(polar(outerMm, angle), polar(outerMm + size * 0.4, angle), 1), along, size * 0.5);
}

/** Rounds start at the top and go anticlockwise, as right-handed work does seen from its right side. */
function angleOf(index: number, count: number, turn: 1 | -1): number {
  return -Math.PI / 2 - (turn * 2 * Math.PI * (index + 0.5)) / count;
}

function polar(radius: number, angle: number): Point {
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
}
