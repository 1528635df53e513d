import { type Meridian, meridianAtHeight, meridianOf } from '../body/meridian.ts';
import type { Part, Plan, Round } from '../plan.ts';
import type { DrawingWords } from './drawing-words.ts';
import { fixed, label, line, path, svgDocument } from './svg.ts';

/** Fabric is drawn this far outside the container. */
const FABRIC_MM = 1.2;

/** The corner of a page it is printed in (print.css), where its numbers are to be read: 2.3 mm is six and a half points. */
const ON_PAPER = { widthMm: 42, heightMm: 40, textMm: 2.3 } as const;

/** Room for the numbers on the right and below, in sizes of the text. */
const LABEL_TEXTS = 8;
const BELOW_TEXTS = 3;

/** The container from the side with the carrier on it, to scale, with its main sizes. */
export function sideViewSvg(plan: Plan, words: DrawingWords): string {
  const meridian = meridianOf(plan.container);
  const widestMm = Math.max(...meridian.points.map((point) => point.rMm));
  const heightMm = meridian.heightMm;
  const strapMm = plan.strap ? Math.min(heightMm * 0.35, 90) : 0;
  const marginMm = Math.max(14, heightMm * 0.12);
  const [acrossMm, upMm] = [2 * (widestMm + marginMm), heightMm + strapMm + marginMm * 0.4];
  const textMm = Math.max(
    acrossMm / (ON_PAPER.widthMm / ON_PAPER.textMm - LABEL_TEXTS),
    upMm / (ON_PAPER.heightMm / ON_PAPER.textMm - BELOW_TEXTS),
  );
  return svgDocument(
    {
      title: words.sideTitle,
      description: words.sideDescription(plan.container.maxDiameterMm.value, heightMm, plan.coverHeightMm?.value ?? 0),
      minX: -widestMm - marginMm,
      minY: -heightMm - strapMm - marginMm * 0.4,
      width: acrossMm + LABEL_TEXTS * textMm,
      height: upMm + BELOW_TEXTS * textMm,
    },
    [
      path(
        silhouette(meridian),
        'stroke-width="0.7" stroke-opacity="0.55" fill="currentColor" fill-opacity="0.05"',
        true,
      ),
      ...plan.parts.flatMap((part) => partSvg(part, plan, meridian)),
      ...(plan.strap ? [strapSvg(plan, meridian, strapMm)] : []),
      ...dimensions(plan, words, widestMm, textMm),
    ],
  );
}

function silhouette(meridian: Meridian): [number, number][] {
  const right = meridian.points.map((point): [number, number] => [point.rMm, -point.zMm]);
  const left = [...right].reverse().map(([x, y]): [number, number] => [-x, y]);
  return [...right, ...left];
}

function partSvg(part: Part, plan: Plan, meridian: Meridian): string[] {
  switch (part.name) {
    case 'base':
      return [baseSvg(plan, meridian)];
    case 'wall':
      return [fabricSvg(part, plan, meridian, 0.16), ...roundLines(part, meridian)];
    case 'mesh':
      return part.rounds.flatMap((round) => meshRoundSvg(round, plan, meridian));
    case 'band':
      return [fabricSvg(part, plan, meridian, 0.28), ...roundLines(part, meridian)];
    case 'drawstring':
    case 'strap':
      return [];
  }
}

function baseSvg(plan: Plan, meridian: Meridian): string {
  if (plan.carrier === 'mat') {
    const halfMm = plan.targetBaseDiameterMm.value / 2;
    return line(-halfMm, FABRIC_MM, halfMm, FABRIC_MM, 'stroke-width="2.4"');
  }
  const topMm = firstWallFootMm(plan);
  const right = outlineBetween(meridian, 0, topMm);
  const left = [...right].reverse().map(([x, y]): [number, number] => [-x, y]);
  return path([...left, [-right[0][0], FABRIC_MM], [right[0][0], FABRIC_MM], ...right], 'stroke-width="2.2"');
}

/** Height where the base ends and the wall, mesh or band starts. */
function firstWallFootMm(plan: Plan): number {
  const first = plan.parts.find((part) => part.name !== 'base')?.rounds[0]?.heightMm?.value ?? 0;
  return Math.max(0, Math.min(first * 0.3, first - 1));
}

/** Fabric from the round below this part to its last round. */
function fabricSvg(part: Part, plan: Plan, meridian: Meridian, opacity: number): string {
  const [fromMm, toMm] = [footOf(part, plan), topOf(part)];
  const right = outlineBetween(meridian, fromMm, toMm);
  const left = [...right].reverse().map(([x, y]): [number, number] => [-x, y]);
  return path([...right, ...left], `stroke-width="0.8" fill="currentColor" fill-opacity="${opacity}"`, true);
}

function roundLines(part: Part, meridian: Meridian): string[] {
  return part.rounds.slice(0, -1).map((round) => {
    const zMm = round.heightMm?.value ?? 0;
    const rMm = meridianAtHeight(meridian, zMm).rMm + FABRIC_MM;
    return line(-rMm, -zMm, rMm, -zMm, 'stroke-width="0.3" stroke-opacity="0.6"');
  });
}

