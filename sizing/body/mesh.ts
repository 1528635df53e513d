import type { Choices, MeshKind } from '../choices.ts';
import { chainLengthMm, type Gauge, roundHeightMm } from '../gauge.ts';
import type { RoundNote } from '../notes.ts';
import { type Hole, type MeshZone, type Round, type Step, startAfter } from '../plan.ts';
import { RefusedInput } from '../refusal.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';
import { type Meridian, meridianAt, widestRadiusBelowMm } from './meridian.ts';
import { cellsFor, loopBarMm, loopCell, loopCellsPerTurn, postCellWidthMm } from './mesh-cells.ts';
import { evenestReadable, waysToShare } from './spread-out.ts';
import { heightEstimate } from './wall.ts';

export interface MeshStart {
  readonly meridian: Meridian;
  readonly gauge: Gauge;
  readonly choices: Choices;
  /** Stitches of the round the mesh stands on. */
  readonly stitches: number;
  readonly fromSMm: number;
  readonly toSMm: number;
  readonly firstNumber: number;
  /** How the round below is closed. */
  readonly closing: Round['closing'];
  /** Chains and cells of mesh rounds already worked. */
  readonly kept: readonly MeshRoundCells[];
  readonly heightFactor: number;
}

export interface MeshRoundCells {
  readonly chains: number;
  readonly cells: number;
}

export interface Mesh {
  readonly rounds: readonly Round[];
  readonly cellsPerRound: readonly MeshRoundCells[];
  readonly zones: readonly MeshZone[];
  readonly cells: number;
  readonly endSMm: number;
}

interface CellLimits {
  /** Openness (width imposed over width possible) at which the mesh hangs loose or does not go over. */
  readonly loose: number;
  readonly tight: number;
  /** The chain count is kept while the openness stays between these, and set to `best` otherwise. */
  readonly low: number;
  readonly best: number;
  readonly high: number;
  /** Most that a ring can open when it is drawn over a wider place. */
  readonly passing: number;
  /** Chains beyond the first zone's at which cells are added instead. */
  readonly mostExtraChains: number;
}

const POST_LIMITS: CellLimits = {
  loose: 0.68,
  tight: 1.12,
  low: 0.75,
  best: 0.92,
  high: 1.05,
  passing: 1.1,
  mostExtraChains: 2,
};

/** Working range of a loop is 0.5-0.7 (common practice); limits of posts are common practice too, no source. */
export const CELL_LIMITS: Readonly<Record<MeshKind, CellLimits>> = {
  loop: { loose: 0.4, tight: 0.92, low: 0.5, best: 0.6, high: 0.7, passing: 0.95, mostExtraChains: 4 },
  post: POST_LIMITS,
  'v-stitch': POST_LIMITS,
};

const MOST_CHAINS = 15;
/** Below this share of its loop's half a cell does not bring the work on: typed chains that lead there are refused. */
const LOWEST_CELL_SHARE = 0.2;

interface PlannedRound extends MeshRoundCells {
  readonly openness: number;
  readonly endSMm: number;
  readonly added: number;
  readonly hole: Hole;
  /** Chains that would suit here, whatever was typed. */
  readonly fittingChains: number;
}

/** Mesh in a spiral from `fromSMm` to about `toSMm`, rounds counted along the container's profile. */
export function meshOf(start: MeshStart): Mesh {
  const planned = plannedRounds(start);
  const rounds: Round[] = [];
  planned.forEach((round, index) => {
    const steps = workedAlike(planned, index) ? rounds[index - 1].steps : meshSteps(start, planned, index);
    rounds.push(meshRound(start, planned, round, index, steps));
  });
  const last = planned[planned.length - 1];
  return {
    rounds,
    cellsPerRound: planned.map(({ chains, cells }) => ({ chains, cells })),
    zones: zonesOf(start, planned),
    cells: last?.cells ?? 0,
    endSMm: last?.endSMm ?? start.fromSMm,
  };
}

/** Half-loop of n chains in this gauge, scaled to the mesh swatch when there is one. */
export function barMm(gauge: Gauge, chains: number): number {
  const guess = loopBarMm(chains, chainLengthMm(gauge));
  if (!gauge.meshSwatch) return guess;
  return (guess * gauge.meshSwatch.barMm.value) / loopBarMm(gauge.meshSwatch.chains, chainLengthMm(gauge));
}

