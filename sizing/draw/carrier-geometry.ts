import { type Meridian, meridianAt, meridianAtHeight, meridianOf } from '../body/meridian.ts';
import { chainLengthMm, roundHeightMm } from '../gauge.ts';
import type { PartName, Plan, StrapPlan } from '../plan.ts';
import type { Stitch } from '../stitches.ts';
import { catenary } from './catenary.ts';
import { type FabricPoint, type PlacedChains, type PlacedStitch, placeStitches } from './place-stitches.ts';
import { type ShapePoint, smoothRun, YARN_SHAPES, type YarnShape } from './yarn-shapes.ts';

/** Millimetres in the container's frame: origin at the centre of its base, z up its axis. */
export type Point3 = readonly [x: number, y: number, z: number];

/** One shape of yarn in its place: the shape's axes `along`, `up` and `out`, each of the length that 1 stands for. */
export interface YarnPiece {
  readonly shape: YarnShape;
  readonly origin: Point3;
  readonly along: Point3;
  readonly up: Point3;
  readonly out: Point3;
}

/** A stitch or chain as it lies on the stretched fabric. */
export interface DrawnStitch {
  readonly stitch: Stitch | 'cord' | 'ring';
  readonly part: PartName;
  readonly round: number;
  readonly pieces: readonly YarnPiece[];
  /** How many of the plan's stitches it is: 2 when two are worked together. */
  readonly counts: number;
}

export interface CarrierGeometry {
  readonly stitches: readonly DrawnStitch[];
  readonly yarnDiameterMm: number;
  /** Height of the lowest and the highest point, and the greatest distance from the axis, mm. */
  readonly bottomMm: number;
  readonly topMm: number;
  readonly reachMm: number;
}

/**
 * Yarn thickness over the width of a single crochet: the Craft Yarn Council's wraps per inch against its stitches on 4 in
 * (yarn-standards.ts) give 0.28 to 0.34 for categories 1 to 6; tests/sizing/draw-geometry.test.ts works it out.
 */
export const YARN_OVER_STITCH = 0.3;
/** The middle of the fabric lies this many yarn diameters off the container; a strand round it reaches one to either side. */
const FABRIC_OFF = 1.05;
/** Fabric that is looser than its container stands off by its slack, but hangs against it somewhere. */
const MOST_STANDOFF = 0.12;
/** A cord lies on its tab, or on the fabric, this many yarn diameters off the container. */
const CORD_OFF = 2.8;
/** Cords side by side are this many yarn diameters apart. */
const CORDS_APART = 2.6;
const SECTION_STEP_MM = 0.5;

/** The carrier, stitch for stitch, on its container. */
export function carrierGeometry(plan: Plan): CarrierGeometry {
  const meridian = meridianOf(plan.container);
  const { placed, edge } = placeStitches(plan, meridian);
  const strapTurn = edge[0]?.turn ?? 0;
  const fabric = new Fabric(plan, meridian, strapTurn);
  const stitches: DrawnStitch[] = [fabric.ring()];
  for (const each of placed) {
    if (each.made === 'stitch') stitches.push(fabric.stitch(each));
    else if (each.made === 'chains') stitches.push(...fabric.chains(each));
    else stitches.push(fabric.slip(each.part, each.round, each.at));
  }
  stitches.push(...drawstringStitches(plan, meridian, fabric), ...strapStitches(plan, fabric, edge));
  return { stitches, yarnDiameterMm: fabric.yarnMm, ...extent(stitches) };
}

/** The middle line of a piece's runs of yarn, mm. */
export function centreLines(piece: YarnPiece, stepsPerRun = 12): Point3[][] {
  return YARN_SHAPES[piece.shape].map((run) => smoothRun(run, stepsPerRun).map((point) => pointOf(piece, point)));
}

export function pointOf({ origin, along, up, out }: YarnPiece, [a, u, o]: ShapePoint): Point3 {
  return [0, 1, 2].map((k) => origin[k] + a * along[k] + u * up[k] + o * out[k]) as unknown as Point3;
}

/** From places on the fabric to points around the container. */
class Fabric {
  readonly yarnMm: number;
  private readonly widthMm: number;
  private readonly isMat: boolean;
  private readonly sections: Float64Array;
  /** How far the fabric of each round stands off the container beyond its own thickness, mm. */
  private readonly standoffs: number[] = [];

