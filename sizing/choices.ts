import { requireInRange, requireOneOf, requireWhole } from './refusal.ts';
import { FABRIC_STITCHES, type FabricStitch } from './stitches.ts';

/** Net carrier on a round base; closed sleeve for jars and cups; a round mat under the container. */
export const CARRIER_KINDS = ['net', 'sleeve', 'mat'] as const;
export type CarrierKind = (typeof CARRIER_KINDS)[number];

/**
 * `post`: tall stitches standing on one another with chains between; `v-stitch`: two of them from one place with chains
 * between, each pair in the chains of the pair below; `loop`: chain loops caught in their middle.
 */
export const MESH_KINDS = ['post', 'v-stitch', 'loop'] as const;
export type MeshKind = (typeof MESH_KINDS)[number];

/** `by-load`: cross-body while the full container is light enough for a crocheted strap, none beyond. */
export const STRAP_STYLES = ['by-load', 'cross-body', 'shoulder', 'wrist', 'handles', 'none'] as const;
export type StrapStyle = (typeof STRAP_STYLES)[number];

/** `tabs`: sewn onto two tabs worked on the band; `under-base`: in one piece, down both sides and under the base. */
export const STRAP_FASTENINGS = ['by-load', 'tabs', 'under-base'] as const;
export type StrapFastening = (typeof STRAP_FASTENINGS)[number];

/** `flat`: a strip of a few single crochets a row, which cuts in less than a cord. */
export const STRAP_CORDS = ['by-load', 'single', 'double', 'flat'] as const;
export type StrapCord = (typeof STRAP_CORDS)[number];

/**
 * `pulled-over`: every round must pass the widest place below it; `around`: above that, worked round the container;
 * `drawstring`: pulled over, with a collar that a cord draws together over the shoulder.
 */
export const TOP_WAYS = ['pulled-over', 'around', 'drawstring'] as const;
export type TopWay = (typeof TOP_WAYS)[number];

export interface MeshChoices {
  readonly kind: MeshKind;
  /** Chains per cell; null: fitted to the container. */
  readonly chains: number | null;
  /** Stitches of the last plain round that a cell passes over. */
  readonly skip: number;
  /** Stitch of the posts, of V-stitches too. */
  readonly postStitch: FabricStitch;
  /** Holes no wider and no higher than this on the container: picks `skip` and `postStitch`; null: as they are given. */
  readonly mostHoleMm: number | null;
}

export interface BandChoices {
  readonly rounds: number;
  /** Stitches in each chain space; null: as many as fit the container there. */
  readonly stitchesPerSpace: number | null;
}

export interface StripeChoices {
  /** 1 to 4; 1 is no stripes. */
  readonly colours: number;
  /** Rounds of wall and net in one colour before the next. */
  readonly rounds: number;
}

export interface StrapChoices {
  readonly style: StrapStyle;
  readonly fastening: StrapFastening;
  readonly cord: StrapCord;
  /** Finished length of the cord from seam to seam; null: from the style, or from the wearer. */
  readonly lengthMm: number | null;
  /** Tape from the hip over the opposite shoulder and back to the hip; null: not measured. */
  readonly wearerAroundMm: number | null;
}

export interface Choices {
  readonly carrier: CarrierKind;
  /** Which of the offered bases to work, 0 = the best. */
  readonly baseCandidate: number;
  /** Carrier circumference over container circumference, minus 1: -0.05 is 5 % smaller. */
  readonly easeRatio: number;
  readonly plainWallRounds: number;
  readonly mesh: MeshChoices;
  readonly band: BandChoices;
  readonly top: TopWay;
  readonly stripes: StripeChoices;
  readonly strap: StrapChoices;
  /** Height of the finished carrier; null: to where the shoulder starts, within safe shares of the height. */
  readonly coverHeightMm: number | null;
  /** How far a mat reaches beyond the container all round. */
  readonly matOverhangMm: number;
  readonly hourlyRate: number | null;
  /** What she asks for the piece, and the share of it that goes in fees; null: not said. */
  readonly price: number | null;
  readonly feeShare: number;
  /** Sign or code printed with amounts of money. */
  readonly currency: string;
}