function plannedRounds(start: MeshStart): PlannedRound[] {
  const { choices, meridian } = start;
  const rounds: PlannedRound[] = [];
  let sMm = start.fromSMm;
  let { cells } = cellsFor(start.stitches, choices.mesh.skip);
  let chains = 0;
  for (;;) {
    const at = meridianAt(meridian, sMm);
    const passMm = 2 * widestRadiusBelowMm(meridian, at.zMm);
    const kept = start.kept[rounds.length];
    const first = rounds[0];
    const fitted = kept ?? fittedCells(start, { cells, chains }, 2 * at.rMm, passMm, first);
    const added = first ? fitted.cells - cells : 0;
    const cell = cellAt(start, fitted, 2 * at.rMm);
    const fittingChains = fittedChains(start, { cells: fitted.cells, chains: 0 }, 2 * at.rMm, passMm);
    refuseFlatCells(start, fitted, 2 * at.rMm, fittingChains);
    if (!kept && start.toSMm - sMm < cell.heightMm / 2) return rounds;
    ({ cells, chains } = fitted);
    sMm += cell.heightMm;
    const widestMm = 2 * Math.max(at.rMm, meridianAt(meridian, sMm).rMm);
    const hole = holeOf(choices.mesh.kind, cells, widestMm, cell.heightMm);
    rounds.push({ cells, chains, openness: cell.openness, endSMm: sMm, added, hole, fittingChains });
  }
}

/** The container imposes the width: pi D / N. Loops make a diamond of two rounds' height. */
function holeOf(kind: MeshKind, cells: number, diameterMm: number, roundMm: number): Hole {
  // Between posts; of V-stitches between the feet of two.
  if (kind !== 'loop') return { widthMm: (Math.PI * diameterMm) / cells, heightMm: roundMm };
  return { widthMm: (Math.PI * diameterMm) / loopCellsPerTurn(cells), heightMm: 2 * roundMm };
}

function largerHole(a: Hole, b: Hole): Hole {
  return { widthMm: Math.max(a.widthMm, b.widthMm), heightMm: Math.max(a.heightMm, b.heightMm) };
}

function cellAt(start: MeshStart, { cells, chains }: MeshRoundCells, diameterMm: number) {
  const { gauge, choices, heightFactor } = start;
  const { kind } = choices.mesh;
  if (kind !== 'loop') {
    const widthMm = (Math.PI * diameterMm) / cells;
    return {
      openness: widthMm / postCellWidthMm(chains, chainLengthMm(gauge), kind === 'post' ? 1 : 2),
      heightMm: roundHeightMm(gauge, choices.mesh.postStitch) * heightFactor,
    };
  }
  const bar = barMm(gauge, chains);
  const cell = loopCell(diameterMm, loopCellsPerTurn(cells), bar);
  return { openness: cell.openness, heightMm: Math.max(cell.heightMm, LOWEST_CELL_SHARE * bar) * heightFactor };
}

/** Loops that lie stretched around the container add next to no height: no number of rounds makes a net of them. */
function refuseFlatCells(start: MeshStart, cells: MeshRoundCells, diameterMm: number, fits: number): void {
  const { kind, chains } = start.choices.mesh;
  if (kind !== 'loop' || chains === null) return;
  const bar = barMm(start.gauge, cells.chains);
  if (loopCell(diameterMm, loopCellsPerTurn(cells.cells), bar).heightMm >= LOWEST_CELL_SHARE * bar) return;
  throw new RefusedInput({ code: 'cells-too-small', field: 'choices.mesh.chains', value: chains, fits });
}

/** Chains, and cells if need be, for the width the container imposes here. */
function fittedCells(
  start: MeshStart,
  now: MeshRoundCells,
  diameterMm: number,
  passMm: number,
  first: MeshRoundCells | undefined,
): MeshRoundCells {
  const { kind, chains: typed } = start.choices.mesh;
  if (typed !== null) return { cells: now.cells, chains: typed };
  const limits = CELL_LIMITS[kind];
  const chains = fittedChains(start, now, diameterMm, passMm);
  if (!first || chains <= first.chains + limits.mostExtraChains) return { cells: now.cells, chains };
  const openness = (cells: number) => cellAt(start, { cells, chains: first.chains }, diameterMm).openness;
  let cells = now.cells;
  while (cells + 2 <= 2 * now.cells && openness(cells) > limits.best) cells += 2;
  return { cells, chains: fittedChains(start, { cells, chains: first.chains }, diameterMm, passMm) };
}

function fittedChains(start: MeshStart, now: MeshRoundCells, diameterMm: number, passMm: number): number {
  const limits = CELL_LIMITS[start.choices.mesh.kind];
  const opennessOf = (chains: number, across: number) => cellAt(start, { cells: now.cells, chains }, across).openness;
  const opennessNow = now.chains > 0 ? opennessOf(now.chains, diameterMm) : 0;
  const keeps = now.chains > 0 && opennessNow >= limits.low && opennessNow <= limits.high;
  let chains = keeps ? now.chains : 1;
  if (!keeps) {
    while (chains < MOST_CHAINS && opennessOf(chains + 0.5, diameterMm) > limits.best) chains++;
  }
  while (chains < MOST_CHAINS && opennessOf(chains, passMm) > limits.passing) chains++;
  return chains;
}

