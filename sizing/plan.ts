import type { CarrierKind, Choices, MeshKind } from './choices.ts';
import type { Container } from './container.ts';
import type { Estimate } from './estimate.ts';
import type { Gauge } from './gauge.ts';
import type { Refusal } from './refusal.ts';
import type { FabricStitch } from './stitches.ts';

/**
 * Sentences in a plan name stitches in US abbreviations in braces, `{sc}`, and lengths as `{66.2 mm}`: `inWords` of
 * words.ts puts them in the reader's terms and units.
 */

/**
 * The stitch language. A round meets the places the round before left, in order: tops of stitches and chain spaces.
 * Every place is used exactly once and in order:
 * - `into: 'stitch'` takes the next place, which is the top of a stitch;
 * - `into: 'space'` passes over tops of stitches up to the next chain space and takes that;
 * - `into: 'same'` goes into the place taken last; `into: 'ring'` into the starting ring;
 * - `skip` passes over places of one kind.
 * What it leaves: `stitch` and `together` one top each, `increase` as many tops as it makes, `chain` one space.
 * A turning chain leaves a top only if it counts as a stitch; it then takes the first place (or goes into the ring).
 * `join` slips into the first stitch of the same round. `level` slips into the place the next round takes first,
 * without taking it: it ends a spiral.
 */
export type Step =
  | { readonly do: 'ring' }
  | { readonly do: 'turning-chain'; readonly chains: number; readonly countsAs: FabricStitch | null }
  | { readonly do: 'stitch'; readonly stitch: FabricStitch; readonly into: Into; readonly times: number }
  | { readonly do: 'increase'; readonly stitch: FabricStitch; readonly made: number }
  | { readonly do: 'together'; readonly stitch: FabricStitch; readonly joined: number }
  | { readonly do: 'chain'; readonly chains: number }
  | { readonly do: 'skip'; readonly place: 'stitch' | 'space'; readonly count: number }
  | { readonly do: 'repeat'; readonly times: number; readonly steps: readonly Step[] }
  | { readonly do: 'join' }
  | { readonly do: 'level' }
  | { readonly do: 'cord'; readonly stitches: number };

export type Into = 'ring' | 'stitch' | 'space' | 'same';

export type PartName = 'base' | 'wall' | 'mesh' | 'band' | 'strap';

export interface Round {
  /** Counted through the whole carrier from 1. */
  readonly number: number;
  readonly part: PartName;
  /** `joined`: closed with a slip stitch; `spiral`: worked on without a join; `cord`: worked by length. */
  readonly closing: 'joined' | 'spiral' | 'cord';
  /** What the round is worked in; null for a cord. Posts of the mesh may be lower where the spiral is ramped. */
  readonly stitch: FabricStitch | null;
  readonly steps: readonly Step[];
  /** Tops of stitches and chain spaces after the round. */
  readonly stitches: number;
  readonly spaces: number;
  /** Base rounds: predicted width across, patted flat. */
  readonly widthMm: Estimate | null;
  /** Later rounds: height of this round's edge above the table when the carrier is on the container. */
  readonly heightMm: Estimate | null;
  /** Base rounds: stitches over what lies flat. */
  readonly flatness: { readonly ratio: number; readonly shape: FlatShape } | null;
  readonly note: string | null;
}

export type FlatShape = 'cone' | 'cupped' | 'flat' | 'ruffle onset' | 'ruffle';

export interface Part {
  readonly name: PartName;
  readonly rounds: readonly Round[];
  /** Worth knowing before starting the part; whole sentences. */
  readonly notes: readonly string[];
  readonly yarnMetres: Estimate;
  readonly yarnGrams: Estimate;
  readonly minutes: Estimate;
}

/** One way to work the base. The lower the score, the better; see base-candidates.ts for the objective. */
export interface BaseCandidate {
  readonly start: number;
  readonly increasesPerRound: number;
  readonly rounds: number;
  readonly lastStitch: FabricStitch;
  readonly stitchesAround: number;
  readonly widthMm: Estimate;
  readonly cells: number;
  readonly score: number;
  readonly terms: BaseScoreTerms;
  readonly reasons: readonly string[];
}

export interface BaseScoreTerms {
  readonly circumference: number;
  readonly reach: number;
  readonly width: number;
  readonly flatness: number;
  readonly mesh: number;
  readonly counting: number;
  readonly lastStitch: number;
}