  constructor(
    private readonly plan: Plan,
    meridian: Meridian,
    /** Lies at the right, so that the strap goes up at the sides of a carrier seen from the front. */
    private readonly zeroTurn: number,
  ) {
    this.widthMm = plan.gauge.stitchWidthMm.value;
    this.yarnMm = YARN_OVER_STITCH * this.widthMm;
    this.isMat = plan.carrier === 'mat';
    this.sections = sectionsOf(plan, meridian, Math.max(1.5, this.yarnMm));
  }

  /** The starting ring, drawn small. */
  ring(): DrawnStitch {
    const radiusMm = this.ringMm();
    const { point, out } = this.at({ turn: this.zeroTurn, sMm: 0 }, FABRIC_OFF);
    const origin: Point3 = [0, 0, point[2]];
    const piece: YarnPiece = {
      shape: 'ring',
      origin,
      along: [radiusMm, 0, 0],
      up: [0, radiusMm, 0],
      out: times(out, this.yarnMm),
    };
    return { stitch: 'ring', part: 'base', round: 1, pieces: [piece], counts: 1 };
  }

  stitch({ stitch, part, round, feet, top, widthTurns }: PlacedStitch): DrawnStitch {
    this.standoffs[round] ??= part === 'base' ? 0 : this.standoffMm(widthTurns, top);
    const topAt = this.at(top, FABRIC_OFF, this.standoffOf(round));
    const along = this.along(top, widthTurns);
    const pieces = feet.map((foot): YarnPiece => {
      const under = Number.isNaN(foot.turn)
        ? this.inRing(topAt)
        : this.at(foot, FABRIC_OFF, this.standoffOf(round - 1));
      const out = times(unit(plus(topAt.out, under.out)), this.yarnMm);
      const shape = this.isCatch(part) ? 'catch' : stitch;
      return { shape, origin: under.point, along, up: minus(topAt.point, under.point), out };
    });
    pieces.push(this.head(topAt, along, widthTurns !== null));
    return { stitch, part, round, pieces, counts: feet.length };
  }

  /** A tab of rows of single crochet that stands up from the edge. */
  tab(end: FabricPoint, tab: StrapPlan['tab'], round: number): DrawnStitch[] {
    if (!tab) return [];
    this.standoffs[round] = this.standoffOf(round - 1);
    const widthTurns = this.widthMm / (2 * Math.PI * (this.section(end.sMm).rMm + this.yarnMm));
    const rowMm = tab.heightMm / tab.rows;
    const firstTurn = end.turn - (tab.stitches / 2) * widthTurns;
    const turning = Array.from({ length: tab.rows }, (_, row) => {
      const from = { turn: firstTurn, sMm: end.sMm + row * rowMm };
      const to = { turn: firstTurn, sMm: from.sMm + rowMm };
      const chain = { made: 'chains', chains: 1, from, to, over: null, caughtInOnePlace: false } as const;
      return this.chains({ ...chain, part: 'strap', round });
    });
    const rows = Array.from({ length: tab.rows * tab.stitches }, (_, k) => {
      const row = Math.floor(k / tab.stitches);
      const turn = end.turn + ((k % tab.stitches) - (tab.stitches - 1) / 2) * widthTurns;
      const foot = { turn, sMm: end.sMm + row * rowMm };
      const top = { turn, sMm: foot.sMm + rowMm };
      return this.stitch({ made: 'stitch', stitch: 'sc', part: 'strap', round, feet: [foot], top, widthTurns });
    });
    return [this.slip('strap', round, { ...end, turn: firstTurn }), ...turning.flat(), ...rows];
  }

  /** The way of a cord up the outside, a little to one side of a double strap's middle. */
  climb(end: FabricPoint, fromMm: number, toMm: number, side: number): Point3[] {
    const steps = Math.max(2, Math.ceil((toMm - fromMm) / 4));
    const asideMm = (side * CORDS_APART * this.yarnMm) / 2;
    return Array.from({ length: steps + 1 }, (_, k) => {
      const sMm = fromMm + (k / steps) * (toMm - fromMm);
      const { point } = this.at({ turn: end.turn, sMm }, CORD_OFF);
      const ahead = unit(this.along({ turn: end.turn, sMm }, null));
      return plus(point, times(ahead, asideMm));
    });
  }

