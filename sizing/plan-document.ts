import type { Estimate } from './estimate.ts';
import { tallyRounds } from './forecast/tally.ts';
import type { BandFit, BaseCandidate, Checkpoint, Part, PartName, Plan, Round } from './plan.ts';
import { type Stitch, stitchLongName, stitchName } from './stitches.ts';
import { inWords, lengthInWords, type PlanStyle, rangeInWords, roundInWords, yarnLengthInWords } from './words.ts';

/** A plan as it is read: the same for text and Markdown. */
export type Block =
  | { readonly kind: 'heading'; readonly level: 1 | 2; readonly text: string }
  | { readonly kind: 'paragraph'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'steps'; readonly items: readonly { readonly label: string; readonly text: string }[] }
  | { readonly kind: 'table'; readonly header: readonly string[]; readonly rows: readonly (readonly string[])[] };

const CARRIER_TITLES = { net: 'Net carrier', sleeve: 'Closed sleeve', mat: 'Round mat' } as const;

const PART_TITLES: Readonly<Record<PartName, string>> = {
  base: 'Base',
  wall: 'Wall',
  mesh: 'Mesh',
  band: 'Band',
  strap: 'Strap',
};

/** Everything a maker needs on paper, in working order. */
export function planDocument(plan: Plan, style: PlanStyle): Block[] {
  return [
    ...titleBlocks(plan, style),
    ...materialBlocks(plan, style),
    ...fitBlocks(plan, style),
    ...plan.parts.flatMap((part) => partBlocks(plan, part, style)),
    ...bandBlocks(plan, style),
    ...loadBlocks(plan),
    ...baseChoiceBlocks(plan, style),
    ...yarnBlocks(plan, style),
    heading('Cautions'),
    { kind: 'list', items: plan.cautions },
  ];
}

function titleBlocks(plan: Plan, style: PlanStyle): Block[] {
  const { container } = plan;
  const across = lengthWithDoubt(container.baseDiameterMm, style);
  const widest = lengthWithDoubt(container.maxDiameterMm, style);
  const size = across === widest ? `${across} across` : `${across} across the base, ${widest} at the widest`;
  const termsLine =
    style.terms === 'us'
      ? 'Stitches are named in US terms: dc is the double crochet, which UK patterns call tr.'
      : 'Stitches are named in UK terms: dc is the double crochet, which US patterns call sc.';
  return [
    {
      kind: 'heading',
      level: 1,
      text: `${CARRIER_TITLES[plan.carrier]} for a container of ${lengthInWords(container.maxDiameterMm.value, style.units)} by ${lengthInWords(container.heightMm.value, style.units)}`,
    },
    {
      kind: 'paragraph',
      text: `Container: ${size}, ${lengthWithDoubt(container.heightMm, style)} high, at most ${plan.capacityMl.value.toFixed(0)} ml (outer volume).`,
    },
    { kind: 'paragraph', text: `${termsLine} ${abbreviations(plan, style)}` },
    ...(plan.workedRounds > 0
      ? [paragraph(`Replanned: rounds 1 to ${plan.workedRounds} are worked and stay as they are.`)]
      : []),
  ];
}

function materialBlocks(plan: Plan, style: PlanStyle): Block[] {
  const { gauge } = plan;
  const strands = gauge.strands === 1 ? 'one strand' : `${gauge.strands} strands held together`;
  const hook = gauge.hookMm === null ? '' : `, ${trimmed(gauge.hookMm)} mm hook`;
  const items = [
    `Yarn: ${plan.yarn.balls} ${plan.yarn.balls === 1 ? 'ball' : 'balls'} of ${trimmed(gauge.yarn.ballGrams)} g (${yarnLengthInWords((gauge.yarn.metresPer100g * gauge.yarn.ballGrams) / 100, style.units)}) ${gauge.yarn.fibre}, ${strands}${hook}.`,
    `Gauge (${gauge.origin === 'guess' ? 'a guess, not yours' : 'yours'}): one ${stitchName(gauge.stitch, style.terms)} is ${gauge.stitchWidthMm.value.toFixed(1)} ± ${gauge.stitchWidthMm.sd.toFixed(1)} mm wide, a round ${gauge.roundHeightMm.value.toFixed(1)} ± ${gauge.roundHeightMm.sd.toFixed(1)} mm high.`,
    `Time: about ${minutesInWords(plan.minutes.value)} (± ${minutesInWords(plan.minutes.sd)}).`,
  ];
  if (plan.cost) items.push(costInWords(plan));
  if (plan.coverReason) items.push(inWords(plan.coverReason, style));
  return [heading('What you need'), { kind: 'list', items }];
}

function fitBlocks(plan: Plan, style: PlanStyle): Block[] {
  const warnings = plan.warnings.map((warning) => inWords(warning, style));
  return [
    heading('Will it fit?'),
    { kind: 'paragraph', text: plan.fit.message },
    ...(warnings.length > 0 ? [{ kind: 'list', items: warnings } as const] : []),
  ];
}

