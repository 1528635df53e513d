import { ID1_CARD } from '../../vision/reference/reference.ts';
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
 * and reach give in equally (as in sizing/base/flat-circle.ts, written again here).
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

/** A tenth of what phones take: whatever holds here holds for the full size, and the studies end in reasonable time. */
const IMAGE_SIZE_PX = [800, 600] as const;

/** A picture of the work and its card. */
export function photographed(work: DiscSpec | RectangleSpec, seed: number): FlatWorkPicture {
  return takePicture(randomScene(seed, work, ID1_CARD, IMAGE_SIZE_PX));
}
