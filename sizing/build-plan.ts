import { type Base, baseOf, baseTarget, targetWidthMm } from './base/base.ts';
import type { BaseTarget, WorkedRound } from './base/base-candidates.ts';
import { flatIncreases } from './base/flat-circle.ts';
import { type Band, bandHeightMm, bandOf, LOOSE_BAND } from './body/band.ts';
import { type CoverHeight, coverHeight } from './body/cover-height.ts';
import { capacityMl, type Meridian, meridianAt, meridianAtHeight, meridianOf } from './body/meridian.ts';
import { type Mesh, type MeshRoundCells, meshOf } from './body/mesh.ts';
import { strapOf, strapRound } from './body/strap.ts';
import { plainWall, shapedWall, type Wall } from './body/wall.ts';
import { cautionsFor } from './cautions.ts';
import { type Choices, checkChoices } from './choices.ts';
import { type Container, checkContainer } from './container.ts';
import { checkpointsFor } from './follow/checkpoints.ts';
import { costOf } from './forecast/cost.ts';
import { forecastFit, gaugeRoom } from './forecast/fit.ts';
import { fitLimits } from './forecast/fit-limits.ts';
import { loadOf } from './forecast/load.ts';
import { tallyRounds } from './forecast/tally.ts';
import { partMinutes, totalMinutes } from './forecast/work-time.ts';
import { gramsOf, yarnMetres, yarnNeed } from './forecast/yarn-need.ts';
import { checkGauge, type Gauge } from './gauge.ts';
import type { MeshZone, Part, PartName, Plan, Round, StrapPlan } from './plan.ts';
import { refuseTooCoarse } from './refusal.ts';

/** What is already on the hook: kept as it is. */
export interface WorkedSoFar {
  readonly rounds: number;
  readonly base: readonly WorkedRound[];
  /** No further base rounds: the wall is begun, or the base is found good. */
  readonly baseFinished: boolean;
  readonly wall: readonly number[];
  readonly mesh: readonly MeshRoundCells[];
  /** Height of wall and mesh rounds over what the gauge says, as measured on the work. */
  readonly heightFactor: number;
}

export const NOTHING_WORKED: WorkedSoFar = {
  rounds: 0,
  base: [],
  baseFinished: false,
  wall: [],
  mesh: [],
  heightFactor: 1,
};

/** A net needs at least this many stitches to carry its four smallest cells. */
const FEWEST_NET_STITCHES = 8;

/** Container, gauge and choices to a plan. Throws RefusedInput; planCarrier turns that into a result. */
export function buildPlan(container: Container, gauge: Gauge, choices: Choices, worked: WorkedSoFar): Plan {
  checkContainer(container);
  checkGauge(gauge);
  checkChoices(choices);
  const meridian = meridianOf(container);
  const target = baseTarget(container, meridian, choices);
  const base = baseOf(target, gauge, choices, worked);
  refuseNetOfTooFewStitches(base, gauge, choices);
  const cover = choices.carrier === 'mat' ? null : coverHeight(container, meridian, choices);
  const body = bodyOf({ container, gauge, choices, meridian, base, cover, worked });
  return assembled({ container, gauge, choices, meridian, target, base, cover, body, worked });
}

interface BodyInputs {
  readonly container: Container;
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly meridian: Meridian;
  readonly base: Base;
  readonly cover: CoverHeight | null;
  readonly worked: WorkedSoFar;
}

/** Everything above the base. */
interface Body {
  readonly wall: Wall | null;
  readonly mesh: Mesh | null;
  readonly band: Band | null;
  readonly strap: StrapPlan | null;
  readonly endSMm: number;
}

function bodyOf({ gauge, choices, meridian, base, cover, worked }: BodyInputs): Body {
  if (cover === null) return { wall: null, mesh: null, band: null, strap: null, endSMm: base.shape.reachMm };
  const topSMm = meridianAtHeight(meridian, cover.zMm).sMm;
  const bandRounds = bandRoundsThatFit(gauge, choices, topSMm - base.shape.reachMm);
  const toSMm = topSMm - bandHeightMm(gauge, bandRounds);
  const start = {
    meridian,
    gauge,
    choices,
    stitches: base.shape.stitchesAround,
    fromSMm: base.shape.reachMm,
    toSMm,
    firstNumber: base.rounds.length + 1,
    heightFactor: worked.heightFactor,
  };
  const wall =
    choices.carrier === 'net'
      ? plainWall({ ...start, kept: worked.wall })
      : shapedWall({ ...start, kept: worked.wall });
  const meshNumber = start.firstNumber + wall.rounds.length;
  const mesh =
    choices.carrier === 'net'
      ? meshOf({ ...start, stitches: wall.stitches, fromSMm: wall.endSMm, firstNumber: meshNumber, kept: worked.mesh })
      : null;
  const meshRounds = mesh?.rounds.length ?? 0;
  const fromSMm = mesh?.endSMm ?? wall.endSMm;
  const band =
    bandRounds === 0
      ? null
      : bandOf({
          meridian,
          gauge,
          choices,
          places: meshRounds > 0 ? (mesh as Mesh).cells : wall.stitches,
          into: meshRounds > 0 ? 'space' : 'stitch',
          rounds: bandRounds,
          fromSMm,
          firstNumber: meshNumber + meshRounds,
        });
  const strap = strapOf(choices, gauge, band?.fit.stitches ?? wall.stitches, band?.fit ?? null);
  return { wall, mesh, band, strap, endSMm: band?.endSMm ?? fromSMm };
}

