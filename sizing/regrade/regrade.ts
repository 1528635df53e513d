import { baseTarget } from '../base/base.ts';
import { reachOfRoundsMm, type WorkedRound } from '../base/base-candidates.ts';
import { bandHeightMm } from '../body/band.ts';
import { type Meridian, meridianAt, meridianOf } from '../body/meridian.ts';
import { meshOf } from '../body/mesh.ts';
import { plainWall, shapedWall } from '../body/wall.ts';
import { buildPlan, NOTHING_WORKED } from '../build-plan.ts';
import { type CarrierKind, type Choices, checkChoices, defaultChoices } from '../choices.ts';
import { type Container, checkContainer } from '../container.ts';
import type { Estimate } from '../estimate.ts';
import { discWidth, gaugeAfterWidth } from '../follow/gauge-update.ts';
import { checkGauge, defaultGauge, type Gauge } from '../gauge.ts';
import type { Plan } from '../plan.ts';
import { type Refusal, RefusedInput } from '../refusal.ts';
import type { FabricStitch } from '../stitches.ts';
import { habitOf, regrownBase, stitchByStart } from './own-base.ts';
import type { OwnMesh, OwnPattern } from './own-pattern.ts';

/** A maker's pattern, what it was made for, and how she works where she knows it. */
export interface OwnDesign {
  readonly pattern: OwnPattern;
  readonly madeFor: Container;
  /** Her gauge; null: worked out from the pattern and the container it fits. */
  readonly gauge: Gauge | null;
}

/** What was taken over, assumed or had to change on the way to another container. */
export type RegradeNote =
  | { readonly code: 'stitch-assumed'; readonly stitch: FabricStitch; readonly start: number }
  | { readonly code: 'gauge-from-pattern'; readonly stitchWidthMm: Estimate; readonly roundHeightMm: Estimate }
  | { readonly code: 'ease-kept'; readonly easeRatio: number }
  | { readonly code: 'base-kept'; readonly start: number; readonly perRound: number }
  | { readonly code: 'last-round-adds'; readonly round: number; readonly adds: number; readonly usual: number }
  | { readonly code: 'cells-uneven'; readonly cells: number; readonly stitches: number; readonly usual: number }
  | { readonly code: 'chains-fitted'; readonly from: number; readonly to: number }
  | { readonly code: 'band-lower'; readonly from: number; readonly to: number }
  | { readonly code: 'cover-kept'; readonly share: number }
  | { readonly code: 'cover-usual' };

/** Her rounds cannot be the carrier of that container. */
export type Disagreement =
  | { readonly code: 'base-width'; readonly baseMm: Estimate; readonly containerMm: Estimate }
  | { readonly code: 'taller-than-container'; readonly patternMm: number; readonly containerMm: number };

export type RegradeResult =
  | { readonly outcome: 'planned'; readonly plan: Plan; readonly notes: readonly RegradeNote[] }
  | { readonly outcome: 'disagrees'; readonly disagreement: Disagreement }
  | { readonly outcome: 'refused'; readonly reason: Refusal };

class Disagrees extends Error {
  constructor(readonly disagreement: Disagreement) {
    super(disagreement.code);
  }
}

/**
 * The same design for another container: her start, her increases, her stitches a cell, her chains, her ease and her
 * share of the height. Every count that had to give is named in the notes. Never throws for bad values.
 */
export function regrade(design: OwnDesign, container: Container, usual?: Choices): RegradeResult {
  try {
    checkContainer(design.madeFor);
    checkContainer(container);
    return { outcome: 'planned', ...regraded(design, container, usual) };
  } catch (error) {
    if (error instanceof Disagrees) return { outcome: 'disagrees', disagreement: error.disagreement };
    if (error instanceof RefusedInput) return { outcome: 'refused', reason: error.refusal };
    throw error;
  }
}

function regraded({ pattern, madeFor, gauge: given }: OwnDesign, container: Container, usual?: Choices) {
  const notes: RegradeNote[] = [];
  const choices = choicesOf(pattern, usual);
  const gauge = given ?? gaugeFromPattern(pattern, madeFor, choices, notes);
  checkGauge(gauge);
  const own = ownProportions(pattern, madeFor, gauge, choices, notes);
  const regradedChoices = { ...own.choices, coverHeightMm: coverFor(own.cover, container) };
  checkChoices(regradedChoices);
  const base = newBase(pattern, own, container, gauge, regradedChoices, notes);
  const plan = netThatFits(container, gauge, regradedChoices, base, notes);
  noteCells(pattern.mesh, plan, notes);
  noteBand(pattern, plan, notes);
  return { plan, notes };
}