  /** Once round at this place of the container. */
  round(sMm: number, off: number): Point3[] {
    return Array.from({ length: 61 }, (_, k) => this.at({ turn: 0.01 + (k / 60) * 0.99, sMm }, off).point);
  }

  private isCatch(part: PartName): boolean {
    return part === 'mesh' && this.plan.choices.mesh.kind === 'loop';
  }

  private inRing(top: SurfacePoint): SurfacePoint {
    const reach = Math.hypot(top.point[0], top.point[1]) || 1;
    const share = this.ringMm() / reach;
    return { ...top, point: [top.point[0] * share, top.point[1] * share, top.point[2]] };
  }

  private ringMm(): number {
    return Math.min(0.5 * this.widthMm, 0.35 * roundHeightMm(this.plan.gauge, this.plan.gauge.stitch));
  }

  /** The loops on top of a stitch: they lie on the edge, tipped outwards; in closed fabric the next round hides them. */
  private head({ point, out, up }: SurfacePoint, along: Point3, inFabric: boolean): YarnPiece {
    const tipped = unit(plus(times(out, 0.8), times(up, -0.6)));
    const face = unit(plus(times(out, 0.6), times(up, 0.8)));
    const origin = plus(point, times(out, (inFabric ? -0.2 : 0.12) * this.yarnMm));
    return { shape: 'head', origin, along, up: times(tipped, this.yarnMm * 0.8), out: times(face, this.yarnMm * 0.9) };
  }

  slip(part: PartName, round: number, at: FabricPoint): DrawnStitch {
    const { point, out, up } = this.at(at, FABRIC_OFF, this.standoffOf(round));
    const along = this.along(at, null);
    const piece: YarnPiece = {
      shape: 'slip',
      origin: plus(point, times(out, 0.35 * this.yarnMm)),
      along: times(along, 0.9),
      up: times(up, 0.7 * this.yarnMm),
      out: times(out, 0.7 * this.yarnMm),
    };
    return { stitch: 'sl st', part, round, pieces: [piece], counts: 1 };
  }

  /** A run of chains along its way from stitch to stitch. */
  chains(run: PlacedChains): DrawnStitch[] {
    const path = this.chainPath(run);
    const headMm = run.part === 'mesh' ? this.widthMm / 2 : 0;
    const points = evenlyAlong(shortened(path, headMm), run.chains + 1);
    return Array.from({ length: run.chains }, (_, k): DrawnStitch => {
      const along = minus(points[k + 1], points[k]);
      const origin = times(plus(points[k + 1], points[k]), 0.5);
      const away = this.outAt(origin);
      const out = unit(minus(away, times(along, dot(away, along) / (dot(along, along) || 1))));
      const piece: YarnPiece = {
        shape: 'chain',
        origin,
        along,
        up: times(unit(cross(out, along)), this.yarnMm * 0.85),
        out: times(out, this.yarnMm * 0.85),
      };
      return { stitch: 'ch', part: run.part, round: run.round, pieces: [piece], counts: 1 };
    });
  }

  private chainPath({ chains, round, part, from, to, over, caughtInOnePlace }: PlacedChains): Point3[] {
    const steps = 4 * Math.max(chains, 3);
    const [fromOff, toOff] = part === 'mesh' ? [0, 0] : [this.standoffOf(round - 1), this.standoffOf(round)];
    const sagMm = over ? 0 : this.slackMm(chains, from, to);
    const tip = caughtInOnePlace ? 0.18 : 0.7;
    return Array.from({ length: steps + 1 }, (_, k) => {
      const share = k / steps;
      const side = Math.abs(2 * share - 1);
      const rise = over ? 1 - (Math.hypot(side, tip) - tip) / (Math.hypot(1, tip) - tip) : 1 - side ** 2;
      const straight = from.sMm + share * (to.sMm - from.sMm);
      const middle = (from.sMm + to.sMm) / 2;
      const sMm = straight + rise * (over ? over.sMm - middle : -sagMm);
      const aside = over ? over.turn - (from.turn + to.turn) / 2 : 0;
      const turn = from.turn + share * (to.turn - from.turn) + rise * aside;
      return this.at({ turn, sMm }, FABRIC_OFF, fromOff + share * (toOff - fromOff)).point;
    });
  }

