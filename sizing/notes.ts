import type { CarrierKind } from './choices.ts';
import type { YarnColour } from './plan.ts';
import type { FabricStitch } from './stitches.ts';

/**
 * Everything a plan has to say, as codes with values; lengths in mm, shares as fractions. One renderer words them
 * (web/text/<language>/plan-notes.ts), and a code without a wording does not compile.
 */
export type Note = PartNote | RoundNote | CoverReason | Warning | Caution | BaseReason | CheckAdvice;

/** Worth knowing before a part is started. */
export type PartNote =
  | { readonly code: 'base-joined'; readonly stitch: FabricStitch }
  | { readonly code: 'base-spiral' }
  | { readonly code: 'base-lower-ending'; readonly fromRound: number; readonly stitches: readonly FabricStitch[] }
  | { readonly code: 'wall-net' }
  | { readonly code: 'wall-sleeve' }
  | { readonly code: 'mesh-spiral' }
  | { readonly code: 'mesh-posts'; readonly stitch: FabricStitch }
  | { readonly code: 'mesh-vs' }
  | { readonly code: 'mesh-loops' }
  | { readonly code: 'mesh-holes'; readonly widthMm: number; readonly heightMm: number }
  | { readonly code: 'mesh-changes' }
  | { readonly code: 'band-into-spaces' }
  | { readonly code: 'band-into-stitches' }
  | { readonly code: 'band-try-on' }
  | { readonly code: 'strap-length'; readonly lengthMm: number };

/** What is special about a round. */
export type RoundNote =
  | { readonly code: 'cells-added'; readonly added: number; readonly cells: number }
  | { readonly code: 'chains-from-here'; readonly chains: number }
  | { readonly code: 'ramp-up' }
  | { readonly code: 'ramp-down' }
  | { readonly code: 'mark-round' }
  | { readonly code: 'in-colour'; readonly colour: YarnColour }
  | { readonly code: 'holes-for-cord' }
  | { readonly code: 'container-inside' };

/** Why the carrier ends where it does. */
export type CoverReason =
  | { readonly code: 'cover-chosen'; readonly coverMm: number }
  | { readonly code: 'cover-shoulder'; readonly coverMm: number }
  | { readonly code: 'cover-above-low-shoulder'; readonly shoulderMm: number; readonly coverMm: number }
  | { readonly code: 'cover-top-free'; readonly coverMm: number }
  | { readonly code: 'cover-straight'; readonly coverMm: number };

/** What the maker should know before she trusts the plan. */
export type Warning =
  | { readonly code: 'gauge-guessed' }
  | { readonly code: 'hook-unlike-yarn'; readonly hookMm: number; readonly usualMm: readonly [number, number] }
  | { readonly code: 'yarn-unlike-gauge'; readonly metresPer100g: number; readonly usual: readonly [number, number] }
  | { readonly code: 'cover-low'; readonly coverMm: number; readonly leastMm: number }
  | { readonly code: 'base-shape'; readonly shape: 'cone' | 'cupped' | 'ruffle onset' | 'ruffle' }
  | MeshWarning
  | { readonly code: 'holes-larger'; readonly mostMm: number; readonly widthMm: number; readonly heightMm: number }
  | { readonly code: 'no-mesh' }
  | { readonly code: 'mostly-sleeve'; readonly wallRounds: number; readonly meshRounds: number }
  | { readonly code: 'wall-loose'; readonly heightMm: number; readonly stitches: number; readonly hugging: number }
  | { readonly code: 'band-too-tight'; readonly stretch: number; readonly stitchesMore: number }
  | { readonly code: 'band-loose'; readonly slack: number; readonly stitches: number; readonly hugging: number }
  | { readonly code: 'band-low' }
  | { readonly code: 'load-heavy'; readonly massG: number }
  | { readonly code: 'load-too-heavy'; readonly massG: number }
  | { readonly code: 'strand-weak'; readonly times: number };

/** Rounds of the mesh whose cells do not suit, and the chains that would. */
export type MeshWarning =
  | { readonly code: 'mesh-too-tight'; readonly fromRound: number; readonly toRound: number; readonly chains: number }
  | { readonly code: 'mesh-loose'; readonly fromRound: number; readonly toRound: number; readonly chains: number }
  | { readonly code: 'mesh-loose-at-narrow'; readonly fromRound: number; readonly toRound: number };

export type Caution =
  | { readonly code: 'caution-children' }
  | { readonly code: 'caution-rules' }
  | { readonly code: 'caution-test'; readonly testMassG: number }
  | { readonly code: 'caution-hot' }
  | { readonly code: 'caution-glass' }
  | { readonly code: 'caution-flames' };

/** What speaks for or against a way of working the base. */
export type BaseReason =
  | { readonly code: 'rim-exact' }
  | { readonly code: 'rim-off'; readonly share: number; readonly byMm: number }
  | { readonly code: 'lies'; readonly shape: 'cone' | 'cupped' | 'flat' | 'ruffle onset' | 'ruffle' }
  | { readonly code: 'cells'; readonly cells: number; readonly skip: number; readonly uneven: boolean }
  | { readonly code: 'full-rounds' }
  | { readonly code: 'own-increases'; readonly flat: number; readonly customary: number }
  | { readonly code: 'ends-in'; readonly stitch: FabricStitch };

/** What to do when a check reads less, or more. */
export type CheckAdvice =
  | { readonly code: 'finished-here'; readonly readingMm: number; readonly carrier: CarrierKind }
  | {
      readonly code: 'base-becomes';
      readonly ripBack: boolean;
      readonly readingMm: number;
      readonly rounds: number;
      readonly stitches: number;
      readonly lastStitch: FabricStitch;
    }
  | { readonly code: 'maybe-a-round-more' }
  | { readonly code: 'maybe-a-round-fewer' }
  /** `again`: a round that leaves the count as it is; null where the last one changes it. `last`: null at the very top. */
  | { readonly code: 'one-round-more'; readonly again: number | null; readonly last: number | null }
  | { readonly code: 'last-round-now'; readonly ripTo: number; readonly last: number | null };

export type NoteCode = Note['code'];
export type NoteOf<C extends NoteCode> = Extract<Note, { readonly code: C }>;
