import { type Meridian, meridianAtHeight } from '../body/meridian.ts';
import { roundHeightMm } from '../gauge.ts';
import { isOwnPiece, type Part, type PartName, type Plan, type Round, type Step } from '../plan.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';

/**
 * A place on the fabric: turns round the axis in the direction of work, counted on from round to round, and arc length
 * along the container from the centre of its base.
 */
export interface FabricPoint {
  readonly turn: number;
  readonly sMm: number;
}

interface Common {
  readonly part: PartName;
  readonly round: number;
}

/** A stitch of the fabric: `feet` are where it is worked into, more than one when stitches are worked together. */
export interface PlacedStitch extends Common {
  readonly made: 'stitch';
  readonly stitch: FabricStitch;
  readonly feet: readonly FabricPoint[];
  readonly top: FabricPoint;
  /** Its share of the round; null in an open mesh, where it is as wide as the gauge says. */
  readonly widthTurns: number | null;
}

/** A run of chains between two stitches. `over` is where its middle is held, when it is a loop. */
export interface PlacedChains extends Common {
  readonly made: 'chains';
  readonly chains: number;
  readonly from: FabricPoint;
  readonly to: FabricPoint;
  readonly over: FabricPoint | null;
  /** The next round goes into it in one place (and draws it to a point), or in many. */
  readonly caughtInOnePlace: boolean;
}

export interface PlacedSlip extends Common {
  readonly made: 'slip';
  readonly at: FabricPoint;
}

export type Placed = PlacedStitch | PlacedChains | PlacedSlip;

export interface PlacedWork {
  readonly placed: readonly Placed[];
  /** Tops of the last round before the cord, in order: what the strap is sewn to. */
  readonly edge: readonly FabricPoint[];
}

interface Place extends FabricPoint {
  readonly kind: 'stitch' | 'space';
  /** Half of what a chain space spans, and how far its ends lie below its middle. */
  readonly halfTurn: number;
  readonly sagMm: number;
  /** Which of all that is placed is the run of chains under this space; null for a top. */
  readonly run: number | null;
}

/** What is made in a round, in order, before it is known where it goes. */
type Draft =
  | {
      readonly made: 'stitch';
      readonly stitch: FabricStitch;
      readonly feet: readonly number[];
      readonly asChains: number;
    }
  | { readonly made: 'chain'; readonly chains: number }
  | { readonly made: 'standing'; readonly chains: number }
  | { readonly made: 'slip' };

/** Where a round's upper edge lies over its mean at its start and its end, in heights of the round. */
interface Slope {
  readonly start: number;
  readonly end: number;
}

/** In a spiral the step of one round is taken over this share of a turn on either side of the start. */
const STEP_TURNS = 0.06;
/** A loop that is caught stands this share of a single crochet's height over and under the catch. */
const CATCH_SHARE = 0.3;
const RING_TURNS = 0;

/** Works a plan stitch by stitch and says where on the fabric each stitch and chain comes to lie. */
export function placeStitches(plan: Plan, meridian: Meridian): PlacedWork {
  const edges = edgeLevels(plan, meridian);
  const rounds = plan.parts.flatMap((part) => part.rounds.map((round) => ({ part, round })));
  const placed: Placed[] = [];
  let before: readonly Place[] = [];
  let hook: FabricPoint = { turn: 0, sMm: 0 };
  let edge: readonly FabricPoint[] = [];
  rounds.forEach(({ part, round }, index) => {
    if (isOwnPiece(part.name)) return;
    const work = new RoundWork(plan, part, round, before, hook, {
      startMm: index === 0 ? 0 : edges[index - 1],
      endMm: edges[index],
      slope: slopeOf(
        rounds.map((each) => each.round),
        index,
      ),
      caughtInOnePlace: rounds[index + 1]?.part.name === 'mesh',
      placedBefore: placed.length,
    });
    work.place();
    for (const [run, turn] of work.pulls) placed[run] = pulledTo(placed[run], turn);
    placed.push(...work.placed);
    before = work.places;
    hook = work.hook;
    edge = work.places.filter(({ kind }) => kind === 'stitch');
  });
  return { placed, edge };
}