  /** How far a run that is longer than its way hangs down: the sag of a flat arc, sqrt(3/8 c (l - c)). */
  private slackMm(chains: number, from: FabricPoint, to: FabricPoint): number {
    const wayMm = distance(this.at(from, FABRIC_OFF).point, this.at(to, FABRIC_OFF).point) - 0.5 * this.widthMm;
    const lengthMm = chains * chainLengthMm(this.plan.gauge);
    if (wayMm <= 0 || lengthMm <= wayMm) return 0;
    return Math.min(Math.sqrt(0.375 * wayMm * (lengthMm - wayMm)), 0.8 * this.widthMm);
  }

  /** Work goes anticlockwise seen from its right side, which a carrier has outside and a mat on top. */
  private azimuth(turn: number): number {
    return (this.isMat ? 2 : -2) * Math.PI * (turn - this.zeroTurn);
  }

  /** Where a place on the fabric is: `off` yarn diameters off the container, and as much again as the fabric stands off. */
  at({ turn, sMm }: FabricPoint, off: number, standoffMm = 0): SurfacePoint {
    const azimuth = this.azimuth(turn);
    const { rMm, zMm, outR, outZ } = this.section(sMm);
    const r = rMm + outR * (off * this.yarnMm + standoffMm);
    const z = zMm + outZ * off * this.yarnMm;
    const [x, y] = [Math.cos(azimuth), Math.sin(azimuth)];
    return { point: [r * x, r * y, z], out: [outR * x, outR * y, outZ], up: [-outZ * x, -outZ * y, outR] };
  }

  /** The half section at an arc length, with its outward normal. */
  private section(sMm: number) {
    const at = Math.min(Math.max(sMm / SECTION_STEP_MM, 0), this.sections.length / 4 - 1.001);
    const k = Math.floor(at);
    const mix = (c: number) =>
      this.sections[4 * k + c] + (at - k) * (this.sections[4 * k + 4 + c] - this.sections[4 * k + c]);
    return { rMm: mix(0), zMm: mix(1), outR: mix(2), outZ: mix(3) };
  }

  private outAt([x, y, z]: Point3): Point3 {
    const r = Math.hypot(x, y) || 1;
    if (this.isMat) return [0, 0, 1];
    const below = z <= 0 ? 1 : 0;
    return below ? unit([(x / r) * 0.2, (y / r) * 0.2, -1]) : [x / r, y / r, 0];
  }

  /** Along the work, as long as one stitch. */
  private along({ turn, sMm }: FabricPoint, widthTurns: number | null): Point3 {
    const azimuth = this.azimuth(turn);
    const { rMm, outR } = this.section(sMm);
    const radiusMm = rMm + outR * FABRIC_OFF * this.yarnMm;
    const lengthMm = widthTurns === null ? this.widthMm : 2 * Math.PI * radiusMm * widthTurns;
    const ahead = this.isMat ? lengthMm : -lengthMm;
    return [-Math.sin(azimuth) * ahead, Math.cos(azimuth) * ahead, 0];
  }

  /** Closed rounds of wall and band with more stitches than the container is round stand off it by what they have over. */
  private standoffMm(widthTurns: number | null, top: FabricPoint): number {
    if (widthTurns === null) return 0;
    const { rMm } = this.section(top.sMm);
    const looseMm = this.widthMm / widthTurns / (2 * Math.PI) - (rMm + FABRIC_OFF * this.yarnMm);
    return Math.min(Math.max(0, looseMm), MOST_STANDOFF * rMm);
  }

  private standoffOf(round: number): number {
    return this.standoffs[round] ?? 0;
  }
}

interface SurfacePoint {
  readonly point: Point3;
  /** Unit vectors: off the container, and up its wall. */
  readonly out: Point3;
  readonly up: Point3;
}

