import { type Base, baseOf, baseTarget, targetWidthMm } from './base/base.ts';
import { BASE_AIMS, type BaseTarget, type WorkedRound } from './base/base-candidates.ts';
import { flatIncreases } from './base/flat-circle.ts';
import { type Band, bandHeightMm, bandOf, LOOSE_BAND } from './body/band.ts';
import { type CoverHeight, coverHeight } from './body/cover-height.ts';
import { type Drawstring, drawstringCord, drawstringOf } from './body/drawstring.ts';
import { capacityMl, type Meridian, meridianAt, meridianAtHeight, meridianOf, workedAround } from './body/meridian.ts';
import { type Mesh, type MeshRoundCells, meshOf } from './body/mesh.ts';
import { largestHole, largestHoleMm, meshesByHole } from './body/mesh-by-hole.ts';
import { HEAVY_G, strapOf, strapRounds, TOO_HEAVY_G } from './body/strap.ts';
import { PLANNED_GIVE, plainWall, shapedWall, type Wall } from './body/wall.ts';
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
import { inColours, needByColour, partMetres } from './forecast/yarn-by-colour.ts';
import { gramsOf, strapTailsMm, yarnNeed } from './forecast/yarn-need.ts';
import { checkGauge, type Gauge } from './gauge.ts';
import { materialWarnings } from './material-warnings.ts';
import type { PartNote, Warning } from './notes.ts';
import type { BaseAim, LoadPlan, MeshZone, Part, PartName, Plan, Round, StrapPlan, YarnNeed } from './plan.ts';
import { RefusedInput } from './refusal.ts';

/** What is already on the hook: kept as it is. */
export interface WorkedSoFar {
  readonly rounds: number;
  readonly base: readonly WorkedRound[];
  /** No further base rounds: the wall is begun, or the base is found good. */
  readonly baseFinished: boolean;
  readonly aims: readonly BaseAim[];
  readonly wall: readonly number[];
  readonly mesh: readonly MeshRoundCells[];
  /** Height of wall and mesh rounds over what the gauge says, as measured on the work. */
  readonly heightFactor: number;
  /** The base has the maker's own counts. */
  readonly ownCounts: boolean;
}

export const NOTHING_WORKED: WorkedSoFar = {
  rounds: 0,
  base: [],
  baseFinished: false,
  aims: BASE_AIMS,
  wall: [],
  mesh: [],
  heightFactor: 1,
  ownCounts: false,
};

/** A net needs at least this many stitches to carry its four smallest cells. */
const FEWEST_NET_STITCHES = 8;

/** Container, gauge and choices to a plan. Throws RefusedInput; planCarrier turns that into a result. */
export function buildPlan(container: Container, gauge: Gauge, choices: Choices, worked: WorkedSoFar): Plan {
  checkContainer(container);
  checkGauge(gauge);
  checkChoices(choices);
  const { mostHoleMm } = choices.mesh;
  if (choices.carrier !== 'net' || mostHoleMm === null) return planWith(container, gauge, choices, worked);
  const meshes = meshesByHole(container, gauge, choices.mesh, mostHoleMm);
  for (const mesh of meshes.slice(0, -1)) {
    const plan = planWith(container, gauge, { ...choices, mesh }, worked);
    if (largestHoleMm(plan) <= mostHoleMm) return plan;
  }
  // The smallest holes there are: the plan warns where even these are larger.
  return planWith(container, gauge, { ...choices, mesh: meshes[meshes.length - 1] }, worked);
}

function planWith(container: Container, gauge: Gauge, choices: Choices, worked: WorkedSoFar): Plan {
  const shape = meridianOf(container);
  const meridian = choices.top === 'around' ? workedAround(shape, PLANNED_GIVE) : shape;
  const target = baseTarget(container, meridian, choices);
  const base = baseOf(target, gauge, choices, worked);
  refuseNetOfTooFewStitches(base, gauge, choices);
  const cover = choices.carrier === 'mat' ? null : coverHeight(container, meridian, choices);
  const capacity = capacityMl(container, meridian);
  const load = loadOf(container, meridian, capacity, gauge);
  const body = bodyOf({ container, gauge, choices, meridian, base, cover, worked, load });
  return assembled({ container, gauge, choices, meridian, target, base, cover, body, worked, load, capacity });
}

interface BodyInputs {
  readonly container: Container;
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly meridian: Meridian;
  readonly base: Base;
  readonly cover: CoverHeight | null;
  readonly worked: WorkedSoFar;
  readonly load: LoadPlan;
}

