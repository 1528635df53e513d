import type { Plan } from './plan.ts';

/** Calm, complete and the same on paper and screen. What the rules cover is said with what they do not. */
export function cautionsFor(plan: Pick<Plan, 'strap'>): string[] {
  const cautions = [
    'Hot contents: a carrier does not insulate and may stretch when wet and warm. Fresh hot drinks scald at a touch; let them cool first.',
    'Glass: fabric does not stop glass from breaking. Carry it with care, and do not use a container that is chipped or cracked.',
  ];
  if (plan.strap) {
    cautions.unshift(
      'Small children: cord loops can strangle. Keep the carrier out of reach of children under three, and never let a child wear it at play, on a bicycle or asleep.',
      'What the rules say: EN 14682 covers cords on clothing for children up to 14 years and leaves out bags and purses. EN 71-1 covers toys; for children under three an older edition limits loops to 380 mm around and free cords to 220 mm. In the US, 16 CFR 1120 and ASTM F1816 cover drawstrings of children’s outerwear. None was written for a carrier like this: take them as a guide to the risk, and follow the rules where you live or sell.',
      'Before use: hang three times the mass of the full container in the carrier for ten minutes, over something soft, and look at every join. Look again after each wash. Joins and ends give way long before the yarn does.',
    );
  }
  cautions.push('Keep it away from flames and hot plates.');
  return cautions;
}