function partBlocks(plan: Plan, part: Part, style: PlanStyle): Block[] {
  const checkpoints = plan.checkpoints.filter((checkpoint) =>
    part.rounds.some((round) => round.number === checkpoint.afterRound),
  );
  const last = part.rounds[part.rounds.length - 1];
  return [
    heading(PART_TITLES[part.name]),
    ...part.notes.map((note) => paragraph(inWords(note, style))),
    { kind: 'steps', items: groupedRounds(part.rounds).map((rounds) => roundLine(rounds, style)) },
    ...(part.name === 'strap' && plan.strap ? [paragraph(inWords(plan.strap.sewOn, style))] : []),
    ...(part.name === 'mesh' || part.name === 'wall'
      ? []
      : last.closing === 'cord'
        ? []
        : [paragraph(endOfPart(plan, part))]),
    ...checkpointBlocks(checkpoints, style),
  ];
}

function endOfPart(plan: Plan, part: Part): string {
  const isEnd = plan.parts.filter((each) => each.name !== 'strap').at(-1) === part;
  return isEnd ? 'Fasten off, leave 15 cm (6 in) and weave the tail in.' : 'Do not fasten off.';
}

/** Rounds that are worked alike are written once. */
function groupedRounds(rounds: readonly Round[]): Round[][] {
  const groups: Round[][] = [];
  for (const round of rounds) {
    const group = groups[groups.length - 1];
    if (group && group[0].note === round.note && sameWork(group[0], round)) group.push(round);
    else groups.push([round]);
  }
  return groups;
}

function sameWork(a: Round, b: Round): boolean {
  return a.part !== 'base' && a.stitches === b.stitches && JSON.stringify(a.steps) === JSON.stringify(b.steps);
}

function roundLine(rounds: readonly Round[], style: PlanStyle): { label: string; text: string } {
  const [first] = rounds;
  const last = rounds[rounds.length - 1];
  const label =
    first.closing === 'cord'
      ? 'Cord'
      : rounds.length === 1
        ? `Rnd ${first.number}`
        : `Rnds ${first.number}-${last.number}`;
  const size = last.widthMm
    ? ` ${lengthInWords(last.widthMm.value, style.units)} across.`
    : last.heightMm
      ? ` ${lengthInWords(last.heightMm.value, style.units)} high.`
      : '';
  const note = first.note ? ` ${inWords(first.note, style)}` : '';
  return { label, text: `${capitalised(roundInWords(first, style))}.${size}${note}` };
}

function checkpointBlocks(checkpoints: readonly Checkpoint[], style: PlanStyle): Block[] {
  if (checkpoints.length === 0) return [];
  return [
    paragraph('Check as you go:'),
    {
      kind: 'table',
      header: ['After rnd', 'Measure', 'Expect', 'Go on from', 'If less', 'If more'],
      rows: checkpoints.map((checkpoint) => [
        String(checkpoint.afterRound),
        checkpoint.measure,
        lengthInWords(checkpoint.expectedMm.value, style.units),
        rangeInWords(checkpoint.goOnMm, style.units),
        inWords(checkpoint.ifLess, style),
        inWords(checkpoint.ifMore, style),
      ]),
    },
  ];
}

function bandBlocks({ band }: Plan, style: PlanStyle): Block[] {
  if (!band) return [];
  return [heading('Goes in, stays in'), { kind: 'list', items: bandInWords(band, style) }];
}

function bandInWords(band: BandFit, style: PlanStyle): string[] {
  const stretch = Math.round(band.stretchToInsert * 100);
  return [
    `The band is ${lengthInWords(band.relaxedCircumferenceMm, style.units)} around. ` +
      (stretch <= 0
        ? 'The container passes through it freely.'
        : `The container stretches it by ${stretch} % to go in${band.goesIn ? ', which firm fabric gives' : ', too much'}.`),
    `The band sits ${Math.round((band.heightOverCentreOfMass - 1) * 100)} % above the middle of the full container’s mass, ` +
      (band.staysIn ? 'so it hangs upright.' : 'which is low: it may tip out.'),
  ];
}

function loadBlocks({ load, strap, gauge }: Plan): Block[] {
  if (!strap) return [];
  const own =
    load.emptyMassG === null
      ? 'the container’s own mass not included, as it is not known'
      : `with the container itself, ${load.emptyMassG.value.toFixed(0)} g`;
  const margin =
    load.marginOfOneKnottedStrand === null
      ? `No strength figure is known here for ${gauge.yarn.fibre}.`
      : `One single knotted strand would break at about ${load.marginOfOneKnottedStrand.toFixed(1)} times that; the cord carries several strands, and a jerk doubles the load.`;
  return [
    heading('What it carries'),
    paragraph(
      `At most ${load.fullMassG.value.toFixed(0)} g full (outer volume filled with water, ${own}), a pull of ${load.staticForceN.toFixed(1)} N. ${margin} The joins are the weak point: sew them well and test them.`,
    ),
  ];
}