/** Everything above the base. */
interface Body {
  readonly wall: Wall | null;
  readonly mesh: Mesh | null;
  readonly band: Band | null;
  readonly drawstring: Drawstring | null;
  readonly strap: StrapPlan | null;
  readonly endSMm: number;
}

function bodyOf({ gauge, choices, meridian, base, cover, worked, load }: BodyInputs): Body {
  if (cover === null) {
    return { wall: null, mesh: null, band: null, drawstring: null, strap: null, endSMm: base.shape.reachMm };
  }
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
    closing: closingOf(base.rounds),
    shapedAt: base.shapedAt,
    heightFactor: worked.heightFactor,
  };
  const wall =
    choices.carrier === 'net'
      ? plainWall({ ...start, kept: worked.wall })
      : shapedWall({ ...start, kept: worked.wall });
  const meshNumber = start.firstNumber + wall.rounds.length;
  const mesh =
    choices.carrier === 'net'
      ? meshOf({
          ...start,
          stitches: wall.stitches,
          fromSMm: wall.endSMm,
          firstNumber: meshNumber,
          closing: closingOf(wall.rounds, start.closing),
          kept: worked.mesh,
        })
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
          closing: meshRounds > 0 ? 'spiral' : closingOf(wall.rounds, start.closing),
        });
  const drawstring =
    band && choices.top === 'drawstring'
      ? drawstringOf({
          meridian,
          gauge,
          stitches: band.fit.stitches,
          fromSMm: band.endSMm,
          firstNumber: meshNumber + meshRounds + bandRounds,
        })
      : null;
  const endSMm = drawstring?.endSMm ?? band?.endSMm ?? fromSMm;
  const topStitches = band?.fit.stitches ?? wall.stitches;
  const strap = strapOf(choices, gauge, load, { topStitches, on: band ? 'band' : 'top round', reachMm: endSMm });
  return { wall, mesh, band, drawstring, strap, endSMm };
}

function closingOf(rounds: readonly Round[], below: Round['closing'] = 'spiral'): Round['closing'] {
  return rounds.at(-1)?.closing ?? below;
}

/** A low container may have no room for all band rounds chosen; a net keeps one, and so does what is drawn together. */
function bandRoundsThatFit(gauge: Gauge, choices: Choices, roomMm: number): number {
  const fewest = choices.carrier === 'net' || choices.top === 'drawstring' ? 1 : 0;
  let rounds = Math.max(fewest, choices.band.rounds);
  while (rounds > fewest && bandHeightMm(gauge, rounds) > roomMm * 0.6) rounds--;
  return rounds;
}

function refuseNetOfTooFewStitches({ shape }: Base, gauge: Gauge, choices: Choices): void {
  if (choices.carrier !== 'net' || shape.stitchesAround >= FEWEST_NET_STITCHES) return;
  throw new RefusedInput({
    code: 'too-coarse',
    field: 'gauge.stitchWidthMm',
    value: gauge.stitchWidthMm.value,
    why: 'net',
    stitches: shape.stitchesAround,
  });
}

interface AssemblyInputs extends BodyInputs {
  readonly target: BaseTarget;
  readonly body: Body;
  readonly capacity: Plan['capacityMl'];
}

function assembled(inputs: AssemblyInputs): Plan {
  const { container, gauge, choices, target, base, cover, body, worked, load, capacity } = inputs;
  const parts = partsOf(inputs);
  const yarn = yarnOf(parts, choices, gauge);
  const minutes = totalMinutes(parts.map((part) => part.minutes));
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
  const fit = forecastFit(limits, container, gauge, discsToCheck(base, worked));
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
    drawstring: body.drawstring?.plan ?? null,
    strap: body.strap,
    load,
    capacityMl: capacity,
    yarn,
    minutes,
    cost: costOf(choices, gauge, yarn, minutes),
    fit,
    checkpoints: checkpointsFor({ base, target, gauge, choices, parts, room, worked, zones: body.mesh?.zones ?? [] }),
    warnings: warningsFor(inputs),
    cautions: cautionsFor({ strap: body.strap, drawstring: body.drawstring?.plan ?? null, load }),
    heightFactor: worked.heightFactor,
    workedRounds: worked.rounds,
    ownCounts: worked.ownCounts,
  };
}

