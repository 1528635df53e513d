import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { baseChartSvg } from '../../sizing/draw/base-chart.ts';
import { bodyChartSvg } from '../../sizing/draw/body-chart.ts';
import { sideViewSvg } from '../../sizing/draw/side-view.ts';
import { defaultGauge, gaugeFromSwatch } from '../../sizing/gauge.ts';
import type { Plan, PlanResult } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { drawingWords } from '../../web/plan/words/drawing-words.ts';
import { voiceOf } from '../../web/plan/words/voice.ts';
import { en } from '../../web/text/en/text.ts';

const style = wordsIn('us');

describe.each(['net', 'sleeve', 'mat'] as const)('drawings of a %s', (carrier) => {
  const plan = planned(carrier);

  it.each([
    ['side view', sideViewSvg],
    ['base chart', baseChartSvg],
    ['chart of net and band', bodyChartSvg],
  ] as const)('the %s is a drawing that renders, with title, and leaves ink', async (_name, draw) => {
    const svg = draw(plan, style);
    expect(svg).toContain('<title>');
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    const onPaper = await sharp(Buffer.from(svg)).flatten({ background: '#fff' }).png().toBuffer();
    const { channels } = await sharp(onPaper).stats();
    expect(channels[0].min).toBeLessThan(100);
    expect(channels[0].max).toBe(255);
  });
});