/** The cells on the side that is seen: posts upright, loops as waves, both foreshortened towards the edge. */
function meshRoundSvg(round: Round, plan: Plan, meridian: Meridian): string[] {
  const topMm = round.heightMm?.value ?? 0;
  const zone = plan.zones.find(({ fromRound, toRound }) => round.number >= fromRound && round.number <= toRound);
  const cells = round.spaces;
  const fromMm = previousHeight(round, plan);
  if (zone?.kind === 'loop') return [loopsSvg(fromMm, topMm, cells, round.number, meridian)];
  const top = meridianAtHeight(meridian, topMm).rMm + FABRIC_MM;
  const foot = meridianAtHeight(meridian, fromMm).rMm + FABRIC_MM;
  // The two posts of a V-stitch lean half as far apart as its neighbours are.
  const leans = zone?.kind === 'v-stitch' ? [-1, 1].map((side) => (side * Math.PI) / (2 * cells)) : [0];
  const posts = visibleAngles(cells, 0).flatMap((angle) =>
    leans.map((lean) =>
      line(foot * Math.sin(angle), -fromMm, top * Math.sin(angle + lean), -topMm, 'stroke-width="0.9"'),
    ),
  );
  return [...posts, line(-top, -topMm, top, -topMm, 'stroke-width="0.7"')];
}

function loopsSvg(fromMm: number, topMm: number, cells: number, number: number, meridian: Meridian): string {
  const foot = meridianAtHeight(meridian, fromMm).rMm + FABRIC_MM;
  const top = meridianAtHeight(meridian, topMm).rMm + FABRIC_MM;
  const points = visibleAngles(2 * cells, 0).map((angle, index): [number, number] => {
    const isTop = (index + number) % 2 === 0;
    return isTop ? [top * Math.sin(angle), -topMm] : [foot * Math.sin(angle), -fromMm];
  });
  return path(points, 'stroke-width="0.8"');
}

/** Angles of the cells on the visible half, from left to right, 0 straight ahead. */
function visibleAngles(count: number, offset: number): number[] {
  const step = (2 * Math.PI) / count;
  const half = Math.floor(Math.PI / 2 / step);
  return Array.from({ length: 2 * half + 1 }, (_, index) => (index - half) * step + offset);
}

function strapSvg(plan: Plan, meridian: Meridian, riseMm: number): string {
  const topMm = plan.coverHeightMm?.value ?? meridian.heightMm;
  const rMm = meridianAtHeight(meridian, topMm).rMm + FABRIC_MM;
  const peakMm = meridian.heightMm + riseMm;
  return `<path d="M${fixed(-rMm)} ${fixed(-topMm)}C${fixed(-rMm)} ${fixed(-peakMm)} ${fixed(rMm)} ${fixed(-peakMm)} ${fixed(rMm)} ${fixed(-topMm)}" stroke-width="2.2"/>`;
}

function dimensions(plan: Plan, words: DrawingWords, widestMm: number, textMm: number): string[] {
  const heightMm = plan.container.heightMm.value;
  const base = plan.parts[0].rounds.at(-1)?.widthMm?.value ?? plan.container.baseDiameterMm.value;
  const x = widestMm + textMm * 1.4;
  const y = textMm * 1.3;
  const cover = plan.coverHeightMm;
  const heightLabelY = -heightMm + textMm;
  // Never on top of the number of the height.
  const coverLabelY = Math.max(-(cover?.value ?? 0) + textMm * 0.35, heightLabelY + textMm * 1.15);
  return [
    ...measure(-base / 2, y, base / 2, y, textMm),
    label({ x: 0, y: y + textMm * 1.2, size: textMm, anchor: 'middle', text: words.length(base) }),
    ...measure(x, 0, x, -heightMm, textMm),
    label({
      x: x + textMm * 0.5,
      y: heightLabelY,
      size: textMm,
      anchor: 'start',
      text: words.length(heightMm),
    }),
    ...(cover
      ? [
          line(widestMm + 2, -cover.value, x + textMm * 0.3, -cover.value, 'stroke-width="0.3"'),
          label({
            x: x + textMm * 0.5,
            y: coverLabelY,
            size: textMm,
            anchor: 'start',
            text: words.length(cover.value),
          }),
        ]
      : []),
    ...(plan.band
      ? [
          label({
            x: x + textMm * 0.5,
            y: coverLabelY + textMm * 1.15,
            size: textMm * 0.9,
            anchor: 'start',
            text: words.around(plan.band.relaxedCircumferenceMm),
          }),
        ]
      : []),
    ...(plan.strap
      ? [
          label({
            x: widestMm * 0.75,
            y: -heightMm - textMm * 1.6,
            size: textMm * 0.9,
            anchor: 'start',
            text: words.strap(plan.strap.lengthMm),
          }),
        ]
      : []),
  ];
}

/** A dimension line with ticks at its ends. */
function measure(x1: number, y1: number, x2: number, y2: number, textMm: number): string[] {
  const tick = textMm * 0.35;
  const [dx, dy] = x1 === x2 ? [tick, 0] : [0, tick];
  const ink = 'stroke-width="0.4"';
  return [
    line(x1, y1, x2, y2, ink),
    line(x1 - dx, y1 - dy, x1 + dx, y1 + dy, ink),
    line(x2 - dx, y2 - dy, x2 + dx, y2 + dy, ink),
  ];
}

function outlineBetween(meridian: Meridian, fromMm: number, toMm: number): [number, number][] {
  const ends = [fromMm, toMm].map((zMm) => ({ ...meridianAtHeight(meridian, zMm), zMm }));
  const inside = meridian.points.filter((point) => point.zMm > fromMm && point.zMm < toMm);
  return [ends[0], ...inside, ends[1]].map((point): [number, number] => [point.rMm + FABRIC_MM, -point.zMm]);
}

function footOf(part: Part, plan: Plan): number {
  return previousHeight(part.rounds[0], plan);
}

function topOf({ rounds }: Part): number {
  return rounds[rounds.length - 1].heightMm?.value ?? 0;
}

function previousHeight({ number }: Round, plan: Plan): number {
  const rounds = plan.parts.flatMap((part) => part.rounds);
  return rounds[number - 2]?.heightMm?.value ?? firstWallFootMm(plan);
}
