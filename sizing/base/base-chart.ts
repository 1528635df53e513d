import type { DrawingWords } from '../draw/drawing-words.ts';
import { fixed, label, line, path, svgDocument } from '../draw/svg.ts';
import { roundHeightMm } from '../gauge.ts';
import type { Plan, Round, Step } from '../plan.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';

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

interface Pen {
  readonly strokeMm: number;
  readonly stitchMm: number;
}

/**
 * The base from above, stitch by stitch, in the trade's chart symbols: chain an oval, slip stitch a dot, single
 * crochet a cross, the taller stitches a T with no, one or two bars. Stitches of an increase stand on one foot and are
 * drawn heavier. Sizes are to scale.
 */
export function baseChartSvg(plan: Plan, words: DrawingWords): string {
  const rounds = chartRounds(plan);
  const outerMm = rounds[rounds.length - 1].outerMm;
  const pen = {
    strokeMm: Math.min(0.8, plan.gauge.stitchWidthMm.value * 0.09),
    stitchMm: plan.gauge.stitchWidthMm.value,
  };
  const halfMm = outerMm * 1.12 + 2;
  const legendMm = Math.max(9, outerMm * 0.36);
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
      `<circle r="${fixed(Math.max(0.6, rounds[0].outerMm * 0.12))}" stroke-width="${pen.strokeMm.toFixed(2)}"/>`,
      ...rounds.flatMap((round, index) => chartRoundSvg(round, rounds[index - 1], pen)),
      ...legend(plan, words, halfMm, legendMm, pen),
    ],
  );
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

function chartRoundSvg(chart: ChartRound, before: ChartRound | undefined, pen: Pen): string[] {
  const count = chart.stitches.length;
  const drawn = chart.stitches.map((stitch, index) => {
    const top = polar(chart.outerMm - 0.12 * pen.stitchMm, angleOf(index, count));
    const footAngle =
      stitch.parent === null || !before ? angleOf(index, count) : angleOf(stitch.parent, before.stitches.length);
    const footShare = before ? 0.15 : 0.3;
    const foot = polar(chart.innerMm + footShare * (chart.outerMm - chart.innerMm), footAngle);
    return symbol(stitch, foot, top, pen);
  });
  const [x, y] = polar(chart.outerMm + 0.15 * pen.stitchMm, angleOf(-0.5, count));
  const number = label({
    x,
    y,
    size: Math.max(1.6, pen.stitchMm * 0.45),
    anchor: 'middle',
    text: String(chart.round.number),
  });
  const join =
    chart.round.closing === 'joined' ? [dot(polar(chart.outerMm - 0.3 * pen.stitchMm, angleOf(-0.5, count)), pen)] : [];
  return [...drawn, ...join, number];
}

function symbol(stitch: ChartStitch, foot: Point, top: Point, pen: Pen): string {
  const width = `stroke-width="${(pen.strokeMm * (stitch.increase ? 1.7 : 1)).toFixed(2)}"`;
  if (stitch.chains > 0) return chainColumn(stitch.chains, foot, top, width);
  return stitch.stitch === 'sc' ? cross(foot, top, pen, width) : tallStitch(stitch.stitch, foot, top, pen, width);
}

function cross(foot: Point, top: Point, pen: Pen, width: string): string {
  const middle = between(foot, top, 0.6);
  const arm = pen.stitchMm * 0.28;
  const [along, across] = axes(foot, top);
  return [
    path([shifted(middle, along, -arm), shifted(middle, along, arm)], width),
    path([shifted(middle, across, -arm), shifted(middle, across, arm)], width),
  ].join('');
}