describe('numbers of the side view', () => {
  it.each([
    ['tall', 60, 330],
    ['everyday', 73, 210],
    ['flat', 190, 60],
  ] as const)('are read on paper: some six points, no closer than a line (%s)', (_name, diameterMm, heightMm) => {
    for (const carrier of ['net', 'sleeve', 'mat'] as const) {
      const container = containerFromTape({ diameterMm, heightMm });
      const svg = sideViewSvg(made(planCarrier(container, defaultGauge('sc'), defaultChoices(carrier))), style);
      const [, , width, height] = (/viewBox="([^"]+)"/.exec(svg)?.[1] ?? '').split(' ').map(Number);
      const texts = [...svg.matchAll(/<text x="([-\d.]+)" y="([-\d.]+)" font-size="([\d.]+)"/g)].map(
        ([, x, y, size]) => ({
          x: Number(x),
          y: Number(y),
          // print.css gives it 42 by 40 mm; a point is 25.4 / 72 mm.
          points: (Number(size) * Math.min(42 / width, 40 / height) * 72) / 25.4,
        }),
      );
      expect(texts.length).toBeGreaterThan(1);
      for (const { points } of texts) expect(points).toBeGreaterThan(5.8);
      // Nothing is cut off on the right: figures and small letters are 0.56 and 0.5 of their size wide on the whole.
      const right = Number((/viewBox="([-\d.]+)/.exec(svg) ?? [])[1]) + width;
      for (const [, x, size, word] of svg.matchAll(
        /<text x="([-\d.]+)"[^>]*font-size="([\d.]+)"[^>]*"start"[^>]*>([^<]+)</g,
      )) {
        expect(Number(x) + Number(size) * 0.53 * word.length, word).toBeLessThan(right);
      }
      const farthest = Math.max(...texts.map(({ x }) => x));
      const column = texts
        .filter(({ x }) => x === farthest)
        .map(({ y }) => y)
        .sort((a, b) => a - b);
      const size = Math.max(...texts.map(({ points }) => points)) / Math.min(42 / width, 40 / height) / (72 / 25.4);
      column.slice(1).forEach((y, index) => {
        expect(y - column[index]).toBeGreaterThan(size);
      });
    }
  });
});

describe('the base chart', () => {
  it('draws every stitch once, with the two strokes of its symbol, and a sample of each below', () => {
    const { rounds } = planned('net', 'sc').parts[0];
    const strokes = baseChartSvg(planned('net', 'sc'), style).match(/<path/g)?.length;
    const stitches = rounds.reduce((sum, round) => sum + round.stitches, 0);
    const kinds = new Set(rounds.map((round) => round.stitch)).size;
    // An arrow at the start of every round and one below; the increase below has two strokes.
    expect(strokes).toBe(2 * stitches + rounds.length + 2 * kinds + 2 + 1);
  });

  it('explains every symbol it draws, and where a round starts', () => {
    const words = [...baseChartSvg(planned('net'), style).matchAll(/<text[^>]*>([^<]+)</g)].map(([, word]) => word);
    expect(words.filter((word) => !/^\d+$/.test(word)).sort()).toEqual(
      ['ring', 'ch', 'sl st', 'sc', 'dc', 'increase', 'start'].sort(),
    );
  });

  it('is mirrored in the left hand', () => {
    const [right, left] = (['right', 'left'] as const).map((hand) =>
      dots(baseChartSvg(planned('net'), wordsIn('us', hand))),
    );
    expect(left.length).toBe(right.length);
    left.forEach(([x, y], index) => {
      expect(x).toBeCloseTo(-right[index][0], 1);
      expect(y).toBeCloseTo(right[index][1], 1);
    });
  });

  it('lights the round in work and leaves the others pale', () => {
    const { rounds } = planned('net').parts[0];
    expect(baseChartSvg(planned('net'), style, 2).match(/opacity="0.3"/g)).toHaveLength(rounds.length - 1);
  });

  it('is labelled in the reader’s terms', () => {
    expect(baseChartSvg(planned('net'), wordsIn('uk'))).toContain('>tr<');
    expect(baseChartSvg(planned('net'), style)).toContain('>dc<');
  });
});

describe('strokes of the base chart', () => {
  it.each(['sc', 'hdc', 'dc', 'tr'] as const)(
    'never touch those of the next stitch, increases included (%s)',
    (stitch) => {
      const perTen = { sc: 22, hdc: 15, dc: 10, tr: 7 }[stitch];
      for (const diameterMm of [50, 73, 110]) {
        const gauge = gaugeFromSwatch({ stitch, stitches: 20, widthMm: 100, rounds: perTen, heightMm: 100 });
        const plan = made(planCarrier(containerFromTape({ diameterMm, heightMm: 160 }), gauge, defaultChoices('net')));
        const symbols = symbolsOf(plan, baseChartSvg(plan, style));
        let nearest = Number.POSITIVE_INFINITY;
        symbols.forEach((symbol, index) => {
          const next = symbols[index + 1];
          if (next?.round !== symbol.round) return;
          nearest = Math.min(nearest, clearance(symbol.strokes, next.strokes));
        });
        expect(nearest, `${diameterMm} mm`).toBeGreaterThan(0);
      }
    },
  );
});

describe('the chart of net and band', () => {
  const post = planned('net');
  const loop = planned('net', 'dc', 'loop');

  it('is worked from right to left: chains stand to the left of their stitch, arrows on the right point left', () => {
    const drawn = bodyChartSvg(post, style);
    // Each chain of the mesh lies between its own post and the next one on the left.
    const posts = uprights(drawn);
    const chains = ovals(drawn);
    expect(chains.length).toBeGreaterThan(0);
    expect(Math.max(...chains.map(([x]) => x))).toBeLessThan(Math.max(...posts));
    expect(Math.min(...chains.map(([x]) => x))).toBeLessThan(Math.min(...posts));
    for (const [tip, ...back] of arrowheads(drawn).slice(0, -1)) {
      expect(tip).toBeLessThan(Math.min(...back));
      expect(tip).toBeGreaterThan(Math.max(...posts));
    }
  });

  it.each([
    ['posts', post],
    ['loops', loop],
  ] as const)('is mirrored in the left hand (%s)', (_name, plan) => {
    const [right, left] = (['right', 'left'] as const).map((hand) => ovals(bodyChartSvg(plan, wordsIn('us', hand))));
    expect(left.length).toBe(right.length);
    const sum = right[0][0] + left[0][0];
    left.slice(0, -1).forEach(([x, y], index) => {
      expect(x + right[index][0]).toBeCloseTo(sum, 1);
      expect(y).toBeCloseTo(right[index][1], 1);
    });
  });

  it('says under one repeat how often it comes in a round', () => {
    expect(bodyChartSvg(post, style)).toContain(`>repeat: ${post.zones[0].cells} in a rnd<`);
  });

  it('catches a loop in the middle of the loop below', () => {
    const rows = new Map<number, number[]>();
    for (const [x, y] of crosses(bodyChartSvg(loop, style))) rows.set(y, [...(rows.get(y) ?? []), x]);
    const [below, above] = [...rows.values()].filter((row) => row.length === 4);
    const cellMm = below[0] - below[1];
    above.forEach((x, cell) => {
      expect(x - below[cell]).toBeCloseTo(cellMm / 2, 1);
    });
  });
});

function planned(carrier: 'net' | 'sleeve' | 'mat', stitch: 'sc' | 'dc' = 'dc', kind: 'post' | 'loop' = 'post'): Plan {
  const usual = defaultChoices(carrier);
  const container = containerFromTape({ diameterMm: 70, heightMm: 160 });
  return made(planCarrier(container, defaultGauge(stitch), { ...usual, mesh: { ...usual.mesh, kind } }));
}

function made(result: PlanResult): Plan {
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

type Segment = readonly [ax: number, ay: number, bx: number, by: number, width: number];

interface Symbol {
  readonly round: number;
  readonly strokes: readonly Segment[];
}

/** The strokes of each stitch of the base in order, read from the drawing; turning chains have none. */
function symbolsOf(plan: Plan, svg: string): Symbol[] {
  const open = [...svg.matchAll(/<path d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)" stroke-width="([\d.]+)"/g)].map(
    (match) => match.slice(1).map(Number) as unknown as Segment,
  );
  let used = 0;
  return plan.parts[0].rounds.flatMap(({ number, stitch, stitches, steps }) => {
    const chained = steps.some((step) => step.do === 'turning-chain' && step.countsAs) ? 1 : 0;
    const each = { sc: 2, hdc: 2, dc: 3, tr: 4 }[stitch ?? 'sc'];
    return Array.from({ length: stitches - chained }, () => {
      used += each;
      return { round: number, strokes: open.slice(used - each, used) };
    });
  });
}

/** Paper left between the strokes of two symbols; negative where they touch. */
function clearance(some: readonly Segment[], others: readonly Segment[]): number {
  return Math.min(...some.flatMap((a) => others.map((b) => segmentDistance(a, b) - (a[4] + b[4]) / 2)));
}

function segmentDistance(a: Segment, b: Segment): number {
  const side = ([ax, ay, bx, by]: Segment, x: number, y: number) => (bx - ax) * (y - ay) - (by - ay) * (x - ax);
  const parts = (line: Segment, other: Segment) => side(line, other[0], other[1]) * side(line, other[2], other[3]) < 0;
  if (parts(a, b) && parts(b, a)) return 0;
  return Math.min(
    pointDistance(a, b[0], b[1]),
    pointDistance(a, b[2], b[3]),
    pointDistance(b, a[0], a[1]),
    pointDistance(b, a[2], a[3]),
  );
}

function pointDistance([ax, ay, bx, by]: Segment, x: number, y: number): number {
  const lengthSquared = (bx - ax) ** 2 + (by - ay) ** 2;
  const share = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / lengthSquared));
  return Math.hypot(ax + share * (bx - ax) - x, ay + share * (by - ay) - y);
}