/** Ease of a sleeve: 5 % smaller than the container (common practice; hats are made 4.6 % smaller, published). */
const SLEEVE_EASE = -0.05;

export function defaultChoices(carrier: CarrierKind = 'net'): Choices {
  return {
    carrier,
    baseCandidate: 0,
    easeRatio: carrier === 'sleeve' ? SLEEVE_EASE : 0,
    plainWallRounds: 1,
    // Chain 2, skip 2 and three stitches per space in the band: common practice, no source.
    mesh: { kind: 'post', chains: null, skip: 2, postStitch: 'dc', mostHoleMm: null },
    band: { rounds: carrier === 'net' ? 2 : carrier === 'sleeve' ? 1 : 0, stitchesPerSpace: null },
    top: 'pulled-over',
    stripes: { colours: 1, rounds: 3 },
    strap: {
      style: carrier === 'net' ? 'by-load' : 'none',
      fastening: 'by-load',
      cord: 'by-load',
      lengthMm: null,
      wearerAroundMm: null,
    },
    coverHeightMm: null,
    matOverhangMm: 5,
    hourlyRate: null,
    price: null,
    feeShare: 0,
    currency: '',
  };
}

/** Refuses choices outside what can be worked, naming the field. */
export function checkChoices(choices: Choices): void {
  requireOneOf('choices.carrier', choices.carrier, CARRIER_KINDS);
  requireWhole('choices.baseCandidate', choices.baseCandidate, 0, 2);
  requireInRange('choices.easeRatio', choices.easeRatio, -0.15, 0.15, '');
  requireWhole('choices.plainWallRounds', choices.plainWallRounds, 0, 30);
  requireOneOf('choices.mesh.kind', choices.mesh.kind, MESH_KINDS);
  if (choices.mesh.chains !== null) requireWhole('choices.mesh.chains', choices.mesh.chains, 1, 15);
  requireWhole('choices.mesh.skip', choices.mesh.skip, 1, 8);
  if (choices.mesh.mostHoleMm !== null)
    requireInRange('choices.mesh.mostHoleMm', choices.mesh.mostHoleMm, 5, 100, 'mm');
  requireOneOf('choices.mesh.postStitch', choices.mesh.postStitch, FABRIC_STITCHES);
  requireWhole('choices.band.rounds', choices.band.rounds, choices.carrier === 'net' ? 1 : 0, 12);
  if (choices.band.stitchesPerSpace !== null) {
    requireWhole('choices.band.stitchesPerSpace', choices.band.stitchesPerSpace, 1, 12);
  }
  requireOneOf('choices.top', choices.top, TOP_WAYS);
  requireWhole('choices.stripes.colours', choices.stripes.colours, 1, 4);
  requireWhole('choices.stripes.rounds', choices.stripes.rounds, 1, 20);
  requireOneOf('choices.strap.style', choices.strap.style, STRAP_STYLES);
  requireOneOf('choices.strap.fastening', choices.strap.fastening, STRAP_FASTENINGS);
  requireOneOf('choices.strap.cord', choices.strap.cord, STRAP_CORDS);
  if (choices.strap.lengthMm !== null) requireInRange('choices.strap.lengthMm', choices.strap.lengthMm, 50, 2500, 'mm');
  if (choices.strap.wearerAroundMm !== null) {
    requireInRange('choices.strap.wearerAroundMm', choices.strap.wearerAroundMm, 300, 2500, 'mm');
  }
  if (choices.coverHeightMm !== null) requireInRange('choices.coverHeightMm', choices.coverHeightMm, 10, 700, 'mm');
  requireInRange('choices.matOverhangMm', choices.matOverhangMm, 0, 100, 'mm');
  if (choices.price !== null) requireInRange('choices.price', choices.price, 0, 1e6, '');
  requireInRange('choices.feeShare', choices.feeShare, 0, 0.9, '');
  if (choices.hourlyRate !== null) requireInRange('choices.hourlyRate', choices.hourlyRate, 0, 1e6, '');
}