/** A low container may have no room for all band rounds chosen; a net keeps one. */
function bandRoundsThatFit(gauge: Gauge, choices: Choices, roomMm: number): number {
  let rounds = choices.band.rounds;
  const fewest = choices.carrier === 'net' ? 1 : 0;
  while (rounds > fewest && bandHeightMm(gauge, rounds) > roomMm * 0.6) rounds--;
  return rounds;
}

function refuseNetOfTooFewStitches({ shape }: Base, gauge: Gauge, choices: Choices): void {
  if (choices.carrier !== 'net' || shape.stitchesAround >= FEWEST_NET_STITCHES) return;
  refuseTooCoarse(
    'gauge.stitchWidthMm',
    gauge.stitchWidthMm.value,
    `Only ${shape.stitchesAround} stitches of this gauge go around the container, too few for a net: take a thinner yarn, or make a sleeve.`,
  );
}

interface AssemblyInputs extends BodyInputs {
  readonly target: BaseTarget;
  readonly body: Body;
}

function assembled(inputs: AssemblyInputs): Plan {
  const { container, gauge, choices, meridian, target, base, cover, body, worked } = inputs;
  const parts = partsOf(inputs);
  const yarn = yarnNeed(
    parts.map((part) => part.yarnMetres),
    gauge,
  );
  const minutes = totalMinutes(parts.map((part) => part.minutes));
  const capacity = capacityMl(container, meridian);
  const limits = fitLimits({
    container,
    gauge,
    choices,
    target,
    base,
    mesh: body.mesh,
    band: body.band,
    wall: body.wall,
  });
  const fit = forecastFit(limits, container, gauge, discsToCheck(base, worked), choices.carrier);
  const room = gaugeRoom(limits);
  const targetMm = targetWidthMm(target);
  return {
    carrier: choices.carrier,
    container,
    gauge,
    choices,
    targetBaseDiameterMm: {
      value: targetMm,
      sd: (targetMm * container.baseDiameterMm.sd) / container.baseDiameterMm.value,
    },
    flatIncreases: flatIncreases(gauge.roundHeightMm.value, gauge.stitchWidthMm.value),
    candidates: base.candidates,
    parts,
    coverHeightMm: cover === null ? null : lastHeight(inputs),
    coverReason: cover?.reason ?? null,
    zones: body.mesh?.zones ?? [],
    band: body.band?.fit ?? null,
    strap: body.strap,
    load: loadOf(container, meridian, capacity, gauge),
    capacityMl: capacity,
    yarn,
    minutes,
    cost: costOf(choices, gauge, yarn, minutes),
    fit,
    checkpoints: checkpointsFor({ base, target, gauge, choices, parts, room, worked, zones: body.mesh?.zones ?? [] }),
    warnings: warningsFor(inputs),
    cautions: cautionsFor({ strap: body.strap }),
    heightFactor: worked.heightFactor,
    workedRounds: worked.rounds,
  };
}

/** Base rounds not yet worked past whose width is still worth measuring. */
function discsToCheck({ shape }: Base, worked: WorkedSoFar): WorkedRound[][] {
  return shape.rounds
    .map((_, index) => shape.rounds.slice(0, index + 1))
    .filter((disc) => disc.length >= Math.min(2, shape.rounds.length) && disc.length > worked.rounds);
}

function lastHeight({ body, meridian, gauge }: AssemblyInputs): { value: number; sd: number } {
  const zMm = meridianAt(meridian, body.endSMm).zMm;
  return { value: zMm, sd: Math.max(1, (zMm * gauge.roundHeightMm.sd) / gauge.roundHeightMm.value) };
}

