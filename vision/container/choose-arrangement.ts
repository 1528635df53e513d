import { shareWithin } from '../geometry/polygon.ts';
import type { Arrangement } from '../measurement.ts';
import { sizesApart } from './container-sizes.ts';
import { UNCERTAIN_RELATIVE_SD } from './finding-error.ts';
import { type ContainerFit, RIVAL_COST } from './fit-container.ts';
import { LOG_HEIGHT } from './parameters.ts';
import { projectModelOutline } from './project-model-outline.ts';
import { costAbove } from './size-estimate.ts';

export interface ArrangementChoice {
  readonly fit: ContainerFit;
  /** False when another arrangement explains the photo about as well. */
  readonly certain: boolean;
  /**
   * Beside a coin: another arrangement fits as well and the sizes differ, so none can be given. A container that stands
   * and one that lies on the mirrored table may look alike.
   */
  readonly isOpen: boolean;
  /** Relative standard uncertainty of all lengths that the others leave: their sizes by their odds, as in a mixture. */
  readonly relativeSd: number;
}

/**
 * A card on the table beside the container covers none of it; a card in front covers at least this share of itself.
 * Between the two limits the card may be either. tests/vision/container/choose-arrangement.test.ts
 */
const BESIDE_BELOW = 0.08;
const IN_FRONT_ABOVE = 0.18;

/** Δχ² (in units of the best fit's own misfit) under which two arrangements count as equally good. */
const EQUALLY_GOOD = 25;
/**
 * Fewer edges than samples: χ² counts a little less than independent noise would let it. Maximum likelihood of the right
 * choice between on the front and leaning, 120 simulated scenes of each, seeds from 51000.
 */
const COST_PER_LOG_ODDS = 3;
const DRAWN_SPACING_PX = 8;

/**
 * Picks the arrangement. Card-on-front and lying explain each other's photos equally well with diameters 25–40 % apart,
 * so whether the card is in front is decided by its overlap with the outline, never by residuals; what is
 * left (standing or lying, on the front or leaning) is decided by χ² and by what was likely beforehand.
 * @param chanceOf  how likely each arrangement looked before any fit; only ratios count
 * @returns null when there is no fit to choose from
 */
export function chooseArrangement(
  fits: readonly ContainerFit[],
  chanceOf: (arrangement: Arrangement) => number = () => 1,
): ArrangementChoice | null {
  if (fits.length === 0) return null;
  const overlap = largestOverlap(fits);
  const allowed = fits.filter(({ arrangement }) =>
    arrangement === 'standing' || arrangement === 'lying' ? overlap <= IN_FRONT_ABOVE : overlap >= BESIDE_BELOW,
  );
  const candidates = allowed.length > 0 ? allowed : fits;
  const least = candidates.reduce((a, b) => (b.cost < a.cost ? b : a));
  const unit = Math.max(1, least.cost / Math.max(least.degreesOfFreedom, 1));
  const logOdds = ({ arrangement, cost }: ContainerFit) =>
    Math.log(chanceOf(arrangement)) - cost / unit / COST_PER_LOG_ODDS;
  const [best, ...others] = [...candidates].sort((a, b) => logOdds(b) - logOdds(a));
  const inDoubt = overlap > BESIDE_BELOW && overlap < IN_FRONT_ABOVE;
  const rivals = others.filter(
    (other) => (other.cost - best.cost) / unit < EQUALLY_GOOD || (inDoubt && isInFront(other) !== isInFront(best)),
  );
  const odds = rivals.map((rival) => Math.exp(logOdds(rival) - logOdds(best)));
  const all = odds.reduce((sum, each) => sum + each, 1);
  const variance = rivals.reduce((sum, rival, k) => sum + (odds[k] / all) * sizesApart(best, rival) ** 2, 0);
  const isOpen = best.sight.card.rim !== undefined && rivals.some((other) => isOtherSize(best, other));
  return { fit: best, certain: rivals.length === 0, relativeSd: Math.sqrt(variance), isOpen };
}

function isOtherSize(best: ContainerFit, other: ContainerFit): boolean {
  const apart = Math.abs(other.solution.parameters[LOG_HEIGHT] - best.solution.parameters[LOG_HEIGHT]);
  return costAbove(best.cost, other) < RIVAL_COST && apart > UNCERTAIN_RELATIVE_SD;
}

/**
 * A card in front hides part of the outline, so the outline as seen may not reach behind it; the outline that the fits
 * draw does. Only fits that explain the photo have a say.
 */
function largestOverlap(fits: readonly ContainerFit[]): number {
  const { card, outline } = fits[0].sight;
  const least = Math.min(...fits.map(({ cost }) => cost));
  const drawn = fits
    .filter((fit) => isInFront(fit) && fit.cost < 3 * least + EQUALLY_GOOD)
    .map((fit) => projectModelOutline(fit, { spacingPx: DRAWN_SPACING_PX }));
  return Math.max(
    ...[outline.points, ...drawn].map((points) =>
      shareWithin(
        card.cornersPx,
        points.map(({ xPx, yPx }) => [xPx, yPx]),
      ),
    ),
  );
}

function isInFront({ arrangement }: ContainerFit): boolean {
  return arrangement === 'card-on-front' || arrangement === 'card-leaning';
}