/** A net where she has cells, a sleeve where she has a wall or a band, else a mat. */
function carrierOf({ mesh, wallRounds, bandRounds }: OwnPattern): CarrierKind {
  if (mesh) return 'net';
  return (wallRounds ?? 0) > 0 || (bandRounds ?? 0) > 0 ? 'sleeve' : 'mat';
}

function choicesOf(pattern: OwnPattern, given?: Choices): Choices {
  const carrier = carrierOf(pattern);
  const usual = given?.carrier === carrier ? given : defaultChoices(carrier);
  const { mesh, bandRounds, wallRounds, strapMm } = pattern;
  const stitchesAround = pattern.baseCounts[pattern.baseCounts.length - 1];
  return {
    ...usual,
    baseCandidate: 0,
    plainWallRounds: carrier === 'net' ? (wallRounds ?? usual.plainWallRounds) : usual.plainWallRounds,
    mesh: mesh
      ? {
          ...usual.mesh,
          kind: mesh.kind,
          chains: mesh.chains,
          skip: Math.max(1, Math.min(8, Math.round(stitchesAround / mesh.cells) - 1)),
          postStitch: mesh.postStitch ?? usual.mesh.postStitch,
          mostHoleMm: null,
        }
      : usual.mesh,
    band: { ...usual.band, rounds: Math.max(carrier === 'net' ? 1 : 0, bandRounds ?? usual.band.rounds) },
    strap: strapMm === null ? usual.strap : { ...usual.strap, lengthMm: strapMm },
  };
}

/**
 * How far a carrier that fits may be from the usual ease (1 sd) when the gauge is read off it, and how far makers'
 * stitches are from the usual before it is (both common practice, no source).
 */
const EASE_SD = 0.04;
const UNKNOWN_GAUGE_SD = 0.35;

/** Stitch width and round height that make her disc as wide as the base of the container it fits. */
function gaugeFromPattern(pattern: OwnPattern, madeFor: Container, choices: Choices, notes: RegradeNote[]): Gauge {
  const start = pattern.baseCounts[0];
  const stitch = pattern.stitch ?? stitchByStart(start);
  if (pattern.stitch === null) notes.push({ code: 'stitch-assumed', stitch, start });
  const usual = defaultGauge(stitch);
  const spread = usual.roundHeightMm.sd / usual.roundHeightMm.value;
  const ratioSd = Math.sqrt(Math.max(0, spread ** 2 - (usual.stitchWidthMm.sd / usual.stitchWidthMm.value) ** 2));
  const heightSd = Math.hypot(UNKNOWN_GAUGE_SD, ratioSd);
  const unknown: Gauge = {
    ...usual,
    hookMm: null,
    stitchWidthMm: { value: usual.stitchWidthMm.value, sd: usual.stitchWidthMm.value * UNKNOWN_GAUGE_SD },
    roundHeightMm: { value: usual.roundHeightMm.value, sd: usual.roundHeightMm.value * heightSd },
    correlation: UNKNOWN_GAUGE_SD / heightSd,
  };
  const target = baseTarget(madeFor, meridianOf(madeFor), choices);
  const widthMm = 2 * Math.sqrt((target.reachMm * target.circumferenceMm) / (2 * Math.PI));
  const sdMm = widthMm * Math.hypot(EASE_SD, madeFor.baseDiameterMm.sd / madeFor.baseDiameterMm.value);
  const gauge: Gauge = { ...gaugeAfterWidth(unknown, ownRounds(pattern, stitch), widthMm, sdMm), origin: 'guess' };
  notes.push({
    code: 'gauge-from-pattern',
    stitchWidthMm: gauge.stitchWidthMm,
    roundHeightMm: gauge.roundHeightMm,
  });
  return gauge;
}

function ownRounds(pattern: OwnPattern, stitch: FabricStitch): WorkedRound[] {
  return pattern.baseCounts.map((stitches) => ({ stitches, stitch }));
}

/** What of her design carries over whatever the size. */
interface Proportions {
  readonly choices: Choices;
  /** Her base over what the container asks for: from centre to rim, and around. */
  readonly reachRatio: number;
  readonly aroundRatio: number;
  readonly cover: Cover | null;
}

/** Height of the finished carrier as a share of the container's height, or of its shoulder's where it has one. */
interface Cover {
  readonly of: 'height' | 'shoulder';
  readonly share: number;
}