/** Whether a round in the middle of the mesh is the one before over again. */
function workedAlike(planned: readonly PlannedRound[], index: number): boolean {
  const [before, round] = [planned[index - 1], planned[index]];
  const inside = index > 1 && index < planned.length - 1;
  return (
    inside && round.added === 0 && before.added === 0 && round.cells === before.cells && round.chains === before.chains
  );
}

/** What is said before the first round, that it starts in the join, and after the last, that it closes the spiral. */
const START_CHARACTERS = 44;
const END_CHARACTERS = 42;

/** The first round shares skipped stitches out over its cells, a later one the cells that are added. */
function meshSteps(start: MeshStart, planned: readonly PlannedRound[], index: number): Step[] {
  const { kind } = start.choices.mesh;
  const isPost = kind !== 'loop';
  const upright = kind === 'post' ? postCells : vStitchCells;
  const before = planned[index].cells - planned[index].added;
  const shared = index === 0 ? start.stitches - planned[0].cells : planned[index].added;
  const steps = evenestReadable(
    waysToShare(shared, before),
    (shares) => (isPost ? upright(start, planned, index, shares) : loopCells(planned, index, shares)),
    (index === 0 && start.closing === 'joined' ? START_CHARACTERS : 0) +
      (index === planned.length - 1 ? END_CHARACTERS : 0),
  );
  if (index < planned.length - 1) return steps;
  return [...steps, { do: 'level', into: isPost ? 'stitch' : 'space' }];
}

function meshRound(
  start: MeshStart,
  planned: readonly PlannedRound[],
  round: PlannedRound,
  index: number,
  steps: readonly Step[],
): Round {
  return {
    number: start.firstNumber + index,
    part: 'mesh',
    starts: startAfter(index === 0 ? start.closing : 'spiral'),
    closing: 'spiral',
    stitch: start.choices.mesh.kind === 'loop' ? 'sc' : start.choices.mesh.postStitch,
    steps,
    stitches: start.choices.mesh.kind === 'v-stitch' ? 2 * round.cells : round.cells,
    spaces: round.cells,
    widthMm: null,
    heightMm: heightEstimate(meridianAt(start.meridian, round.endSMm).zMm, start.gauge),
    flatness: null,
    notes: roundNotes(start, planned, index),
  };
}

/** The steps of each cell. */
function postCells(
  start: MeshStart,
  planned: readonly PlannedRound[],
  index: number,
  shares: readonly number[],
): Step[][] {
  const { chains } = planned[index];
  return rampedPosts(start, planned, index).map((stitch, cell): Step[] => {
    const post: Step[] = [
      { do: 'stitch', stitch, into: 'stitch', times: 1 },
      { do: 'chain', chains },
    ];
    if (index === 0) return [...post, ...skipStitches(shares[cell])];
    if (shares[cell] === 0) return [...post, { do: 'skip', place: 'space', count: 1 }];
    return [
      ...post,
      { do: 'stitch', stitch: start.choices.mesh.postStitch, into: 'space', times: 1 },
      { do: 'chain', chains },
    ];
  });
}

/** A pair in one place with the chains between; an added cell is a second pair in the same space. */
function vStitchCells(
  start: MeshStart,
  planned: readonly PlannedRound[],
  index: number,
  shares: readonly number[],
): Step[][] {
  const { chains } = planned[index];
  const pair = (stitch: FabricStitch, into: 'stitch' | 'space' | 'same'): Step[] => [
    { do: 'stitch', stitch, into, times: 1 },
    { do: 'chain', chains },
    { do: 'stitch', stitch, into: 'same', times: 1 },
  ];
  return rampedPosts(start, planned, index).map((stitch, cell): Step[] => {
    if (index === 0) return [...pair(stitch, 'stitch'), ...skipStitches(shares[cell])];
    if (shares[cell] === 0) return pair(stitch, 'space');
    return [...pair(stitch, 'space'), ...pair(start.choices.mesh.postStitch, 'same')];
  });
}

/** The stitch of each cell before any are added. */
function rampedPosts({ choices }: MeshStart, planned: readonly PlannedRound[], index: number): FabricStitch[] {
  const { cells, added } = planned[index];
  const isOnly = planned.length === 1;
  return postStitches(
    choices.mesh.postStitch,
    cells - added,
    index === 0 && !isOnly,
    index === planned.length - 1 && !isOnly,
  );
}