function partsOf({ gauge, choices, base, body }: AssemblyInputs): Part[] {
  const parts: Part[] = [];
  const add = (name: PartName, rounds: readonly Round[], notes: readonly string[]) => {
    if (rounds.length === 0) return;
    const tally = tallyRounds(rounds);
    const metres = yarnMetres(tally, gauge);
    parts.push({
      name,
      rounds,
      notes,
      yarnMetres: metres,
      yarnGrams: gramsOf(metres, gauge),
      minutes: partMinutes(name, tally, gauge),
    });
  };
  add('base', base.rounds, baseNotes(base));
  add('wall', body.wall?.rounds ?? [], wallNotes(choices));
  add('mesh', body.mesh?.rounds ?? [], body.mesh ? meshNotes(choices, body.mesh.zones) : []);
  add('band', body.band?.rounds ?? [], bandNotes(body));
  if (body.strap) {
    const previous = parts[parts.length - 1].rounds;
    add('strap', [strapRound(body.strap, previous[previous.length - 1].number + 1)], strapNotes());
  }
  return parts;
}

function baseNotes({ rounds }: Base): string[] {
  const start =
    rounds[0].closing === 'joined'
      ? 'Worked flat in joined rounds, right side facing: each round ends with a slip stitch in its first stitch, and the next one starts in that same stitch.'
      : 'Worked flat in a spiral, right side facing: no joins; move a marker up to the first stitch of each round.';
  return [
    start,
    'Increases are shifted from round to round so that the disc stays round. Pat it flat before measuring.',
  ];
}

function wallNotes({ carrier }: Choices): string[] {
  if (carrier === 'net') return ['Worked without increases: the fabric now turns up around the edge of the base.'];
  return ['The wall follows the container: try it on after every few rounds.'];
}

function meshNotes({ mesh }: Choices, zones: readonly MeshZone[]): string[] {
  const notes = ['Worked in a spiral without a join. Keep a marker in the first chain space of each round.'];
  if (mesh.kind === 'post') {
    notes.push(
      'Each tall stitch stands on the tall stitch below; the last chain space of a round closes against the first tall stitch of the next.',
    );
  } else {
    notes.push(
      'Each loop is caught in the middle of its chain. The first loop of a round starts from the last catch of the round before, so the start of the round moves back half a cell each time: that is right.',
    );
  }
  if (zones.length > 1) notes.push('The cells change with the container; the rounds say where.');
  return notes;
}

function bandNotes({ band, mesh }: Body): string[] {
  if (!band) return [];
  const into =
    mesh && mesh.rounds.length > 0 ? 'into the chain spaces, not into the chains themselves' : 'into the stitches';
  return [`Worked firmly in a spiral, the first round ${into}. Slip the container in before fastening off.`];
}

function strapNotes(): string[] {
  return [
    'Firm cord: {ch} 2, {sc} in the first chain; then turn the work a little to the left each time and work {sc} through the two loops that lie at its side.',
  ];
}

function warningsFor({ gauge, choices, meridian, cover, body, base }: AssemblyInputs): string[] {
  const warnings: string[] = [];
  if (gauge.origin === 'guess') {
    warnings.push(
      'The gauge is a guess from the yarn, not yours: work a swatch in the round, or measure the base as you go and replan.',
    );
  }
  if (cover?.warning) warnings.push(cover.warning);
  const flatness = base.rounds[base.rounds.length - 1].flatness;
  if (flatness && flatness.shape !== 'flat')
    warnings.push(`With these stitches the base will look: ${flatness.shape}.`);
  for (const zone of body.mesh?.zones ?? []) warnings.push(...zoneWarnings(zone, choices));
  if (choices.carrier === 'net' && body.mesh?.rounds.length === 0) {
    warnings.push('There is no room for a mesh round at this height: the band stands on the plain wall.');
  }
  if (body.band) warnings.push(...bandWarnings(body.band, meridian));
  return warnings;
}

function zoneWarnings(zone: MeshZone, { mesh }: Choices): string[] {
  const rounds =
    zone.fromRound === zone.toRound ? `round ${zone.fromRound}` : `rounds ${zone.fromRound} to ${zone.toRound}`;
  if (zone.fits === 'too tight') {
    return [`The mesh of ${rounds} will not go over: chain ${zone.chains + 1} or more there, or let the plan choose.`];
  }
  if (zone.fits === 'hangs loose' && zone.chains > 1) {
    return [
      `The mesh of ${rounds} hangs loose: chain ${zone.chains - 1} there${mesh.chains === null ? '' : ', or let the plan choose'}.`,
    ];
  }
  return [];
}

function bandWarnings({ fit }: Band, meridian: Meridian): string[] {
  const warnings: string[] = [];
  if (!fit.goesIn) {
    warnings.push(
      `The container has to stretch the band by ${Math.round(fit.stretchToInsert * 100)} % to go in, more than firm fabric gives: end the carrier lower, or work more stitches in each space.`,
    );
  }
  if (fit.slackAtSeat > LOOSE_BAND) {
    warnings.push(
      'The band has to pass the widest place and is loose where it sits: thread a drawstring through it, or end the carrier lower.',
    );
  }
  if (!fit.staysIn && meridian.heightMm > 0) {
    warnings.push('The band sits low for a full container, which may tip out: make the carrier higher.');
  }
  return warnings;
}