function tallStitch(stitch: FabricStitch, foot: Point, top: Point, pen: Pen, width: string): string {
  const arm = pen.stitchMm * 0.28;
  const [, across] = axes(foot, top);
  const bars = { sc: 0, hdc: 0, dc: 1, tr: 2 }[stitch];
  const parts = [path([foot, top], width), path([shifted(top, across, -arm), shifted(top, across, arm)], width)];
  for (let bar = 0; bar < bars; bar++) {
    const at = between(foot, top, 0.55 + 0.18 * bar);
    const slope: Point = [across[0] * 0.8 + (top[0] - foot[0]) * 0.02, across[1] * 0.8 + (top[1] - foot[1]) * 0.02];
    parts.push(path([shifted(at, slope, -arm), shifted(at, slope, arm)], width));
  }
  return parts.join('');
}

function chainColumn(chains: number, foot: Point, top: Point, width: string): string {
  const length = Math.hypot(top[0] - foot[0], top[1] - foot[1]) / chains;
  const degrees = (Math.atan2(top[1] - foot[1], top[0] - foot[0]) * 180) / Math.PI;
  return Array.from({ length: chains }, (_, index) => {
    const [x, y] = between(foot, top, (index + 0.5) / chains);
    return `<ellipse cx="${fixed(x)}" cy="${fixed(y)}" rx="${fixed(length * 0.46)}" ry="${fixed(length * 0.24)}" transform="rotate(${degrees.toFixed(0)} ${fixed(x)} ${fixed(y)})" ${width}/>`;
  }).join('');
}

function dot([x, y]: Point, pen: Pen): string {
  return `<circle cx="${fixed(x)}" cy="${fixed(y)}" r="${fixed(pen.stitchMm * 0.09)}" fill="currentColor" stroke="none"/>`;
}

function legend(plan: Plan, words: DrawingWords, halfMm: number, heightMm: number, pen: Pen): string[] {
  const used = (Object.keys(STITCH_FACTS) as FabricStitch[]).filter((stitch) =>
    plan.parts[0].rounds.some((round) => round.stitch === stitch),
  );
  const size = heightMm * 0.34;
  // the word for an increase takes the room of two
  const step = (2 * halfMm) / (used.length + 2);
  const y = halfMm + heightMm * 0.55;
  const items = used.flatMap((stitch, index) => {
    const x = -halfMm + step * (index + 0.35);
    const foot: Point = [x, y + size * 0.6];
    const top: Point = [x, y - size * 0.9];
    const sample = { stitch, parent: null, increase: false, chains: 0 };
    return [
      symbol(sample, foot, top, { ...pen, stitchMm: size * 1.6 }),
      label({ x: x + size, y: y + size * 0.3, size, anchor: 'start', text: words.stitch(stitch) }),
    ];
  });
  const x = -halfMm + step * (used.length + 0.35);
  const heavy = `stroke-width="${(pen.strokeMm * 1.7).toFixed(2)}"`;
  return [
    ...items,
    line(x - size * 0.5, y - size * 0.7, x, y + size * 0.5, heavy),
    line(x + size * 0.5, y - size * 0.7, x, y + size * 0.5, heavy),
    label({ x: x + size, y: y + size * 0.3, size, anchor: 'start', text: words.increase }),
  ];
}

type Point = readonly [x: number, y: number];

/** Rounds start at the top and go anticlockwise, as right-handed work does seen from its right side. */
function angleOf(index: number, count: number): number {
  return -Math.PI / 2 - (2 * Math.PI * (index + 0.5)) / count;
}

function polar(radius: number, angle: number): Point {
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
}

function between(a: Point, b: Point, share: number): Point {
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

function shifted(point: Point, direction: Point, distance: number): Point {
  return [point[0] + direction[0] * distance, point[1] + direction[1] * distance];
}

/** Unit vectors along foot to top and across. */
function axes(foot: Point, top: Point): readonly [Point, Point] {
  const length = Math.hypot(top[0] - foot[0], top[1] - foot[1]) || 1;
  const along: Point = [(top[0] - foot[0]) / length, (top[1] - foot[1]) / length];
  return [along, [-along[1], along[0]]];
}