/** Radius, height and outward normal (r, z) at every step along the container; a mat lies flat under it, right side up. */
function sectionsOf(plan: Plan, meridian: Meridian, reachMm: number): Float64Array {
  const isMat = plan.carrier === 'mat';
  const lengthMm = isMat ? plan.targetBaseDiameterMm.value : meridian.points[meridian.points.length - 1].sMm;
  const count = Math.ceil(lengthMm / SECTION_STEP_MM) + 2;
  const sections = new Float64Array(4 * count);
  for (let k = 0; k < count; k++) {
    const sMm = k * SECTION_STEP_MM;
    if (isMat) {
      sections.set([sMm, -2 * FABRIC_OFF * YARN_OVER_STITCH * plan.gauge.stitchWidthMm.value, 0, 1], 4 * k);
      continue;
    }
    const at = meridianAt(meridian, sMm);
    const [low, high] = [meridianAt(meridian, sMm - reachMm), meridianAt(meridian, sMm + reachMm)];
    const [dr, dz] = [high.rMm - low.rMm, high.zMm - low.zMm];
    const length = Math.hypot(dr, dz) || 1;
    sections.set([at.rMm, at.zMm, dz / length, -dr / length], 4 * k);
  }
  return sections;
}

/** The cord lies round the holes, its ends hang down in front; the collar is drawn open, as it is put on. */
function drawstringStitches({ drawstring, parts }: Plan, meridian: Meridian, fabric: Fabric): DrawnStitch[] {
  const rounds = parts.flatMap((part) => part.rounds);
  const cord = rounds.find(({ part }) => part === 'drawstring');
  if (!drawstring || !cord) return [];
  const holes = meridianAtHeight(meridian, rounds[drawstring.holesRound - 1].heightMm?.value ?? 0).sMm;
  const foot = Math.max(0, holes - drawstring.endMm);
  const [down, up] = [
    fabric.climb({ turn: 0.01, sMm: holes }, foot, holes, 0),
    fabric.climb({ turn: 0, sMm: holes }, foot, holes, 0),
  ];
  const path = [...down, ...fabric.round(holes, CORD_OFF), ...up.reverse()];
  return cordStitches(path, drawstring.stitches, cord.number, fabric.yarnMm).map((each) => ({
    ...each,
    part: 'drawstring',
  }));
}

/** Tabs worked up from the edge, and the cords as the plan fastens them, held up at their middle. */
function strapStitches(plan: Plan, fabric: Fabric, edge: readonly FabricPoint[]): DrawnStitch[] {
  const strap = plan.strap;
  if (!strap || edge.length === 0) return [];
  const rounds = plan.parts.filter(({ name }) => name === 'strap').flatMap((part) => part.rounds);
  const tabRound = rounds.find(({ closing }) => closing === 'rows');
  const cordRound = rounds.find(({ closing }) => closing === 'cord');
  const ends = strap.at.map((at) => edge[Math.min(at, edge.length) - 1]);
  const cords = cordPaths(strap, fabric, ends);
  return [
    ...(strap.tab && tabRound ? ends.flatMap((end) => fabric.tab(end, strap.tab, tabRound.number)) : []),
    ...(cordRound
      ? cords.flatMap((path, index) => {
          const cord = cordStitches(path, strap.stitches, cordRound.number, fabric.yarnMm);
          return strap.cord === 'flat' ? flatColumn(cord, index < strap.pieces) : cord;
        })
      : []),
  ];
}

/** A column of a flat strap: its chain to start on, its single crochets, and along the first column the turning chains. */
function flatColumn(cord: readonly DrawnStitch[], isEdge: boolean): DrawnStitch[] {
  const chains = (isEdge ? [cord[0], ...cord] : cord.slice(0, 1)).map((each): DrawnStitch => {
    const [piece] = each.pieces;
    return { ...each, stitch: 'ch', pieces: [{ ...piece, shape: 'chain' }] };
  });
  return [...chains, ...cord.map((each): DrawnStitch => ({ ...each, stitch: 'sc' }))];
}

function cordStitches(path: readonly Point3[], count: number, round: number, yarnMm: number): DrawnStitch[] {
  const points = evenlyAlong(path, count + 1);
  const thickMm = Math.min(yarnMm, distance(points[0], points[1]) * 0.5);
  let side: Point3 = [0, 1, 0];
  return Array.from({ length: count }, (_, k): DrawnStitch => {
    const along = minus(points[k + 1], points[k]);
    const origin = times(plus(points[k + 1], points[k]), 0.5);
    side = unit(minus(side, times(along, dot(side, along) / (dot(along, along) || 1))));
    const face = times(side, k % 2 === 0 ? 1 : -1);
    const piece: YarnPiece = {
      shape: 'cord',
      origin,
      along,
      up: times(unit(cross(face, along)), thickMm),
      out: times(face, thickMm),
    };
    return { stitch: 'cord', part: 'strap', round, pieces: [piece], counts: 1 };
  });
}