/** Centres of chains; the last is the sample below. */
function ovals(svg: string): [number, number][] {
  return [...svg.matchAll(/<ellipse cx="([-\d.]+)" cy="([-\d.]+)"/g)].map(([, x, y]) => [Number(x), Number(y)]);
}

/** x of the posts: upright strokes above the round they stand on. */
function uprights(svg: string): number[] {
  const rows = svg.split('<g>').slice(2, 4).join('');
  return [...rows.matchAll(/<path d="M([-\d.]+) [-\d.]+L([-\d.]+) /g)].flatMap(([, from, to]) =>
    from === to ? [Number(from)] : [],
  );
}

/** x of the tip and of the two other corners of every arrowhead. */
function arrowheads(svg: string): number[][] {
  const found = svg.matchAll(/<path d="M([-\d.]+) [-\d.]+L([-\d.]+) [-\d.]+L([-\d.]+) [-\d.]+Z"/g);
  return [...found].map((match) => match.slice(1).map(Number));
}

/** Middles of single crochets: the level stroke of each cross. */
function crosses(svg: string): [number, number][] {
  const level = svg.matchAll(/<path d="M([-\d.]+) ([-\d.]+)L([-\d.]+) \2"/g);
  return [...level].map(([, from, y, to]) => [(Number(from) + Number(to)) / 2, Number(y)]);
}

/** Centres of the slip stitches that join the rounds. */
function dots(svg: string): [number, number][] {
  const joins = svg.matchAll(/<circle cx="([-\d.]+)" cy="([-\d.]+)" r="[\d.]+" fill="currentColor"/g);
  return [...joins].map(([, x, y]): [number, number] => [Number(x), Number(y)]).slice(0, 3);
}

function wordsIn(terms: 'us' | 'uk', hand: 'right' | 'left' = 'right') {
  return drawingWords(en, voiceOf({ language: 'en', terms, units: 'cm', hand }));
}
