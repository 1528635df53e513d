import type { CarrierKind, Choices, MeshKind, StrapCord, StrapFastening, StrapStyle } from './choices.ts';
import type { Container } from './container.ts';
import type { Estimate } from './estimate.ts';
import type { Gauge } from './gauge.ts';
import type { BaseReason, Caution, CheckAdvice, CoverReason, PartNote, RoundNote, Warning } from './notes.ts';
import type { Refusal } from './refusal.ts';
import type { FabricStitch } from './stitches.ts';

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
 * without taking it: it ends a spiral. `tab`, `cord` and `strip` are pieces of their own: rows on so many stitches of the
 * last round, a cord of so many stitches, and rows of so many stitches by length; all leave that round as it is.
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
  | { readonly do: 'level'; readonly into: 'stitch' | 'space' }
  | { readonly do: 'tab'; readonly stitches: number; readonly rows: number; readonly pieces: number }
  | { readonly do: 'cord'; readonly stitches: number; readonly pieces: number }
  | { readonly do: 'strip'; readonly stitches: number; readonly rows: number; readonly pieces: number };

export type Into = 'ring' | 'stitch' | 'space' | 'same';

export type PartName = 'base' | 'wall' | 'mesh' | 'band' | 'drawstring' | 'strap';

/** Worked by itself, not on from the round before. */
export function isOwnPiece(part: PartName): boolean {
  return part === 'strap' || part === 'drawstring';
}

export interface Round {
  /** Counted through the whole carrier from 1. */
  readonly number: number;
  readonly part: PartName;
  /**
   * Where its first stitch goes: into the ring, into the stitch that the round before was joined to, into the chain space
   * that its last slip stitch went into, or on from the last stitch as in a spiral.
   */
  readonly starts: 'ring' | 'joining stitch' | 'closing space' | 'next stitch';
  /** `joined`: closed with a slip stitch; `spiral`: worked on without a join; `rows`: a tab; `cord`: by length. */
  readonly closing: 'joined' | 'spiral' | 'rows' | 'cord';
  /** What the round is worked in; null for a cord. Posts of the mesh may be lower where the spiral is ramped. */
  readonly stitch: FabricStitch | null;
  /** Only where the plan has stripes. */
  readonly colour?: YarnColour;
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
  readonly notes: readonly RoundNote[];
}

/** Colours of yarn by letter, as patterns name them. */
export type YarnColour = 'A' | 'B' | 'C' | 'D';

/** Where a round starts above one closed like this. */
export function startAfter(closing: Round['closing']): Round['starts'] {
  return closing === 'joined' ? 'joining stitch' : 'next stitch';
}

export type FlatShape = 'cone' | 'cupped' | 'flat' | 'ruffle onset' | 'ruffle';

export interface Part {
  readonly name: PartName;
  readonly rounds: readonly Round[];
  /** Worth knowing before starting the part. */
  readonly notes: readonly PartNote[];
  readonly yarnMetres: Estimate;
  readonly yarnGrams: Estimate;
  readonly minutes: Estimate;
}

/** What a way of working the base is best at. */
export type BaseAim = 'easiest' | 'fit' | 'flattest';