/** The way of each cord of a strap: over its tabs, or down the sides and under the base; double cords, and the columns of
 * a flat strap, side by side. */
function cordPaths(strap: StrapPlan, fabric: Fabric, ends: readonly FabricPoint[]): Point3[][] {
  const pairs = ends.length === 4 ? [ends.slice(0, 2), ends.slice(2)] : [ends];
  const beside = strap.cord === 'double' ? 2 : strap.across;
  const sides = Array.from({ length: beside }, (_, index) => 2 * index - (beside - 1));
  return sides.flatMap((side) => {
    const arches = pairs.map(([from, to]) => {
      const sewn = strap.tab ? strap.sewMm : 0;
      // On the way down the same edge of the strap lies on the other hand.
      const climb = (end: FabricPoint, aside: number) =>
        fabric.climb(end, strap.tab ? end.sMm : 0, end.sMm + sewn, aside);
      const [up, down] = [climb(from, side), climb(to, -side)];
      const over = archOver(strap.lengthMm, up[up.length - 1], down[down.length - 1]);
      return [...up, ...over, ...down.reverse()];
    });
    return strap.tab ? arches : [arches.flat()];
  });
}

/** A hanging line turned over: the arch of a strap of this length that is held up at its middle. */
function archOver(lengthMm: number, from: Point3, to: Point3): Point3[] {
  const spanMm = distance(from, to);
  const across = unit(minus(to, from));
  const middle = times(plus(from, to), 0.5);
  const points = Math.max(40, Math.round(lengthMm / 8));
  return catenary(spanMm, lengthMm, points).map(({ xMm, dropMm }) =>
    plus(plus(middle, times(across, xMm)), [0, 0, dropMm]),
  );
}

/** A way without what the heads of the stitches at its ends take of it, at most a third of it each. */
function shortened(path: readonly Point3[], byMm: number): readonly Point3[] {
  if (byMm <= 0) return path;
  const steps = path.length - 1;
  const lengthMm = path.slice(1).reduce((sum, point, k) => sum + distance(path[k], point), 0);
  const fine = evenlyAlong(path, 6 * steps + 1);
  const off = Math.round(Math.min(1 / 3, byMm / lengthMm) * 6 * steps);
  return fine.slice(off, fine.length - off);
}

/** Points at equal steps along a way, its ends included. */
export function evenlyAlong(path: readonly Point3[], count: number): Point3[] {
  const at: number[] = [0];
  for (let k = 1; k < path.length; k++) at.push(at[k - 1] + distance(path[k - 1], path[k]));
  const whole = at[at.length - 1];
  let piece = 0;
  return Array.from({ length: count }, (_, k) => {
    const wanted = (whole * k) / Math.max(1, count - 1);
    while (piece < path.length - 2 && at[piece + 1] < wanted) piece++;
    const length = at[piece + 1] - at[piece];
    const share = length > 0 ? Math.min(1, (wanted - at[piece]) / length) : 0;
    return plus(path[piece], times(minus(path[piece + 1], path[piece]), share));
  });
}

function extent(stitches: readonly DrawnStitch[]) {
  let [bottomMm, topMm, reachMm] = [0, 0, 0];
  for (const { pieces } of stitches) {
    for (const { origin, up } of pieces) {
      bottomMm = Math.min(bottomMm, origin[2], origin[2] + up[2]);
      topMm = Math.max(topMm, origin[2], origin[2] + up[2]);
      reachMm = Math.max(reachMm, Math.hypot(origin[0], origin[1]));
    }
  }
  return { bottomMm, topMm, reachMm };
}

const plus = (a: Point3, b: Point3): Point3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const minus = (a: Point3, b: Point3): Point3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const times = (a: Point3, s: number): Point3 => [a[0] * s, a[1] * s, a[2] * s];
const dot = (a: Point3, b: Point3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const distance = (a: Point3, b: Point3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const cross = (a: Point3, b: Point3): Point3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
function unit(a: Point3): Point3 {
  const length = Math.hypot(a[0], a[1], a[2]);
  return length > 1e-12 ? times(a, 1 / length) : [0, 0, 1];
}
