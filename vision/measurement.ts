import type { HandFeature } from './container/hand-placement.ts';
import type { SolidInView } from './container/solid-in-view.ts';
import type { Estimate } from './estimate.ts';
import type { Camera } from './geometry/camera-ray.ts';
import type { CornersPx, ImagePoint } from './geometry/frames.ts';
import type { Vector3 } from './geometry/linear3.ts';

/** How the card lies to the container. */
export const ARRANGEMENTS = ['standing', 'lying', 'card-on-front', 'card-leaning'] as const;
export type Arrangement = (typeof ARRANGEMENTS)[number];
/** How a container may be to a coin or disc, which leans on nothing. */
export const ON_ONE_TABLE: readonly Arrangement[] = ['standing', 'lying'];

/** Outer radius at height z above the base plane. */
export interface ProfilePoint {
  readonly zMm: number;
  readonly radiusMm: number;
  readonly sdMm: number;
}

/** Where the container changes character; null where it has no such place. */
export interface ContainerFeatures {
  /** Radius of the rounded edge between base and wall. */
  readonly baseEdgeRadiusMm: Estimate;
  /** Height at which the body ends and the shoulder starts. */
  readonly shoulderZMm: Estimate | null;
  readonly neckDiameterMm: Estimate | null;
  readonly waistZMm: Estimate | null;
  /** Half-angle of the wall between base edge and shoulder; positive opens upwards. 0 for straight walls. */
  readonly wallTaperRad: Estimate;
}

/** The camera that took the photo and where the container is before it: enough to draw onto the photo. */
export interface PhotoView {
  readonly camera: Camera;
  /** Rotation row by row, then what is added: camera frame from container frame, mm. */
  readonly cameraFromContainer: { readonly rotation: readonly number[]; readonly translationMm: Vector3 };
}

/** Everything one photo tells about the container. All sizes include cap and lid, not handles. */
export interface Measurement {
  readonly arrangement: Arrangement;
  readonly card: { readonly cornersPx: CornersPx; readonly reference: string };
  /** Wall extended to the base plane, before the edge rounding. Null when the base is hidden. */
  readonly baseDiameterMm: Estimate | null;
  readonly maxDiameterMm: Estimate;
  readonly heightMm: Estimate;
  /** Outer volume: an upper bound of what it holds. */
  readonly capacityMl: Estimate;
  readonly profile: readonly ProfilePoint[];
  readonly features: ContainerFeatures;
  readonly focalLengthPx: Estimate;
  /** The fitted outline as the model draws it, closed, in the upright full-size photo. */
  readonly outlinePx: readonly ImagePoint[];
  /** The axis in the photo: projections of base centre and top centre. */
  readonly axisPx: readonly [ImagePoint, ImagePoint];
  /** Null for a measurement kept before it was recorded. */
  readonly view: PhotoView | null;
  /** What the maker put in its place; left out when she touched nothing. */
  readonly placedByHand?: readonly HandFeature[];
  /** Where the outline is least certain; left out when it is certain enough everywhere. */
  readonly doubt?: DoubtfulStretch;
}

/** A piece of the outline to look at once more; the walls are named as seen with the base down. */
export interface DoubtfulStretch {
  readonly at: 'top-edge' | 'base-edge' | 'left-wall' | 'right-wall';
  readonly pathPx: readonly ImagePoint[];
}

export interface Problem {
  readonly code: ProblemCode;
  /** One sentence that says what is wrong and what to do. */
  readonly message: string;
}

export type MeasureResult =
  | { readonly outcome: 'measured'; readonly measurement: Measurement; readonly warnings: readonly Problem[] }
  | {
      readonly outcome: 'refused';
      readonly reason: Problem;
      /** What was found before it stopped, so that the page can offer it for repair. */
      readonly found: {
        readonly cornersPx: CornersPx | null;
        readonly outlinePx: readonly ImagePoint[] | null;
        /** Where a card may be although none was found for sure: a place to start from by hand, no more. */
        readonly cornersGuessPx?: CornersPx | null;
        /** A container to start from by hand, as good as it may be. */
        readonly solid?: SolidInView | null;
        /** Things of which one may be meant, closed polygons. */
        readonly candidatesPx?: readonly (readonly ImagePoint[])[];
      };
      readonly warnings: readonly Problem[];
    };

export type Stage = 'card' | 'outline' | 'container';

