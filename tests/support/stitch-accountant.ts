import type { Plan, Round, Step } from '../../sizing/plan.ts';

type Place = 'stitch' | 'space';

/** What is on the hook after a round, counted by working it. */
export interface WorkedRound {
  readonly number: number;
  readonly stitches: number;
  readonly spaces: number;
  readonly cordStitches: number;
}

/**
 * Works a plan stitch by stitch by the definition of the stitch language in plan.ts and by nothing else: it knows no
 * gauge, no geometry and none of the planner's code. Throws at the first step that cannot be worked as written.
 */
export function workPlan(plan: Pick<Plan, 'parts'>): WorkedRound[] {
  let places: readonly Place[] = [];
  let number = 0;
  const worked: WorkedRound[] = [];
  for (const round of plan.parts.flatMap((part) => part.rounds)) {
    number++;
    if (round.number !== number) throw new Error(`round ${round.number} follows round ${number - 1}`);
    const hook = new Hook(places, round);
    for (const step of round.steps) hook.work(step);
    places = hook.finish();
    worked.push({
      number,
      stitches: stitchesAfter(round, hook, places),
      spaces:
        round.closing === 'cord' || round.closing === 'rows' ? 0 : places.filter((place) => place === 'space').length,
      cordStitches: hook.cordStitches,
    });
  }
  return worked;
}

function stitchesAfter({ closing }: Round, hook: Hook, places: readonly Place[]): number {
  if (closing === 'cord') return hook.cordStitches;
  if (closing === 'rows') return hook.tabStitches;
  return places.filter((place) => place === 'stitch').length;
}

class Hook {
  cordStitches = 0;
  tabStitches = 0;
  private taken = 0;
  private hasTaken = false;
  private usesSpaces = false;
  private ring = false;
  private over = false;
  private joined = false;
  private readonly made: Place[] = [];

  constructor(
    private readonly before: readonly Place[],
    private readonly round: Round,
  ) {}

  work(step: Step): void {
    if (this.over) this.fail(`works on after the round is closed (${step.do})`);
    switch (step.do) {
      case 'ring':
        if (this.round.number !== 1 || this.made.length > 0) this.fail('starts a ring in the middle of the work');
        this.ring = true;
        return;
      case 'turning-chain':
        if (this.made.length > 0) this.fail('turns a chain in the middle of a round');
        if (step.chains < 1) this.fail('a turning chain of nothing');
        if (step.countsAs === null) return;
        if (!this.ring) this.take('stitch');
        this.made.push('stitch');
        return;
      case 'stitch':
        this.count(step.times);
        for (let each = 0; each < step.times; each++) this.stitchInto(step.into);
        return;
      case 'increase':
        this.count(step.made - 1);
        this.take('stitch');
        for (let each = 0; each < step.made; each++) this.made.push('stitch');
        return;
      case 'together':
        this.count(step.joined - 1);
        for (let each = 0; each < step.joined; each++) this.take('stitch');
        this.made.push('stitch');
        return;
      case 'chain':
        this.count(step.chains);
        if (this.made[this.made.length - 1] === 'space') this.fail('chains on from a chain space');
        this.made.push('space');
        return;
      case 'skip':
        this.count(step.count);
        for (let each = 0; each < step.count; each++) {
          this.take(step.place);
          if (step.place === 'space') this.usesSpaces = true;
        }
        this.hasTaken = false;
        return;
      case 'repeat':
        this.count(step.times - 1);
        if (step.steps.length === 0) this.fail('repeats nothing');
        for (let each = 0; each < step.times; each++) for (const inner of step.steps) this.work(inner);
        return;
      case 'join':
        if (this.round.closing !== 'joined' || this.made[0] !== 'stitch') this.fail('has no first stitch to join to');
        this.joined = true;
        this.over = true;
        return;
      case 'level':
        if (this.round.closing !== 'spiral' || this.made.length === 0) this.fail('levels something that is no spiral');
        // The next place of a spiral is the first one of this very round.
        if (this.made[0] !== step.into) this.fail(`levels into a ${step.into} where a ${this.made[0]} comes next`);
        this.over = true;
        return;
      case 'cord':
        if (this.round.closing !== 'cord') this.fail('works a cord in a round');
        this.count(step.stitches);
        this.count(step.pieces);
        this.cordStitches += step.stitches;
        return;
      case 'strip':
        if (this.round.closing !== 'cord') this.fail('works a strip in a round');
        this.count(step.stitches);
        this.count(step.rows);
        this.count(step.pieces);
        this.cordStitches += step.stitches;
        return;
      case 'tab':
        if (this.round.closing !== 'rows') this.fail('works rows in a round');
        this.count(step.rows);
        if (step.stitches * step.pieces > this.before.length) this.fail('has tabs that overlap');
        this.tabStitches = step.stitches;
    }
  }

  finish(): readonly Place[] {
    if (this.round.closing === 'cord' || this.round.closing === 'rows') return this.before;
    if (this.round.closing === 'joined' && !this.joined) this.fail('is a joined round without a join');
    const left = this.before.slice(this.taken);
    if (left.includes('space')) this.fail(`leaves ${left.length} places unworked`);
    if (left.length > 0 && !this.usesSpaces) this.fail(`leaves ${left.length} stitches unworked`);
    return this.made;
  }

  private stitchInto(into: 'ring' | 'stitch' | 'space' | 'same'): void {
    if (into === 'ring' && !this.ring) this.fail('works into a ring that is not there');
    if (into === 'stitch') this.take('stitch');
    if (into === 'space') {
      this.usesSpaces = true;
      while (this.before[this.taken] === 'stitch') this.taken++;
      this.take('space');
    }
    if (into === 'same' && !this.hasTaken) this.fail('goes back to a place it never took');
    this.made.push('stitch');
  }

  private take(place: Place): void {
    const next = this.before[this.taken];
    if (next !== place) this.fail(`wants a ${place} as place ${this.taken + 1} and finds ${next ?? 'none'}`);
    this.taken++;
    this.hasTaken = true;
  }

  private count(value: number): void {
    if (!Number.isInteger(value) || value < 1) this.fail(`counts ${value}`);
  }

  private fail(why: string): never {
    throw new Error(`round ${this.round.number} (${this.round.part}) ${why}`);
  }
}
