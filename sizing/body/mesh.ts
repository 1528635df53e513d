import { spread } from '../base/flat-circle.ts';
import type { Choices, MeshKind } from '../choices.ts';
import { compressUnits } from '../compress-steps.ts';
import { chainLengthMm, type Gauge, roundHeightMm } from '../gauge.ts';
import type { MeshZone, Round, Step } from '../plan.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';
import { type Meridian, meridianAt, widestRadiusBelowMm } from './meridian.ts';
import { cellsFor, loopBarMm, loopCell, loopCellsPerTurn, postCellWidthMm } from './mesh-cells.ts';
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

/** Working range of a loop is 0.5-0.7 (common practice); limits of posts are common practice too, no source. */
export const CELL_LIMITS: Readonly<Record<MeshKind, CellLimits>> = {
  loop: { loose: 0.4, tight: 0.92, low: 0.5, best: 0.6, high: 0.7, passing: 0.95, mostExtraChains: 4 },
  post: { loose: 0.68, tight: 1.12, low: 0.75, best: 0.92, high: 1.05, passing: 1.1, mostExtraChains: 2 },
};

const MOST_CHAINS = 15;
/** Below this the height of a cell would not bring the work on: the mesh is then too tight, which is told. */
const LOWEST_CELL_SHARE = 0.2;

interface PlannedRound extends MeshRoundCells {
  readonly openness: number;
  readonly endSMm: number;
  readonly added: number;
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
    if (!kept && start.toSMm - sMm < cell.heightMm / 2) return rounds;
    ({ cells, chains } = fitted);
    sMm += cell.heightMm;
    rounds.push({ cells, chains, openness: cell.openness, endSMm: sMm, added });
  }
}

function cellAt(start: MeshStart, { cells, chains }: MeshRoundCells, diameterMm: number) {
  const { gauge, choices, heightFactor } = start;
  if (choices.mesh.kind === 'post') {
    const widthMm = (Math.PI * diameterMm) / cells;
    return {
      openness: widthMm / postCellWidthMm(chains, chainLengthMm(gauge)),
      heightMm: roundHeightMm(gauge, choices.mesh.postStitch) * heightFactor,
    };
  }
  const bar = barMm(gauge, chains);
  const cell = loopCell(diameterMm, loopCellsPerTurn(cells), bar);
  return { openness: cell.openness, heightMm: Math.max(cell.heightMm, LOWEST_CELL_SHARE * bar) * heightFactor };
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

function meshSteps(start: MeshStart, planned: readonly PlannedRound[], index: number): Step[] {
  const cells =
    start.choices.mesh.kind === 'post' ? postCells(start, planned, index) : loopCells(start, planned, index);
  const isLast = index === planned.length - 1;
  return [...compressUnits(cells), ...(isLast ? [{ do: 'level' } as const] : [])];
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
    closing: 'spiral',
    stitch: start.choices.mesh.kind === 'post' ? start.choices.mesh.postStitch : 'sc',
    steps,
    stitches: round.cells,
    spaces: round.cells,
    widthMm: null,
    heightMm: heightEstimate(meridianAt(start.meridian, round.endSMm).zMm, start.gauge),
    flatness: null,
    note: roundNote(start, planned, index),
  };
}

/** The steps of each cell. */
function postCells(start: MeshStart, planned: readonly PlannedRound[], index: number): Step[][] {
  const { cells, chains, added } = planned[index];
  const before = cells - added;
  const posts = postStitches(start.choices.mesh.postStitch, before, index === 0, index === planned.length - 1);
  const skips = skipsOf(start);
  const extra = spread(added, before);
  return posts.map((stitch, cell): Step[] => {
    const post: Step[] = [
      { do: 'stitch', stitch, into: 'stitch', times: 1 },
      { do: 'chain', chains },
    ];
    if (index === 0) return [...post, ...skipStitches(skips[cell])];
    if (extra[cell] === 0) return [...post, { do: 'skip', place: 'space', count: 1 }];
    return [
      ...post,
      { do: 'stitch', stitch: start.choices.mesh.postStitch, into: 'space', times: 1 },
      { do: 'chain', chains },
    ];
  });
}