/** One way to work the base: lowest score for its first aim; see base-candidates.ts for the objective. */
export interface BaseCandidate {
  readonly start: number;
  readonly increasesPerRound: number;
  readonly rounds: number;
  readonly lastStitch: FabricStitch;
  readonly stitchesAround: number;
  readonly widthMm: Estimate;
  readonly cells: number;
  readonly aims: readonly BaseAim[];
  readonly score: number;
  readonly terms: BaseScoreTerms;
  readonly reasons: readonly BaseReason[];
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

/** An opening of the mesh: between posts a rectangle, of loops a diamond that two rounds make. */
export interface Hole {
  readonly widthMm: number;
  readonly heightMm: number;
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
  /** Largest opening of the zone on the container, from the middle of a strand to the middle of the next. */
  readonly hole: Hole;
  /** Chains a cell would need to suit the container where the zone starts. */
  readonly fittingChains: number;
}

export interface BandFit {
  readonly stitches: number;
  readonly relaxedCircumferenceMm: number;
  /** Stretch needed so that the widest place below the band passes through it; 0 or less: passes freely. */
  readonly stretchToInsert: number;
  readonly goesIn: boolean;
  /** Stitches that would hug the container at the seat, and those that pass its widest place below with some margin. */
  readonly huggingStitches: number;
  readonly passingStitches: number;
  /** Slack between band and container where the band sits, as a share of the circumference. */
  readonly slackAtSeat: number;
  /** Height of the band's upper edge over the height of the full container's centre of mass. */
  readonly heightOverCentreOfMass: number;
  readonly staysIn: boolean;
}

export interface StrapPlan {
  readonly style: Exclude<StrapStyle, 'by-load' | 'none'>;
  readonly fastening: Exclude<StrapFastening, 'by-load'>;
  readonly cord: Exclude<StrapCord, 'by-load'>;
  /** Free length of the strap, or of each of two handles. */
  readonly lengthMm: number;
  readonly lengthSource: 'typed' | 'wearer' | 'style';
  /** Cords to work, the length of each, and its stitches; of a flat strap its rows. */
  readonly pieces: number;
  readonly cordLengthMm: number;
  readonly stitches: number;
  /** Stitches in a row of a flat strap; 1 of a cord. */
  readonly across: number;
  /** Left at both ends of each cord, and at the end of a tab, for sewing. */
  readonly tailMm: number;
  /** How far a cord lies on what it is sewn to, at each end. */
  readonly sewMm: number;
  /** Worked on the top round for the cord to be sewn to; null when the cord runs under the base. */
  readonly tab: { readonly stitches: number; readonly rows: number; readonly heightMm: number } | null;
  /** Stitches of the top round, counted from 1, at which the strap (or the middle of a tab) sits. */
  readonly at: readonly number[];
  readonly topStitches: number;
  readonly on: 'band' | 'top round';
}

export interface DrawstringPlan {
  /** Plain rounds between band and holes, which lie on the shoulder when it is drawn together. */
  readonly collarRounds: number;
  readonly holes: number;
  readonly holesRound: number;
  /** Once round the open top and an end on either side. */
  readonly cordLengthMm: number;
  readonly stitches: number;
  readonly endMm: number;
}

export interface LoadPlan {
  /** Upper bound: the outer volume full of water, plus the container. */
  readonly fullMassG: Estimate;
  readonly emptyMassG: Estimate | null;
  readonly contentsMassG: Estimate;
  readonly staticForceN: number;
  /** One knotted strand over the static force; null when fibre or thickness of the yarn are not known. */
  readonly marginOfOneKnottedStrand: number | null;
}

export interface YarnNeed {
  readonly metres: Estimate;
  readonly grams: Estimate;
  readonly balls: number;
  readonly probabilityEnough: number;
  readonly oneBallLess: { readonly balls: number; readonly probabilityEnough: number } | null;
  readonly calibratedBySwatch: boolean;
  /** Of each colour; empty where there is one. */
  readonly byColour: readonly ColourNeed[];
}

export interface ColourNeed {
  readonly colour: YarnColour;
  readonly metres: Estimate;
  readonly grams: Estimate;
  readonly balls: number;
}

export interface CostPlan {
  readonly material: number | null;
  readonly labour: Estimate | null;
  readonly total: Estimate | null;
  /** What an hour brings at her price, fees and yarn taken off; null while no price is said. */
  readonly hourAtPrice: Estimate | null;
  readonly price: number | null;
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
  /** Where it first becomes too tight, and where first too loose. */
  readonly tightest: FitPlace;
  readonly loosest: FitPlace;
  /** How much smaller and larger than planned the container may be around, as factors, and the carrier still fits. */
  readonly holds: readonly [smallest: number, largest: number];
  readonly verdict: FitVerdict;
}

/** What to tell the maker. A gauge that is only guessed is no ground for odds: then it is a check that decides. */
export type FitVerdict =
  | { readonly kind: 'check-first'; readonly afterRound: number; readonly thenFits: number }
  | { readonly kind: 'fits' }
  | { readonly kind: 'likely'; readonly afterRound: number | null }
  | { readonly kind: 'unlikely'; readonly problem: 'too tight' | 'too loose'; readonly where: FitPlace };

export type FitPlace = 'base' | 'wall' | 'mesh' | 'band';

export interface Checkpoint {
  readonly afterRound: number;
  readonly measure: 'width across' | 'height above the table';
  readonly expectedMm: Estimate;
  /** Go on while the reading is between these. */
  readonly goOnMm: readonly [min: number, max: number];
  /** What to do when it measures less, or more. */
  readonly ifLess: CheckAdvice;
  readonly ifMore: CheckAdvice;
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
  readonly coverReason: CoverReason | null;
  readonly zones: readonly MeshZone[];
  readonly band: BandFit | null;
  readonly drawstring: DrawstringPlan | null;
  readonly strap: StrapPlan | null;
  readonly load: LoadPlan;
  readonly capacityMl: Estimate;
  readonly yarn: YarnNeed;
  readonly minutes: Estimate;
  readonly cost: CostPlan | null;
  readonly fit: FitForecast;
  readonly checkpoints: readonly Checkpoint[];
  readonly warnings: readonly Warning[];
  readonly cautions: readonly Caution[];
  /** Height of wall and mesh rounds as measured on the work, over what the gauge says; 1 until it is measured. */
  readonly heightFactor: number;
  /** Set by `replan`: rounds up to here are already worked. */
  readonly workedRounds: number;
  /** The base has the maker's own counts (regrade.ts): they stay while the work comes out near what is expected. */
  readonly ownCounts: boolean;
}

export type PlanResult =
  | { readonly outcome: 'planned'; readonly plan: Plan }
  | { readonly outcome: 'refused'; readonly reason: Refusal };