/** Arc length at which each round ends. */
function edgeLevels(plan: Plan, meridian: Meridian): number[] {
  const levels: number[] = [];
  let sMm = 0;
  for (const part of plan.parts) {
    for (const round of part.rounds) {
      if (part.name === 'base') {
        sMm = plan.carrier === 'mat' && round.widthMm ? round.widthMm.value / 2 : sMm + baseHeightMm(plan, round);
      } else if (round.heightMm) {
        const heightMm =
          roundHeightMm(plan.gauge, round.stitch ?? 'sc') * (part.name === 'band' ? 1 : plan.heightFactor);
        const onWallMm = round.heightMm.value > 0 ? meridianAtHeight(meridian, round.heightMm.value).sMm : 0;
        sMm = onWallMm > sMm + heightMm * 0.1 ? onWallMm : sMm + heightMm * 0.5;
      }
      levels.push(sMm);
    }
  }
  return levels;
}

function baseHeightMm(plan: Plan, round: Round): number {
  return roundHeightMm(plan.gauge, round.stitch ?? plan.gauge.stitch);
}

/** A spiral climbs by a round each turn: half before and half after the middle of its step. */
function slopeOf(rounds: readonly Round[], index: number): Slope {
  const isSpiral = rounds[index].closing === 'spiral';
  const ends = rounds[index].steps.some((step) => step.do === 'level');
  const goesOn = rounds[index + 1]?.closing === 'spiral' && !ends;
  return { start: isSpiral ? -0.5 : 0, end: isSpiral ? (goesOn ? 0.5 : -0.5) : 0 };
}

interface RoundLevels {
  readonly startMm: number;
  readonly endMm: number;
  readonly slope: Slope;
  readonly caughtInOnePlace: boolean;
  readonly placedBefore: number;
}

class RoundWork {
  readonly placed: Placed[] = [];
  readonly places: Place[] = [];
  /** Loops of the round before and the turn to which a catch draws their middle. */
  readonly pulls = new Map<number, number>();
  hook: FabricPoint;
  private readonly drafts: Draft[] = [];
  private taken = 0;
  private readonly inPlace = new Map<number, number>();
  private readonly isLoops: boolean;

  constructor(
    private readonly plan: Plan,
    private readonly part: Part,
    private readonly round: Round,
    private readonly before: readonly Place[],
    hookBefore: FabricPoint,
    private readonly levels: RoundLevels,
  ) {
    this.hook = hookBefore;
    this.isLoops = part.name === 'mesh' && plan.choices.mesh.kind === 'loop';
  }

  place(): void {
    for (const step of this.round.steps) this.draft(step);
    const turns = this.topTurns();
    const isOpen = this.isOpen();
    let made = 0;
    let waiting: Extract<Draft, { made: 'chain' }> | null = null;
    const firstTurn = turns[0] ?? 0;
    for (const draft of this.drafts) {
      if (draft.made === 'chain') {
        waiting = draft;
        continue;
      }
      if (draft.made === 'slip') {
        this.placed.push({
          ...this.common(),
          made: 'slip',
          at: { turn: firstTurn, sMm: this.edgeMm(firstTurn, firstTurn) },
        });
        continue;
      }
      if (draft.made === 'standing') {
        const turn = firstTurn - 0.4 * (this.spacing(turns) || 0);
        this.stand(draft.chains, this.footUnder(turn), { turn, sMm: this.edgeMm(firstTurn, firstTurn) });
        continue;
      }
      const turn = turns[made];
      const feet = draft.feet.map((place) => this.footOf(place, turn));
      const top = { turn, sMm: this.topMm(draft, turn, firstTurn, feet) };
      if (waiting) this.chainTo(waiting.chains, this.hook, top);
      waiting = null;
      if (draft.asChains > 0) this.stand(draft.asChains, feet[0], top);
      else {
        const widthTurns = isOpen ? null : this.spacing(turns);
        this.placed.push({ ...this.common(), made: 'stitch', stitch: draft.stitch, feet, top, widthTurns });
      }
      this.places.push({ kind: 'stitch', ...top, halfTurn: 0, sagMm: 0, run: null });
      this.hook = top;
      made++;
    }
    if (waiting) {
      const to = { turn: firstTurn + 1, sMm: this.levels.endMm + this.levels.slope.end * this.heightMm() };
      this.chainTo(waiting.chains, this.hook, to);
    }
  }

  private common(): Common {
    return { part: this.part.name, round: this.round.number };
  }