export const PROBLEMS = {
  // refusals
  'unreadable-photo': 'This file could not be read as a photo. Try a JPEG, PNG or WebP, or take the photo again.',
  'photo-too-large': 'This photo has more than 130 million pixels: save it smaller, then try again.',
  'no-card':
    'No bank card was found. Lay one flat beside the container, wholly in the picture, and try again, or place its corners by hand.',
  'card-cut-off': "The card's corner is cut off: move back a little so that the whole card is in the picture.",
  'card-too-small': 'The card is too small in the picture: move closer, or send the photo at full size.',
  'card-too-oblique': 'The card is seen too flat: hold the camera higher.',
  blurred: 'The picture is blurred: hold the phone still, tap on the card to focus, and take it again.',
  'too-dark': 'The picture is too dark: go nearer to a window or switch on a light.',
  'glare-on-card-edge': 'Glare hides an edge of the card: turn the card or move the light a little.',
  'no-container': 'No container was found. Tap it in the picture, or place it clear of other things.',
  'container-cut-off': 'The container runs out of the picture: move back until all of it is visible.',
  'not-round': 'This does not look like a round container: only round ones can be measured from one photo.',
  'too-flat':
    'This looks flat: only things that stand some 2 cm high can be measured. Is the outline on the container, not on a plate or a shadow?',
  'base-hidden': 'The base of the container is hidden: move the card aside so that the bottom edge is visible.',
  'two-containers': 'There is more than one container: tap the one to measure.',
  'which-arrangement':
    'It is not clear how the card lies: say whether it lies on the table, leans, or is held to the front.',
  'not-recognised':
    'The part that recognises containers could not be loaded: place the outline by hand, or load the page again.',
  'fit-failed': 'The outline does not fit any round container: check the card corners and the outline by hand.',
  'too-uncertain':
    'What is seen leaves the sizes open by a third or more: check the outline and the card corners by hand, or take the photo again nearer and in better light.',
  // refusals of a coin or disc
  'no-round-reference':
    'The coin or disc was not found. Lay it flat on a surface of another colour, wholly in the picture, or mark its rim by hand.',
  'round-too-small': 'The coin or disc is too small in the picture: move closer, or send the photo at full size.',
  'round-too-oblique': 'The coin or disc is seen too flat: hold the camera higher.',
  'round-not-on-table':
    'A coin or disc can only lie on the table that the container stands or lies on: lay it there, or take a card.',
  'stands-or-lies':
    'Beside a coin or disc this may stand or lie on its side, with other sizes: say which, or hold the phone upright, more from the side.',
  // refusals of flat work
  'no-work': 'No piece of work was found. Lay it flat beside the card on a table of another colour, or tap it.',
  'work-cut-off': 'The work runs out of the picture: move back until all of it is visible.',
  'not-a-disc': 'This does not look like a flat round piece: pat it flat, or place its edge by hand.',
  'not-a-rectangle': 'This does not look like a flat rectangular piece: pat it flat, or place its edge by hand.',
  // warnings
  'typical-focal': 'The photo does not say which lens took it, so the ± is a little wider.',
  'looks-cropped': 'The photo looks cropped; use the original if you can. The ± is wider for it.',
  'card-or-lens-unusual':
    'Card and lens do not go together: is this flat thing the reference chosen, lying flat, and the photo as the camera took it? Do not rely on these sizes.',
  'card-far-away': 'The card lies far from the container: put it closer next time for a smaller ±.',
  'round-far-away': 'The coin or disc lies far from the container: put it closer next time for a smaller ±.',
  'round-seen-two-ways':
    'A coin or disc looks the same from two sides, and the sizes differ: the ± spans both. Take the photo from straight above or more from the side, or use a card.',
  'card-square-on': 'Tilt the camera a little next time: seen straight on, a card says less about the distance.',
  'base-not-visible': 'The base cannot be seen, so its diameter is not given.',
  'stands-on-something':
    'It seems to stand on a saucer or coaster, so the error bars are wider: stand it on the table for sharper sizes.',
  'which-end-is-base':
    'Either end may be the base of this container lying down: tap the base end, or the base diameter stays open between the two.',
  'outline-uncertain': 'Part of the outline is hard to see; check it against the picture.',
  'arrangement-uncertain': 'Two ways of laying the card fit almost equally well; check the one shown.',
  'hand-bump':
    'The place you moved makes the container wider there: is it part of the round body, or a handle or seam?',
  'hand-against-edges': 'What you placed lies beside a clear edge in the photo: zoom in and look at it once more.',
  'maybe-not-round': 'Left and right side do not match well: is there a handle, or is it not quite round?',
  'photos-disagree':
    'These photos do not agree on the sizes: is it the same container, with nothing added or taken off? The ± is wider for it.',
  'photo-left-out': 'One photo does not agree with the others and was left out: look at its outline and its card.',
  'yarn-like-table':
    'Yarn and table look alike, so the edge is uncertain: check it, or lay the work on another colour.',
  'yarn-like-shadow':
    'The yarn looks like a shadow on this table, so the edge may be taken for farther out on one side: check it, or let light come from all around.',
  'work-lies-diagonally':
    'The work lies diagonally in the picture, so either side may run along its rows: say whether that is the longer or the shorter one, or turn the work.',
} as const;
export type ProblemCode = keyof typeof PROBLEMS;

export function problem(code: ProblemCode): Problem {
  return { code, message: PROBLEMS[code] };
}