/** In stripes a ball is bought of each colour. */
function yarnOf(parts: readonly Part[], choices: Choices, gauge: Gauge): YarnNeed {
  const yarn = yarnNeed(
    parts.map((part) => part.yarnMetres),
    gauge,
  );
  const byColour = needByColour(parts, choices, gauge);
  if (byColour.length === 0) return yarn;
  return { ...yarn, byColour, balls: byColour.reduce((sum, { balls }) => sum + balls, 0), oneBallLess: null };
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

function partsOf({ gauge, choices, base, body, meridian }: AssemblyInputs): Part[] {
  const parts: Part[] = [];
  const add = (name: PartName, plain: readonly Round[], notes: readonly PartNote[], tailsMm?: number) => {
    if (plain.length === 0) return;
    const rounds = inColours(plain, choices, base.rounds.length);
    const tally = tallyRounds(rounds);
    const metres = partMetres(rounds, gauge, tailsMm);
    parts.push({
      name,
      rounds,
      notes,
      yarnMetres: metres,
      yarnGrams: gramsOf(metres, gauge),
      minutes: partMinutes(name, tally, gauge),
    });
  };
  add('base', base.rounds, baseNotes(base, gauge));
  add('wall', body.wall?.rounds ?? [], [{ code: choices.carrier === 'net' ? 'wall-net' : 'wall-sleeve' }]);
  add('mesh', body.mesh?.rounds ?? [], body.mesh ? meshNotes(choices, body.mesh.zones) : []);
  add('band', [...(body.band?.rounds ?? []), ...(body.drawstring?.rounds ?? [])], bandNotes(body));
  levelled(parts);
  markedInside(parts, meridian);
  const nextNumber = () => (parts[parts.length - 1].rounds.at(-1)?.number ?? 0) + 1;
  if (body.drawstring) add('drawstring', [drawstringCord(body.drawstring.plan, nextNumber())], []);
  if (body.strap) {
    const notes: PartNote[] = [{ code: 'strap-length', lengthMm: body.strap.lengthMm }];
    add('strap', strapRounds(body.strap, nextNumber()), notes, strapTailsMm(body.strap));
  }
  return parts;
}

/** The first round that is worked round the container says so; the band is then not tried on. */
function markedInside(parts: Part[], { insideFromMm }: Meridian): void {
  if (insideFromMm === null) return;
  const isAbove = ({ heightMm }: Round) => heightMm !== null && heightMm.value > insideFromMm;
  const at = parts.findIndex(({ rounds }) => rounds.some(isAbove));
  if (at < 0) return;
  const first = parts[at].rounds.find(isAbove);
  parts.forEach((part, index) => {
    if (index < at) return;
    const notes = part.notes.filter(({ code }) => code !== 'band-try-on');
    const rounds = part.rounds.map(
      (round): Round => (round === first ? { ...round, notes: [...round.notes, { code: 'container-inside' }] } : round),
    );
    parts[index] = { ...part, notes, rounds };
  });
}

/** A spiral that ends where the work is fastened off needs a slip stitch to come down level. */
function levelled(parts: Part[]): void {
  const part = parts[parts.length - 1];
  const last = part.rounds[part.rounds.length - 1];
  if (last.closing !== 'spiral' || last.steps.some((step) => step.do === 'level')) return;
  const round: Round = { ...last, steps: [...last.steps, { do: 'level', into: 'stitch' }] };
  parts[parts.length - 1] = { ...part, rounds: [...part.rounds.slice(0, -1), round] };
}

function baseNotes({ rounds, shape }: Base, gauge: Gauge): PartNote[] {
  const notes: PartNote[] = [
    rounds[0].closing === 'joined' ? { code: 'base-joined', stitch: gauge.stitch } : { code: 'base-spiral' },
  ];
  const first = shape.rounds.findIndex(({ stitch }) => stitch !== gauge.stitch);
  if (first >= 0) {
    const stitches = [...new Set(shape.rounds.slice(first).map(({ stitch }) => stitch))];
    notes.push({ code: 'base-lower-ending', fromRound: first + 1, stitches });
  }
  return notes;
}

function meshNotes({ mesh }: Choices, zones: readonly MeshZone[]): PartNote[] {
  const notes: PartNote[] = [{ code: 'mesh-spiral' }];
  notes.push(
    mesh.kind === 'post'
      ? { code: 'mesh-posts', stitch: mesh.postStitch }
      : { code: mesh.kind === 'loop' ? 'mesh-loops' : 'mesh-vs' },
  );
  if (zones.length > 1) notes.push({ code: 'mesh-changes' });
  const hole = largestHole(zones);
  if (hole) notes.push({ code: 'mesh-holes', ...hole });
  return notes;
}

function bandNotes({ band, mesh }: Body): PartNote[] {
  if (!band) return [];
  const intoSpaces = mesh !== null && mesh.rounds.length > 0;
  return [{ code: intoSpaces ? 'band-into-spaces' : 'band-into-stitches' }, { code: 'band-try-on' }];
}

function warningsFor(inputs: AssemblyInputs): Warning[] {
  const { gauge, choices, cover, body, base } = inputs;
  const warnings: Warning[] = [];
  if (gauge.origin === 'guess') warnings.push({ code: 'gauge-guessed' });
  warnings.push(...materialWarnings(gauge), ...loadWarnings(inputs));
  if (cover?.warning) warnings.push(cover.warning);
  const shape = base.rounds[base.rounds.length - 1].flatness?.shape;
  if (shape && shape !== 'flat') warnings.push({ code: 'base-shape', shape });
  if (body.wall && choices.carrier === 'sleeve') warnings.push(...wallWarnings(body.wall, gauge));
  for (const zone of body.mesh?.zones ?? []) warnings.push(...zoneWarnings(zone, choices));
  const hole = largestHole(body.mesh?.zones ?? []);
  const { mostHoleMm: mostMm } = choices.mesh;
  if (hole && mostMm !== null && Math.max(hole.widthMm, hole.heightMm) > mostMm) {
    warnings.push({ code: 'holes-larger', mostMm, ...hole });
  }
  if (body.mesh && body.wall) warnings.push(...proportionWarnings(body.mesh, body.wall));
  if (body.band) warnings.push(...bandWarnings(body.band, body.drawstring !== null));
  return warnings;
}

/** What the strap has to bear; the margin of a strand is told only where it is thin. */
function loadWarnings({ load, body, choices }: AssemblyInputs): Warning[] {
  const massG = load.fullMassG.value;
  const wantsStrap = choices.carrier !== 'mat' && choices.strap.style !== 'none';
  if (!wantsStrap) return [];
  if (massG > TOO_HEAVY_G) return [{ code: 'load-too-heavy', massG }];
  const warnings: Warning[] = massG > HEAVY_G ? [{ code: 'load-heavy', massG }] : [];
  const times = load.marginOfOneKnottedStrand;
  if (body.strap && times !== null && times < THIN_MARGIN) warnings.push({ code: 'strand-weak', times });
  return warnings;
}

/** A strand that would break below this many times the load is not strong enough to rely on: common practice, no source. */
const THIN_MARGIN = 3;

/** Where a sleeve must pass a wider place below, it stands off its container above it; told from this slack on. */
const LOOSE_WALL = 0.08;

function wallWarnings({ rings }: Wall, gauge: Gauge): Warning[] {
  const slack = ({ aroundMm, stitches }: Wall['rings'][number]) =>
    1 - aroundMm / (stitches * gauge.stitchWidthMm.value);
  if (rings.length === 0) return [];
  const loosest = rings.reduce((worst, ring) => (slack(ring) > slack(worst) ? ring : worst));
  if (slack(loosest) <= LOOSE_WALL) return [];
  const hugging = Math.round(loosest.aroundMm / gauge.stitchWidthMm.value);
  return [{ code: 'wall-loose', heightMm: loosest.heightMm, stitches: loosest.stitches, hugging }];
}

function zoneWarnings({ fromRound, toRound, fits, chains, fittingChains }: MeshZone, { mesh }: Choices): Warning[] {
  if (fits === 'easy') return [];
  const rounds = { fromRound, toRound };
  if (mesh.chains === null) return fits === 'hangs loose' ? [{ code: 'mesh-loose-at-narrow', ...rounds }] : [];
  if (fittingChains === chains) return [];
  return [{ code: fits === 'too tight' ? 'mesh-too-tight' : 'mesh-loose', ...rounds, chains: fittingChains }];
}

function proportionWarnings(mesh: Mesh, wall: Wall): Warning[] {
  const [wallRounds, meshRounds] = [wall.rounds.length, mesh.rounds.length];
  if (meshRounds === 0) return [{ code: 'no-mesh' }];
  return wallRounds > 2 * meshRounds ? [{ code: 'mostly-sleeve', wallRounds, meshRounds }] : [];
}

function bandWarnings({ fit }: Band, isDrawn: boolean): Warning[] {
  const warnings: Warning[] = [];
  if (!fit.goesIn) {
    const stitchesMore = Math.max(1, fit.passingStitches - fit.stitches);
    warnings.push({ code: 'band-too-tight', stretch: fit.stretchToInsert, stitchesMore });
  }
  if (fit.slackAtSeat > LOOSE_BAND && !isDrawn) {
    const { slackAtSeat: slack, stitches, huggingStitches: hugging } = fit;
    warnings.push({ code: 'band-loose', slack, stitches, hugging });
  }
  if (!fit.staysIn) warnings.push({ code: 'band-low' });
  return warnings;
}