  private draft(step: Step): void {
    switch (step.do) {
      case 'ring':
        return;
      case 'turning-chain':
        if (step.countsAs === null) this.drafts.push({ made: 'standing', chains: step.chains });
        else
          this.drafts.push({
            made: 'stitch',
            stitch: step.countsAs,
            feet: [this.take('stitch')],
            asChains: step.chains,
          });
        return;
      case 'stitch':
        for (let each = 0; each < step.times; each++) this.stitch(step.stitch, step.into);
        return;
      case 'increase': {
        const foot = this.take('stitch');
        for (let each = 0; each < step.made; each++) this.into(step.stitch, foot);
        return;
      }
      case 'together': {
        const feet = Array.from({ length: step.joined }, () => this.take('stitch'));
        this.drafts.push({ made: 'stitch', stitch: step.stitch, feet, asChains: 0 });
        return;
      }
      case 'chain':
        this.drafts.push({ made: 'chain', chains: step.chains });
        return;
      case 'skip':
        for (let each = 0; each < step.count; each++) this.take(step.place);
        return;
      case 'repeat':
        for (let each = 0; each < step.times; each++) for (const inner of step.steps) this.draft(inner);
        return;
      case 'join':
      case 'level':
        this.drafts.push({ made: 'slip' });
        return;
      case 'cord':
        return;
    }
  }

  private stitch(stitch: FabricStitch, into: 'ring' | 'stitch' | 'space' | 'same'): void {
    const place = into === 'ring' ? -1 : into === 'same' ? this.taken - 1 : this.take(into);
    this.into(stitch, place);
  }

  private into(stitch: FabricStitch, place: number): void {
    this.inPlace.set(place, (this.inPlace.get(place) ?? 0) + 1);
    this.drafts.push({ made: 'stitch', stitch, feet: [place], asChains: 0 });
  }

  /** The index of the next place of a kind; tops of stitches before a chain space are passed over. */
  private take(kind: 'stitch' | 'space'): number {
    if (this.before.length === 0) return -1;
    while (this.before[this.taken] && this.before[this.taken].kind !== kind) this.taken++;
    return this.taken++;
  }

  private isOpen(): boolean {
    return this.drafts.some(({ made }) => made === 'chain');
  }

  private tops(): Extract<Draft, { made: 'stitch' }>[] {
    return this.drafts.filter((draft) => draft.made === 'stitch');
  }

  private spacing(turns: readonly number[]): number {
    return 1 / Math.max(1, turns.length);
  }

  /**
   * Stitches of a closed round share it evenly, on the whole over their feet. In a mesh each stands over its foot, and
   * where several share one the neighbours make room.
   */
  private topTurns(): number[] {
    const tops = this.tops();
    const count = tops.length;
    if (this.before.length === 0) return Array.from({ length: count }, (_, k) => k / count);
    const seen = new Map<number, number>();
    const feet = tops.map(({ feet }) => {
      const over = feet.map((place) => this.footTurn(place, seen));
      return 1 + over.reduce((sum, turn) => sum + turn, 0) / over.length;
    });
    if (!this.isOpen()) {
      const shift = feet.reduce((sum, turn, k) => sum + turn - k / count, 0) / count;
      return feet.map((_, k) => shift + k / count);
    }
    if (this.isLoops) return evened(feet, this.hook.turn, feet[count - 1] + 1 / (count + 0.5));
    const shares = [...this.inPlace.values()].some((inOne) => inOne > 1);
    return shares ? evened(feet, feet[count - 1] - 1, feet[0] + 1) : feet;
  }

  /** Where in its place the next stitch goes: side by side in a chain space, all in one point of a stitch. */
  private footTurn(index: number, seen: Map<number, number>): number {
    const place = this.before[index];
    if (!place) return RING_TURNS;
    const before = seen.get(index) ?? 0;
    seen.set(index, before + 1);
    return place.turn + sideways(before, this.inPlace.get(index) ?? 1) * place.halfTurn;
  }

  private readonly footsSeen = new Map<number, number>();