/**
 * A spiral of tall stitches starts and ends on a step of their height: it is ramped over two stitches of rising, and at
 * the end of falling, height.
 */
function postStitches(stitch: FabricStitch, cells: number, isFirst: boolean, isLast: boolean): FabricStitch[] {
  const posts: FabricStitch[] = Array.from({ length: cells }, () => stitch);
  const ramp = (['sc', 'hdc'] as const).filter(
    (low) => STITCH_FACTS[low].heightOverWidth < STITCH_FACTS[stitch].heightOverWidth,
  );
  if (cells < 3 * ramp.length) return posts;
  if (isFirst) posts.splice(0, ramp.length, ...ramp);
  if (isLast) posts.splice(cells - ramp.length, ramp.length, ...[...ramp].reverse());
  return posts;
}

function loopCells(start: MeshStart, planned: readonly PlannedRound[], index: number): Step[][] {
  const { cells, chains, added } = planned[index];
  const before = cells - added;
  const skips = skipsOf(start);
  const extra = spread(added, before);
  return Array.from({ length: before }, (_, cell) => cell).map((cell): Step[] => {
    const loop: Step = { do: 'chain', chains: chains - loweredChains(chains, before - 1 - cell, planned, index) };
    if (index === 0) return [loop, ...skipStitches(skips[cell]), catchInto('stitch')];
    if (extra[cell] === 0) return [loop, catchInto('space')];
    return [loop, catchInto('space'), { do: 'chain', chains }, catchInto('same')];
  });
}

/** The last two loops of the mesh are shorter, so that the end of the spiral comes down level. */
function loweredChains(chains: number, loopsLeft: number, planned: readonly PlannedRound[], index: number): number {
  if (index !== planned.length - 1 || chains < 4 || loopsLeft > 1) return 0;
  return loopsLeft === 0 ? 2 : 1;
}

function catchInto(into: 'stitch' | 'space' | 'same'): Step {
  return { do: 'stitch', stitch: 'sc', into, times: 1 };
}

/** Stitches each cell of the first mesh round passes over. */
function skipsOf({ stitches, choices }: MeshStart): number[] {
  const { cells } = cellsFor(stitches, choices.mesh.skip);
  return spread(stitches - cells, cells);
}

function skipStitches(count: number): Step[] {
  return count === 0 ? [] : [{ do: 'skip', place: 'stitch', count }];
}

function roundNote(start: MeshStart, planned: readonly PlannedRound[], index: number): string | null {
  const { added, cells, chains } = planned[index];
  const notes: string[] = [];
  if (index > 0 && added > 0) notes.push(`${added} cells are added here: ${cells} cells from now on.`);
  if (index > 0 && chains !== planned[index - 1].chains) notes.push(`From here on, chain ${chains}.`);
  if (index === 0 && start.choices.mesh.kind === 'post' && start.choices.mesh.postStitch !== 'sc') {
    notes.push('The first stitches are lower, so that the spiral starts without a step.');
  }
  if (index === planned.length - 1) notes.push('The last cells come down to level the end of the spiral.');
  return notes.length > 0 ? notes.join(' ') : null;
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
      zones[zones.length - 1] = { ...current, toRound: number, openness, fits: fitsWord(kind, openness) };
    } else {
      const openness = [round.openness, round.openness] as const;
      const { chains, cells } = round;
      zones.push({ fromRound: number, toRound: number, kind, chains, cells, openness, fits: fitsWord(kind, openness) });
    }
  });
  return zones;
}

function fitsWord(kind: MeshKind, [min, max]: readonly [number, number]): MeshZone['fits'] {
  if (max > CELL_LIMITS[kind].tight) return 'too tight';
  return min < CELL_LIMITS[kind].loose ? 'hangs loose' : 'easy';
}
