import { type Meridian, outerSurfaceMm2 } from '../body/meridian.ts';
import type { Container, Material } from '../container.ts';
import type { Estimate } from '../estimate.ts';
import type { Gauge } from '../gauge.ts';
import type { LoadPlan } from '../plan.ts';

/** Mass of container wall per area, g/mm2, from usual wall thickness and density: from memory, good to 40 %. */
const WALL_G_PER_MM2: Readonly<Record<Material, number>> = {
  glass: 0.0075,
  ceramic: 0.01,
  plastic: 0.0008,
  'thin metal': 0.0004,
  'double-walled metal': 0.008,
  paper: 0.0004,
};
const WALL_RELATIVE_SD = 0.4;

/** Water at 20 degrees: 0.998 g/ml (from memory). */
const WATER_G_PER_ML = 0.998;

/** Standard acceleration of gravity, m/s2 (ISO 80000-3). */
const GRAVITY = 9.80665;

/** Ring-spun cotton: 17 cN/tex (published handbook table). Other fibres: no sourced figure. */
const COTTON_CN_PER_TEX = 17;

/** What an overhand knot leaves of a rope's strength: 45 % (Plymouth Cordage 1946, published). */
export const OVERHAND_KNOT_EFFICIENCY = 0.45;

/** What hangs on the strap when the container is full, as an upper bound, and how far from breaking that is. */
export function loadOf(container: Container, meridian: Meridian, capacity: Estimate, gauge: Gauge): LoadPlan {
  const contentsMassG = { value: capacity.value * WATER_G_PER_ML, sd: capacity.sd * WATER_G_PER_ML };
  const emptyMassG = emptyMass(container, meridian);
  const fullMassG = {
    value: contentsMassG.value + (emptyMassG?.value ?? 0),
    sd: Math.hypot(contentsMassG.sd, emptyMassG?.sd ?? 0),
  };
  const staticForceN = (fullMassG.value / 1000) * GRAVITY;
  const knotted = knottedStrandN(gauge);
  return {
    fullMassG,
    emptyMassG,
    contentsMassG,
    staticForceN,
    marginOfOneKnottedStrand: knotted === null ? null : knotted / staticForceN,
  };
}

/** Force that breaks one straight strand: tenacity times linear density, tex = 100 000 / (m per 100 g) (derived). */
export function strandBreakingForceN(metresPer100g: number): number {
  return (COTTON_CN_PER_TEX * (1e5 / metresPer100g)) / 100;
}

/** Only for a fibre with a sourced tenacity and a thickness that was read off a label. */
function knottedStrandN({ yarn }: Gauge): number | null {
  if (yarn.fibre !== 'cotton' || yarn.assumed) return null;
  return strandBreakingForceN(yarn.metresPer100g) * OVERHAND_KNOT_EFFICIENCY;
}

function emptyMass(container: Container, meridian: Meridian): Estimate | null {
  if (container.emptyMassG != null) return { value: container.emptyMassG, sd: 2 };
  if (container.material == null) return null;
  const value = outerSurfaceMm2(meridian) * WALL_G_PER_MM2[container.material];
  return { value, sd: value * WALL_RELATIVE_SD };
}