/** Beyond this ease no carrier is planned (choices.ts), with two standard uncertainties of her gauge on top. */
const MOST_EASE = 0.15;

function ownProportions(
  pattern: OwnPattern,
  madeFor: Container,
  gauge: Gauge,
  choices: Choices,
  notes: RegradeNote[],
): Proportions {
  const rounds = ownRounds(pattern, gauge.stitch);
  const meridian = meridianOf(madeFor);
  const disc = discWidth(rounds, gauge);
  const across = madeFor.baseDiameterMm;
  if (choices.carrier === 'mat') {
    const matOverhangMm = Math.max(0, Math.min(100, (disc.value - across.value) / 2));
    if (disc.value + 2 * disc.sd < across.value * (1 - MOST_EASE)) disagree(disc, across);
    const mat = { ...choices, matOverhangMm };
    return { choices: mat, ...baseRatios(rounds, gauge, mat, madeFor), cover: null };
  }
  const easeRatio = (rounds[rounds.length - 1].stitches * gauge.stitchWidthMm.value) / (Math.PI * across.value) - 1;
  const easeSd = Math.hypot(gauge.stitchWidthMm.sd / gauge.stitchWidthMm.value, across.sd / across.value);
  const widthOff = Math.abs(Math.log(disc.value / across.value));
  if (Math.abs(easeRatio) > MOST_EASE + 2 * easeSd || widthOff > MOST_EASE + (2 * disc.sd) / disc.value) {
    disagree(disc, across);
  }
  const eased = { ...choices, easeRatio: Math.max(-MOST_EASE, Math.min(MOST_EASE, easeRatio)) };
  notes.push({ code: 'ease-kept', easeRatio: eased.easeRatio });
  const cover = coverOf(pattern, madeFor, gauge, eased, meridian);
  notes.push(cover ? { code: 'cover-kept', share: cover.share } : { code: 'cover-usual' });
  return { choices: eased, ...baseRatios(rounds, gauge, eased, madeFor), cover };
}

function disagree(baseMm: Estimate, containerMm: Estimate): never {
  throw new Disagrees({ code: 'base-width', baseMm, containerMm });
}

function baseRatios(rounds: readonly WorkedRound[], gauge: Gauge, choices: Choices, madeFor: Container) {
  const target = baseTarget(madeFor, meridianOf(madeFor), choices);
  const aroundMm = rounds[rounds.length - 1].stitches * gauge.stitchWidthMm.value;
  return {
    reachRatio: reachOfRoundsMm(rounds, gauge) / target.reachMm,
    aroundRatio: aroundMm / target.circumferenceMm,
  };
}

/** How high her rounds reach on the container they were made for; null when she did not count them. */
function coverOf(
  pattern: OwnPattern,
  madeFor: Container,
  gauge: Gauge,
  choices: Choices,
  meridian: Meridian,
): Cover | null {
  const { mesh, wallRounds } = pattern;
  if (mesh ? mesh.rounds === null : wallRounds === null) return null;
  const rounds = ownRounds(pattern, gauge.stitch);
  const { stitches } = rounds[rounds.length - 1];
  const fromSMm = reachOfRoundsMm(rounds, gauge);
  const where = { meridian, gauge, choices, stitches, fromSMm, toSMm: fromSMm, firstNumber: 1, heightFactor: 1 };
  const start = { ...where, closing: 'spiral', shapedAt: [] } as const;
  const keptWall = Array.from({ length: wallRounds ?? choices.plainWallRounds }, () => stitches);
  const wall = mesh ? plainWall({ ...start, kept: keptWall }) : shapedWall({ ...start, kept: keptWall });
  const keptMesh = Array.from({ length: mesh?.rounds ?? 0 }, () => ({
    chains: mesh?.chains ?? 1,
    cells: mesh?.cells ?? 1,
  }));
  const endSMm = mesh
    ? meshOf({ ...start, fromSMm: wall.endSMm, toSMm: wall.endSMm, kept: keptMesh }).endSMm
    : wall.endSMm;
  const topSMm = endSMm + bandHeightMm(gauge, choices.band.rounds);
  const lengthMm = meridian.points[meridian.points.length - 1].sMm;
  const topMm = meridianAt(meridian, Math.min(topSMm, lengthMm)).zMm;
  const overMm = topSMm - lengthMm;
  if (overMm > 0.1 * madeFor.heightMm.value) {
    const containerMm = madeFor.heightMm.value;
    throw new Disagrees({ code: 'taller-than-container', patternMm: containerMm + overMm, containerMm });
  }
  const shoulderMm = madeFor.shoulderZMm?.value;
  return shoulderMm
    ? { of: 'shoulder', share: topMm / shoulderMm }
    : { of: 'height', share: topMm / madeFor.heightMm.value };
}

