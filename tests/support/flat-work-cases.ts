import { refineCard } from '../../vision/card/refine-card.ts';
import type { CornersPx, ImagePoint } from '../../vision/frames.ts';
import { focalPriorFromLens } from '../../vision/model/focal-prior.ts';
import type { FocalPrior } from '../../vision/photo.ts';
import { ID1_CARD } from '../../vision/reference.ts';
import type { CardSighting } from '../../vision/sighting.ts';
import { seenCard } from '../../vision/work/seen-reference.ts';
import type { WorkPhoto } from '../../vision/work/work-photo.ts';
import { type FlatWorkPicture, randomScene, takePicture } from './flat-work-pictures.ts';
import type { DiscSpec, RectangleSpec } from './flat-work-shapes.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';

/** A maker's hand: what one of her stitches measures when nothing pulls at it. */
export interface Hand {
  readonly stitchWidthMm: number;
  readonly roundHeightMm: number;
}

/** Height over width of US single and double crochet, with the spread between makers (trade facts: 0.9 and 1.61). */
export function randomHand(random: SeededRandom): Hand {
  const stitchWidthMm = random.uniform(3.5, 8.5);
  const ratio = random.pick([0.9, 0.9, 1.61]) * Math.exp(random.normal(0.05));
  return { stitchWidthMm, roundHeightMm: ratio * stitchWidthMm };
}

export interface DiscCase {
  readonly hand: Hand;
  readonly disc: DiscSpec;
}

/**
 * A disc worked by some hand: rounds until it is wide enough, about as many increases as keep it flat. Patted flat, rim
 * and reach give in equally (as in sizing/flat-circle.ts, written again here).
 */
export function randomDisc(seed: number): DiscCase {
  const random = seededRandom(seed * 104729 + 1);
  const hand = randomHand(random);
  const rounds = Math.max(2, Math.round(random.uniform(22, 60) / hand.roundHeightMm));
  const reachMm = rounds * hand.roundHeightMm;
  const flatStitches = (2 * Math.PI * reachMm) / hand.stitchWidthMm;
  const stitches = Math.round(flatStitches * random.uniform(0.93, 1.07));
  return {
    hand,
    disc: {
      kind: 'disc',
      meanDiameterMm: 2 * Math.sqrt((reachMm * stitches * hand.stitchWidthMm) / (2 * Math.PI)),
      thicknessMm: randomThickness(random, hand),
      rounds,
      stitches,
      scallopMm: hand.stitchWidthMm * random.uniform(0.12, 0.3),
      outOfRoundness: random.uniform(0, 0.05),
      hasHoles: hand.roundHeightMm > 1.3 * hand.stitchWidthMm,
      seed,
    },
  };
}

export interface RectangleCase {
  readonly hand: Hand;
  readonly work: RectangleSpec;
}

export function randomRectangle(seed: number, kind: 'swatch' | 'tube'): RectangleCase {
  const random = seededRandom(seed * 130363 + 5);
  const hand = randomHand(random);
  const stitches = Math.round(random.uniform(50, 125) / hand.stitchWidthMm);
  const rows = Math.round(random.uniform(45, 115) / hand.roundHeightMm);
  const layers = kind === 'tube' ? 2 : 1;
  return {
    hand,
    work: {
      kind,
      widthMm: stitches * hand.stitchWidthMm,
      lengthMm: rows * hand.roundHeightMm,
      thicknessMm: layers * randomThickness(random, hand),
      rows,
      stitches,
      scallopMm: hand.stitchWidthMm * random.uniform(0.1, 0.25),
      hasHoles: hand.roundHeightMm > 1.3 * hand.stitchWidthMm,
      seed,
    },
  };
}

/** Two strands and the air between them; spread between yarns and hooks. */
function randomThickness(random: SeededRandom, hand: Hand): number {
  return 0.6 * hand.stitchWidthMm * Math.exp(random.normal(0.25));
}

/** Where the card comes from: refined in the pixels, or drawn around its true place with errors of a known size. */
export type CardSource = 'refined' | 'drawn';

export interface Photographed {
  readonly picture: FlatWorkPicture;
  readonly input: WorkPhoto;
}

/** A picture of the work and its card. */
export function photographed(
  work: DiscSpec | RectangleSpec,
  seed: number,
  imageSizePx?: readonly [number, number],
  source: CardSource = 'refined',
): Photographed {
  const picture = takePicture(randomScene(seed, work, ID1_CARD, imageSizePx));
  const { photo } = picture;
  const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
  const random = seededRandom(seed + 99991);
  const card = source === 'drawn' ? drawnCard(picture, random) : refinedCard(picture, focalPrior, random);
  return { picture, input: { photo, reference: seenCard(photo, card, ID1_CARD, focalPrior) } };
}

/** From corners placed by a thumb to the edges in the pixels. */
function refinedCard(
  { photo, cornersPx }: FlatWorkPicture,
  focalPrior: FocalPrior,
  random: SeededRandom,
): CardSighting {
  if (!cornersPx) throw new RangeError('the picture has no card');
  const placed = cornersPx.map(([x, y]): ImagePoint => [x + random.normal(2), y + random.normal(2)]);
  return refineCard(photo, placed as unknown as CornersPx, { focalPrior, reference: ID1_CARD });
}

/** Of one side's place and of its turn, px; all sides together lie this much too far out. */
const DRAWN_SD_PX = 0.3;
const DRAWN_HALO_SD_PX = 0.25;

/** The true sides, each moved and turned by random errors of exactly the stated size. */
function drawnCard({ cornersPx, longSide }: FlatWorkPicture, random: SeededRandom): CardSighting {
  if (!cornersPx) throw new RangeError('the picture has no card');
  const halo = random.normal(DRAWN_HALO_SD_PX);
  const lines = cornersPx.map(([ax, ay], k) => {
    const [bx, by] = cornersPx[(k + 1) % 4];
    const length = Math.hypot(bx - ax, by - ay);
    const [nx, ny] = [(by - ay) / length, -(bx - ax) / length];
    const moved = halo + random.normal(DRAWN_SD_PX);
    const turned = random.normal(DRAWN_SD_PX);
    const [a, b] = [moved - turned, moved + turned];
    return [ax + a * nx, ay + a * ny, bx + b * nx, by + b * ny] as const;
  });
  const corners = [0, 1, 2, 3].map((k) => crossing(lines[(k + 3) % 4], lines[k]));
  const side = { edgePointsPx: [], sdPx: DRAWN_SD_PX };
  return { cornersPx: corners as unknown as CornersPx, sides: [side, side, side, side], longSide, score: 1 };
}

type Line = readonly [ax: number, ay: number, bx: number, by: number];

function crossing([ax, ay, bx, by]: Line, [cx, cy, dx, dy]: Line): ImagePoint {
  const [ux, uy, vx, vy] = [bx - ax, by - ay, dx - cx, dy - cy];
  const t = ((cx - ax) * vy - (cy - ay) * vx) / (ux * vy - uy * vx);
  return [ax + t * ux, ay + t * uy];
}