/**
 * A spiral of tall stitches starts and ends on a step of their height: it is ramped over two stitches of rising, and at
 * the end of falling, height. A mesh of a single round has no room for both and is closed by its slip stitch.
 */
function postStitches(stitch: FabricStitch, cells: number, isFirst: boolean, isLast: boolean): FabricStitch[] {
  const posts: FabricStitch[] = Array.from({ length: cells }, () => stitch);
  const ramp = rampOf(stitch, cells);
  if (isFirst) posts.splice(0, ramp.length, ...ramp);
  if (isLast) posts.splice(cells - ramp.length, ramp.length, ...[...ramp].reverse());
  return posts;
}

/** The lower stitches that lead up to a post; none where a round has too few cells for them. */
function rampOf(stitch: FabricStitch, cells: number): FabricStitch[] {
  const ramp = (['sc', 'hdc'] as const).filter(
    (low) => STITCH_FACTS[low].heightOverWidth < STITCH_FACTS[stitch].heightOverWidth,
  );
  return cells < 3 * ramp.length ? [] : ramp;
}

function loopCells(planned: readonly PlannedRound[], index: number, shares: readonly number[]): Step[][] {
  const { cells, chains, added } = planned[index];
  const before = cells - added;
  return Array.from({ length: before }, (_, cell) => cell).map((cell): Step[] => {
    const loop: Step = { do: 'chain', chains: chains - loweredChains(chains, before - 1 - cell, planned, index) };
    if (index === 0) return [loop, ...skipStitches(shares[cell]), catchInto('stitch')];
    if (shares[cell] === 0) return [loop, catchInto('space')];
    return [loop, catchInto('space'), { do: 'chain', chains }, catchInto('same')];
  });
}

/** The last two loops of the mesh are shorter, so that the end of the spiral comes down level. */
function loweredChains(chains: number, loopsLeft: number, planned: readonly PlannedRound[], index: number): number {
  if (planned.length === 1 || index !== planned.length - 1 || chains < 4 || loopsLeft > 1) return 0;
  return loopsLeft === 0 ? 2 : 1;
}

function catchInto(into: 'stitch' | 'space' | 'same'): Step {
  return { do: 'stitch', stitch: 'sc', into, times: 1 };
}

function skipStitches(count: number): Step[] {
  return count === 0 ? [] : [{ do: 'skip', place: 'stitch', count }];
}

function roundNotes({ choices }: MeshStart, planned: readonly PlannedRound[], index: number): RoundNote[] {
  const { added, cells, chains } = planned[index];
  const { kind, postStitch } = choices.mesh;
  const ramps = kind !== 'loop' && planned.length > 1 && rampOf(postStitch, cells - added).length > 0;
  const notes: RoundNote[] = [];
  if (index > 0 && added > 0) notes.push({ code: 'cells-added', added, cells });
  if (index > 0 && chains !== planned[index - 1].chains) notes.push({ code: 'chains-from-here', chains });
  if (index === 0 && ramps) notes.push({ code: 'ramp-up' });
  const lowered = loweredChains(chains, 0, planned, index) > 0;
  if (index === planned.length - 1 && (kind === 'loop' ? lowered : ramps)) notes.push({ code: 'ramp-down' });
  return notes;
}

function zonesOf(start: MeshStart, planned: readonly PlannedRound[]): MeshZone[] {
  const { kind } = start.choices.mesh;
  const zones: MeshZone[] = [];
  planned.forEach((round, index) => {
    const number = start.firstNumber + index;
    const current = zones[zones.length - 1];
    if (current?.chains === round.chains && current.cells === round.cells) {
      const [min, max] = current.openness;
      const openness = [Math.min(min, round.openness), Math.max(max, round.openness)] as const;
      const hole = largerHole(current.hole, round.hole);
      zones[zones.length - 1] = { ...current, toRound: number, openness, hole, fits: fitsWord(kind, openness) };
    } else {
      const openness = [round.openness, round.openness] as const;
      const { chains, cells } = round;
      const { fittingChains } = round;
      zones.push({
        fromRound: number,
        toRound: number,
        kind,
        chains,
        cells,
        openness,
        fits: fitsWord(kind, openness),
        hole: round.hole,
        fittingChains,
      });
    }
  });
  return zones;
}

function fitsWord(kind: MeshKind, [min, max]: readonly [number, number]): MeshZone['fits'] {
  if (max > CELL_LIMITS[kind].tight) return 'too tight';
  return min < CELL_LIMITS[kind].loose ? 'hangs loose' : 'easy';
}