function baseChoiceBlocks({ candidates, choices, workedRounds }: Plan, style: PlanStyle): Block[] {
  if (candidates.length < 2 || workedRounds > 0) return [];
  return [
    heading('Other ways to work the base'),
    {
      kind: 'list',
      items: candidates.map((candidate, index) => {
        const chosen = index === Math.min(choices.baseCandidate, candidates.length - 1) ? ' (this plan)' : '';
        return `${index + 1}${chosen}: ${candidateInWords(candidate, style)} ${candidate.reasons.map((reason) => inWords(reason, style)).join(' ')}`;
      }),
    },
  ];
}

function candidateInWords(candidate: BaseCandidate, style: PlanStyle): string {
  const rounds = candidate.rounds === 1 ? '1 round' : `${candidate.rounds} rounds`;
  return `start with ${candidate.start}, ${rounds}, ${candidate.stitchesAround} stitches around, ${lengthInWords(candidate.widthMm.value, style.units)} across.`;
}

function yarnBlocks(plan: Plan, style: PlanStyle): Block[] {
  const row = (name: string, metres: Estimate, grams: Estimate, minutes: Estimate) => [
    name,
    `${yarnLengthInWords(metres.value, style.units)} ± ${yarnLengthInWords(metres.sd, style.units)}`,
    `${grams.value.toFixed(0)} ± ${grams.sd.toFixed(0)} g`,
    minutesInWords(minutes.value),
  ];
  const { yarn } = plan;
  const less = yarn.oneBallLess
    ? ` ${yarn.oneBallLess.balls} would do in ${inHundred(yarn.oneBallLess.probabilityEnough)} cases.`
    : '';
  return [
    heading('Yarn and time by part'),
    {
      kind: 'table',
      header: ['', 'Yarn', 'Weight', 'Time'],
      rows: [
        ...plan.parts.map((part) => row(PART_TITLES[part.name], part.yarnMetres, part.yarnGrams, part.minutes)),
        row('In all', yarn.metres, yarn.grams, plan.minutes),
      ],
    },
    paragraph(
      `${yarn.balls} ${yarn.balls === 1 ? 'ball suffices' : 'balls suffice'} in ${inHundred(yarn.probabilityEnough)} cases, a tenth counted in for waste.${less}${yarn.calibratedBySwatch ? '' : ' Weigh or unravel a swatch to know it better.'}`,
    ),
  ];
}

function costInWords({ cost }: Plan): string {
  if (!cost) return '';
  const money = (amount: number) => `${cost.currency}${cost.currency.length > 1 ? ' ' : ''}${amount.toFixed(2)}`;
  const parts: string[] = [];
  if (cost.material !== null) parts.push(`yarn ${money(cost.material)} (whole balls)`);
  if (cost.labour !== null) parts.push(`work ${money(cost.labour.value)} ± ${money(cost.labour.sd)}`);
  if (cost.total !== null) parts.push(`together ${money(cost.total.value)}`);
  return `Cost: ${parts.join(', ')}.`;
}

function abbreviations(plan: Plan, style: PlanStyle): string {
  const tally = tallyRounds(plan.parts.flatMap((part) => part.rounds));
  const used = (['ch', 'sl st', 'sc', 'hdc', 'dc', 'tr'] as const).filter((stitch) => tally[stitch] > 0);
  const named = used.map(
    (stitch: Stitch) => `${stitchName(stitch, style.terms)} ${stitchLongName(stitch, style.terms)}`,
  );
  const others = ['rnd round', 'st stitch'];
  if (plan.zones.length > 0) others.push('ch-sp chain space');
  return `${[...named, ...others].join(', ')}.`;
}

/** Half the width of the 95 % interval, as it is usually read. */
function lengthWithDoubt({ value, sd }: Estimate, { units }: PlanStyle): string {
  const length = lengthInWords(value, units);
  return `${length.slice(0, length.lastIndexOf(' '))} ± ${units === 'cm' ? ((1.96 * sd) / 10).toFixed(2) : ((1.96 * sd) / 25.4).toFixed(2)} ${units}`;
}

function minutesInWords(minutes: number): string {
  const rounded = minutes < 30 ? Math.round(minutes) : Math.round(minutes / 5) * 5;
  if (rounded < 60) return `${rounded} min`;
  const rest = rounded % 60;
  return rest === 0 ? `${Math.floor(rounded / 60)} h` : `${Math.floor(rounded / 60)} h ${rest} min`;
}

function heading(text: string): Block {
  return { kind: 'heading', level: 2, text };
}

function paragraph(text: string): Block {
  return { kind: 'paragraph', text };
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function trimmed(value: number): string {
  return String(Math.round(value * 100) / 100);
}

function inHundred(share: number): string {
  return `${Math.min(99, Math.floor(share * 100))} of 100`;
}
