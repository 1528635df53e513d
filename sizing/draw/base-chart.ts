import { roundHeightMm } from '../gauge.ts';
import type { Plan, Round, Step } from '../plan.ts';
import { FABRIC_STITCHES, type FabricStitch } from '../stitches.ts';
import type { DrawingWords } from './drawing-words.ts';
import { fixed, label, svgDocument } from './svg.ts';
import {
  ARM,
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
  /** Size of its number, and the angle left free at the top for it, its arrow and its joining stitch. */
  readonly numberMm: number;
  readonly wedgeRad: number;
}

/**
 * The base from above, stitch by stitch, in the trade's chart symbols and to scale, read from the middle outwards and
 * against the clock (with it in the left hand). Stitches of an increase stand on one foot and are drawn heavier. The
 * round in work, if one is given, is drawn in full ink and the others pale.
 */
export function baseChartSvg(plan: Plan, words: DrawingWords, litRound: number | null = null): string {
  const stitchMm = plan.gauge.stitchWidthMm.value;
  const pen = { strokeMm: Math.min(0.8, stitchMm * 0.09), stitchMm };
  const halfMm = plan.parts[0].rounds.reduce((sum, round) => sum + rowMm(plan, round), 0) * 1.1 + 3;
  // On paper the chart is some 70 mm wide: this is then 8 points.
  const textMm = halfMm * 0.08;
  const rounds = chartRounds(plan, textMm);
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
          chartRoundSvg(round, rounds[index - 1], { pen, turn }),
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

function rowMm({ gauge }: Plan, { stitch }: Round): number {
  return roundHeightMm(gauge, stitch ?? gauge.stitch);
}

/** Around the middle the wedge would take the round itself; its number is smaller there. */
const WIDEST_WEDGE_RAD = 1.3;
/** Arrow and number side by side, and a joining stitch, in sizes of the number. */
const WEDGE_NUMBERS = { joined: 2.4, spiral: 2 } as const;

function chartRounds(plan: Plan, textMm: number): ChartRound[] {
  let reachMm = 0;
  return plan.parts[0].rounds.map((round) => {
    const innerMm = reachMm;
    reachMm += rowMm(plan, round);
    const middleMm = middleOf({ innerMm, outerMm: reachMm });
    const numbers = WEDGE_NUMBERS[round.closing === 'joined' ? 'joined' : 'spiral'];
    const numberMm = Math.min(textMm, (reachMm - innerMm) * 0.62, (WIDEST_WEDGE_RAD * middleMm) / numbers);
    const wedgeRad = (numbers * numberMm) / middleMm;
    return { round, stitches: chartStitches(round), innerMm, outerMm: reachMm, numberMm, wedgeRad };
  });
}

/** Where a round's number stands; in the first, clear of the ring. */
function middleOf({ innerMm, outerMm }: Pick<ChartRound, 'innerMm' | 'outerMm'>): number {
  return innerMm === 0 ? 0.65 * outerMm : (innerMm + outerMm) / 2;
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
}

/** Feet of an increase stand this far apart, in stitches of the round before, so that its strokes do not touch. */
const FEET_APART = 0.24;
/** Strokes across a symbol reach this far towards the next one. */
const ARM_SHARE = 0.36;

function chartRoundSvg(chart: ChartRound, before: ChartRound | undefined, { pen, turn }: Sheet): string[] {
  const { stitches, innerMm, outerMm } = chart;
  const at = (radius: number, index: number, of: ChartRound) => polar(radius, angleOf(index, of, turn));
  const footMm = innerMm + (before ? 0.15 : 0.3) * (outerMm - innerMm);
  const ends = stitches.map(({ parent }, index): readonly [foot: Point, top: Point] => {
    const top = at(outerMm - 0.12 * pen.stitchMm, index, chart);
    if (parent === null || !before) return [at(footMm, index, chart), top];
    return [at(footMm, parent + FEET_APART * placeInIncrease(stitches, index), before), top];
  });
  const drawn = stitches.map(({ stitch, increase, chains }, index) => {
    const [foot, top] = ends[index];
    if (chains > 0) return chainSymbols(chains, foot, top, pen);
    const room = Math.min(...[index - 1, index + 1].map((next) => middleDistance(ends[index], ends[next])));
    const stitchMm = Math.min(pen.stitchMm, (room * ARM_SHARE) / ARM);
    return stitchSymbol(stitch, foot, top, { ...pen, stitchMm }, increase ? 1.5 : 1);
  });
  return [...drawn, ...startSvg(chart, pen, turn)];
}

/** -0.5 and 0.5 for the two stitches of an increase, 0 for a stitch of its own. */
function placeInIncrease(stitches: readonly ChartStitch[], index: number): number {
  const { parent } = stitches[index];
  const first = stitches.findIndex((each) => each.parent === parent);
  const count = stitches.filter((each) => each.parent === parent).length;
  return index - first - (count - 1) / 2;
}

function middleDistance(a: readonly [Point, Point], b: readonly [Point, Point] | undefined): number {
  if (!b) return Number.POSITIVE_INFINITY;
  const [[ax, ay], [bx, by]] = [between(...a, 0.5), between(...b, 0.5)];
  return Math.hypot(ax - bx, ay - by);
}

/** In the wedge at the top: an arrow the way the round is worked, its number, and the slip stitch that joins it. */
function startSvg(chart: ChartRound, pen: Pen, turn: 1 | -1): string[] {
  const { round, numberMm, wedgeRad } = chart;
  const middleMm = middleOf(chart);
  const inWedge = (share: number) => -Math.PI / 2 - turn * share * wedgeRad;
  const [x, y] = polar(middleMm, inWedge(round.closing === 'joined' ? 0 : -0.08));
  const join =
    round.closing === 'joined' ? [slipSymbol(polar(middleMm, inWedge(-0.38)), { ...pen, stitchMm: numberMm })] : [];
  const arrow = arrowSymbol(polar(middleMm, inWedge(0.28)), [-turn, 0], numberMm * 0.5);
  return [
    ...join,
    label({ x, y: y + numberMm * 0.35, size: numberMm, anchor: 'middle', text: String(round.number) }),
    arrow,
  ];
}

/** Rounds start at the top and go anticlockwise, as right-handed work does seen from its right side. */
function angleOf(index: number, { stitches, wedgeRad }: ChartRound, turn: 1 | -1): number {
  const step = (2 * Math.PI - wedgeRad) / stitches.length;
  return -Math.PI / 2 - turn * (wedgeRad / 2 + step * (index + 0.5));
}

function polar(radius: number, angle: number): Point {
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
}
