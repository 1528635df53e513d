import type { Gauge } from './gauge.ts';
import type { Warning } from './notes.ts';
import { categoryOfLength, categoryOfStitchWidth, heldMetresPer100g, type YarnCategory } from './yarn-standards.ts';

/**
 * A hook finer than half the finest of its yarn's band, or thicker than twice the thickest, is a slip of the pen; and so
 * is a yarn three times as long or as short per 100 g as stitches of that width are made of: common practice, no source.
 */
const HOOK_FACTOR = 2;
const LENGTH_FACTOR = 3;

/** Hook, yarn and stitch that do not go together. */
export function materialWarnings(gauge: Gauge): Warning[] {
  const warnings: Warning[] = [];
  const { hookMm, yarn, strands } = gauge;
  const held = heldMetresPer100g(yarn.metresPer100g, strands);
  const byStitch = categoryOfStitchWidth(gauge.stitchWidthMm.value);
  const category = yarn.assumed && gauge.origin === 'measured' ? byStitch : categoryOfLength(held);
  if (hookMm !== null && hookOutside(hookMm, category)) {
    warnings.push({ code: 'hook-unlike-yarn', hookMm, usualMm: category.hookMm });
  }
  const [shortest, longest] = byStitch.metresPer100g;
  if (!yarn.assumed && (held < shortest / LENGTH_FACTOR || held > longest * LENGTH_FACTOR)) {
    warnings.push({ code: 'yarn-unlike-gauge', metresPer100g: held, usual: byStitch.metresPer100g });
  }
  return warnings;
}

function hookOutside(hookMm: number, { hookMm: [finest, thickest] }: YarnCategory): boolean {
  return hookMm < finest / HOOK_FACTOR || hookMm > thickest * HOOK_FACTOR;
}