/** A run of mesh rounds with the same cells. */
export interface MeshZone {
  readonly fromRound: number;
  readonly toRound: number;
  readonly kind: MeshKind;
  readonly chains: number;
  readonly cells: number;
  /** Width the container imposes on a cell over the width it can open to, narrowest and widest of the zone. */
  readonly openness: readonly [min: number, max: number];
  readonly fits: 'hangs loose' | 'easy' | 'too tight';
}

export interface BandFit {
  readonly stitches: number;
  readonly relaxedCircumferenceMm: number;
  /** Stretch needed so that the widest place below the band passes through it; 0 or less: passes freely. */
  readonly stretchToInsert: number;
  readonly goesIn: boolean;
  /** Slack between band and container where the band sits, as a share of the circumference. */
  readonly slackAtSeat: number;
  /** Height of the band's upper edge over the height of the full container's centre of mass. */
  readonly heightOverCentreOfMass: number;
  readonly staysIn: boolean;
}

export interface StrapPlan {
  readonly lengthMm: number;
  readonly lengthSource: 'typed' | 'wearer' | 'style';
  readonly cordLengthMm: number;
  readonly stitches: number;
  readonly sewOn: string;
}

export interface LoadPlan {
  /** Upper bound: the outer volume full of water, plus the container. */
  readonly fullMassG: Estimate;
  readonly emptyMassG: Estimate | null;
  readonly contentsMassG: Estimate;
  readonly staticForceN: number;
  /** One knotted strand over the static force; null when the fibre's strength is not known. */
  readonly marginOfOneKnottedStrand: number | null;
}

export interface YarnNeed {
  readonly metres: Estimate;
  readonly grams: Estimate;
  readonly balls: number;
  readonly probabilityEnough: number;
  readonly oneBallLess: { readonly balls: number; readonly probabilityEnough: number } | null;
  readonly calibratedBySwatch: boolean;
}

export interface CostPlan {
  readonly material: number | null;
  readonly labour: Estimate | null;
  readonly total: Estimate | null;
  readonly currency: string;
}

export interface FitForecast {
  readonly probabilityFits: number;
  readonly probabilityTooTight: number;
  readonly probabilityTooLoose: number;
  /** Shares of the variance of carrier over container. */
  readonly varianceShare: { readonly gauge: number; readonly measurement: number };
  /** The check that raises the probability most, and what it raises it to. */
  readonly bestCheck: { readonly afterRound: number; readonly probabilityFits: number } | null;
  readonly tightest: string;
  /** How much smaller and larger than planned the container may be around, as factors, and the carrier still fits. */
  readonly holds: readonly [smallest: number, largest: number];
  readonly message: string;
}

export interface Checkpoint {
  readonly afterRound: number;
  readonly measure: 'width across' | 'height above the table';
  readonly expectedMm: Estimate;
  /** Go on while the reading is between these. */
  readonly goOnMm: readonly [min: number, max: number];
  /** What to do when it measures less, or more. */
  readonly ifLess: string;
  readonly ifMore: string;
}

export interface Plan {
  readonly carrier: CarrierKind;
  /** What the plan was made from; `replan` starts from here. */
  readonly container: Container;
  readonly gauge: Gauge;
  readonly choices: Choices;
  readonly targetBaseDiameterMm: Estimate;
  readonly flatIncreases: number;
  readonly candidates: readonly BaseCandidate[];
  readonly parts: readonly Part[];
  readonly coverHeightMm: Estimate | null;
  readonly coverReason: string | null;
  readonly zones: readonly MeshZone[];
  readonly band: BandFit | null;
  readonly strap: StrapPlan | null;
  readonly load: LoadPlan;
  readonly capacityMl: Estimate;
  readonly yarn: YarnNeed;
  readonly minutes: Estimate;
  readonly cost: CostPlan | null;
  readonly fit: FitForecast;
  readonly checkpoints: readonly Checkpoint[];
  readonly warnings: readonly string[];
  readonly cautions: readonly string[];
  /** Height of wall and mesh rounds as measured on the work, over what the gauge says; 1 until it is measured. */
  readonly heightFactor: number;
  /** Set by `replan`: rounds up to here are already worked. */
  readonly workedRounds: number;
}

export type PlanResult =
  | { readonly outcome: 'planned'; readonly plan: Plan }
  | { readonly outcome: 'refused'; readonly reason: Refusal };