function coverFor(cover: Cover | null, container: Container): number | null {
  if (cover === null) return null;
  const heightMm = container.heightMm.value;
  const ofMm = cover.of === 'shoulder' ? (container.shoulderZMm?.value ?? heightMm) : heightMm;
  return Math.max(10, Math.min(heightMm, cover.share * ofMm));
}

function newBase(
  pattern: OwnPattern,
  own: Proportions,
  container: Container,
  gauge: Gauge,
  choices: Choices,
  notes: RegradeNote[],
): WorkedRound[] {
  const target = baseTarget(container, meridianOf(container), choices);
  const habit = habitOf(pattern.baseCounts);
  const stitchesPerCell = pattern.mesh ? choices.mesh.skip + 1 : null;
  const ownTarget = {
    circumferenceMm: target.circumferenceMm * own.aroundRatio,
    reachMm: target.reachMm * own.reachRatio,
    stitchesPerCell,
  };
  const { rounds, lastAdds } = regrownBase(habit, ownTarget, gauge);
  notes.push({ code: 'base-kept', start: habit.start, perRound: habit.perRound });
  if (lastAdds !== null) {
    const round = rounds.length - habit.plainAtRim;
    notes.push({ code: 'last-round-adds', round, adds: lastAdds, usual: habit.perRound });
  }
  return rounds;
}

/** Her chains where they go round the container; else as many as fit it. */
function netThatFits(
  container: Container,
  gauge: Gauge,
  choices: Choices,
  base: readonly WorkedRound[],
  notes: RegradeNote[],
): Plan {
  const onHook = { ...NOTHING_WORKED, base, baseFinished: true, ownCounts: true };
  const plan = buildPlan(container, gauge, choices, onHook);
  const { chains } = choices.mesh;
  if (chains === null || plan.zones.every(({ fits }) => fits === 'easy')) return plan;
  const fitted = buildPlan(container, gauge, { ...choices, mesh: { ...choices.mesh, chains: null } }, onHook);
  const misfits = (each: Plan) => each.zones.filter(({ fits }) => fits !== 'easy').length;
  if (misfits(fitted) >= misfits(plan)) return plan;
  const to = fitted.zones.find((zone) => zone.chains !== chains)?.chains ?? chains;
  notes.push({ code: 'chains-fitted', from: chains, to });
  return fitted;
}

function noteCells(mesh: OwnMesh | null, plan: Plan, notes: RegradeNote[]): void {
  const first = plan.zones[0];
  if (!mesh || !first) return;
  const { stitches } = plan.parts
    .flatMap(({ rounds }) => rounds)
    .filter(({ part }) => part === 'base')
    .slice(-1)[0];
  const usual = plan.choices.mesh.skip + 1;
  if (first.cells * usual !== stitches) notes.push({ code: 'cells-uneven', cells: first.cells, stitches, usual });
}

function noteBand({ bandRounds }: OwnPattern, plan: Plan, notes: RegradeNote[]): void {
  const made = plan.parts.find(({ name }) => name === 'band')?.rounds.length ?? 0;
  if (bandRounds !== null && made !== bandRounds) notes.push({ code: 'band-lower', from: bandRounds, to: made });
}

/** A plan's own counts in a maker's short form, to be regraded like any other pattern. */
export function ownPatternOf(plan: Plan): OwnPattern {
  const rounds = plan.parts.flatMap((part) => part.rounds);
  const count = (part: string) => rounds.filter((round) => round.part === part).length;
  const zone = plan.zones[0];
  return {
    baseCounts: rounds.filter(({ part }) => part === 'base').map(({ stitches }) => stitches),
    stitch: plan.gauge.stitch,
    wallRounds: count('wall'),
    mesh: zone
      ? {
          kind: zone.kind,
          cells: zone.cells,
          chains: zone.chains,
          postStitch: zone.kind === 'loop' ? null : plan.choices.mesh.postStitch,
          rounds: count('mesh'),
        }
      : null,
    bandRounds: plan.carrier === 'mat' ? null : count('band'),
    strapMm: plan.strap?.lengthMm ?? null,
  };
}