  private footOf(index: number, topTurn: number): FabricPoint {
    const place = this.before[index];
    if (!place) return { turn: Number.NaN, sMm: 0 };
    const before = this.footsSeen.get(index) ?? 0;
    this.footsSeen.set(index, before + 1);
    const aside = sideways(before, this.inPlace.get(index) ?? 1);
    const foot = { turn: 1 + place.turn + aside * place.halfTurn, sMm: place.sMm - place.sagMm * aside ** 2 };
    if (!this.isLoops) return foot;
    if (place.run === null) return { ...foot, sMm: foot.sMm - this.catchMm() };
    if (aside === 0) this.pulls.set(place.run, topTurn - 1);
    return { turn: aside === 0 ? topTurn : foot.turn, sMm: foot.sMm - this.catchMm() };
  }

  private footUnder(turn: number): FabricPoint {
    return { turn, sMm: this.levels.startMm };
  }

  private heightMm(): number {
    return this.levels.endMm - this.levels.startMm;
  }

  private catchMm(): number {
    return CATCH_SHARE * roundHeightMm(this.plan.gauge, 'sc');
  }

  private topMm(
    draft: Extract<Draft, { made: 'stitch' }>,
    turn: number,
    firstTurn: number,
    feet: readonly FabricPoint[],
  ) {
    if (this.isLoops) return feet[0].sMm + 2 * this.catchMm();
    return this.edgeMm(turn, firstTurn) - this.loweredMm(draft, feet, turn, firstTurn);
  }

  /** The lower stitches that ramp a mesh's spiral stand lower than its posts. */
  private loweredMm(
    draft: Extract<Draft, { made: 'stitch' }>,
    feet: readonly FabricPoint[],
    turn: number,
    firstTurn: number,
  ) {
    if (this.part.name !== 'mesh' || draft.stitch === this.round.stitch || Number.isNaN(feet[0].sMm)) return 0;
    const full = this.edgeMm(turn, firstTurn) - feet[0].sMm;
    const share = STITCH_FACTS[draft.stitch].heightOverWidth / STITCH_FACTS[this.round.stitch ?? 'sc'].heightOverWidth;
    return Math.max(0, full - Math.max(share * this.heightMm(), 0.2 * full));
  }

  /** Level of the round's upper edge at a turn; the step of a spiral is taken near its start. */
  private edgeMm(turn: number, firstTurn: number): number {
    const { endMm, slope } = this.levels;
    const t = Math.min(1, Math.max(0, turn - firstTurn));
    const rise = (at: number) => Math.exp(-at / STEP_TURNS);
    return endMm + this.heightMm() * (slope.start * rise(t) + slope.end * rise(1 - t));
  }

  /** Chains that stand in for a stitch. */
  private stand(chains: number, foot: FabricPoint, top: FabricPoint): void {
    const from = Number.isNaN(foot.turn) ? { turn: top.turn, sMm: foot.sMm } : foot;
    this.placed.push({ ...this.common(), made: 'chains', chains, from, to: top, over: null, caughtInOnePlace: false });
  }

  private chainTo(chains: number, from: FabricPoint, to: FabricPoint): void {
    const middle = { turn: (from.turn + to.turn) / 2, sMm: (from.sMm + to.sMm) / 2 };
    const over = this.isLoops ? { turn: middle.turn, sMm: this.levels.endMm } : null;
    const { caughtInOnePlace } = this.levels;
    this.placed.push({ ...this.common(), made: 'chains', chains, from, to, over, caughtInOnePlace });
    const at = over ?? middle;
    const run = this.levels.placedBefore + this.placed.length - 1;
    this.places.push({
      run,
      kind: 'space',
      ...at,
      halfTurn: ((to.turn - from.turn) / 2) * 0.75,
      sagMm: caughtInOnePlace ? 0 : 0.5 * (at.sMm - middle.sMm),
    });
  }
}

/** A loop whose middle is drawn aside by what catches it. */
function pulledTo(run: Placed, turn: number): Placed {
  return run.made === 'chains' && run.over ? { ...run, over: { ...run.over, turn } } : run;
}

/** -1 to 1: where the k-th of `count` stitches stands in one place. */
function sideways(k: number, count: number): number {
  return (2 * (k + 0.5)) / count - 1;
}

/** Angles drawn towards the middle of their neighbours, so that none stand on one another. */
function evened(turns: readonly number[], before: number, after: number): number[] {
  let now = [...turns];
  for (let round = 0; round < 12; round++) {
    now = now.map((turn, k) => turn / 2 + ((now[k - 1] ?? before) + (now[k + 1] ?? after)) / 4);
  }
  return now;
}
