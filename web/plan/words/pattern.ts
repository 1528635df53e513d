import { COTTON_LENGTH_SHARE } from '../../../sizing/gauge.ts';
import {
  type FitForecast,
  isOwnPiece,
  type Part,
  type PartName,
  type Plan,
  type Round,
  type Step,
} from '../../../sizing/plan.ts';
import type { Stitch } from '../../../sizing/stitches.ts';
import { categoryOfLength, categoryOfStitchWidth, heldMetresPer100g } from '../../../sizing/yarn-standards.ts';
import { massText, timeText, yarnLengthText } from '../../text/estimate-text.ts';
import type { Text } from '../../text/text.ts';
import { groupedRounds } from '../grouped-rounds.ts';
import { moneyText } from '../money-text.ts';
import { doesInPlan, stitchesUsed } from '../words-used.ts';
import { hookNames } from './hook-names.ts';
import { noteText } from './note-words.ts';
import { countText, roundLabel, roundText } from './round-words.ts';
import type { Voice } from './voice.ts';

/** A pattern as the trade writes one, in sentences; page, print, plain text and command line all show this. */
export interface Pattern {
  readonly title: string;
  readonly terms: string;
  readonly size: readonly Fact[];
  readonly materials: readonly Fact[];
  readonly gauge: Fact;
  readonly abbreviations: string;
  readonly notes: readonly string[];
  readonly parts: readonly PatternPart[];
  readonly finishing: readonly string[];
  readonly care: readonly string[];
  readonly cautions: readonly string[];
  /** The long one of the cautions, about standards and laws; null where it does not apply. */
  readonly rules: string | null;
  readonly fit: FitWords;
  /** What hangs on the finished piece: what it is for, fibre and care, load and cautions. */
  readonly label: readonly string[];
  readonly warnings: readonly string[];
  readonly checks: readonly PatternCheck[];
  readonly load: readonly string[];
  readonly bases: readonly string[];
  readonly needs: readonly Fact[];
  /** Hers alone: not on the sheet that is given away. */
  readonly cost: Fact | null;
  readonly needsByPart: readonly { readonly part: string; readonly yarn: string; readonly time: string }[];
}

export interface Fact {
  readonly name: string;
  readonly text: string;
}

export interface PatternPart {
  readonly name: PartName;
  readonly title: string;
  readonly notes: readonly string[];
  readonly lines: readonly PatternLine[];
  /** What comes after its last round. */
  readonly end: string | null;
}

/** Rounds that are worked alike, in one line. */
export interface PatternLine {
  readonly rounds: readonly Round[];
  readonly label: string;
  readonly work: string;
  /** What it leaves and measures; empty for pieces that are measured, not counted. */
  readonly count: string;
  readonly notes: readonly string[];
}

export interface PatternCheck {
  readonly afterRound: number;
  readonly label: string;
  readonly expect: string;
  readonly fine: string;
  readonly ifLess: string;
  readonly ifMore: string;
}

/** The forecast in a maker's words; what is counted stands behind a tap. */
export interface FitWords {
  readonly headline: string;
  readonly more: string | null;
  readonly figures: readonly string[];
}

/** The tail that is woven in: 15 cm, common practice, no source. */
const TAIL_MM = 150;

export function patternOf(title: string, plan: Plan, text: Text, voice: Voice): Pattern {
  const words = text.plan.pattern;
  const say = (note: Parameters<typeof noteText>[0]) => noteText(note, text.planNotes, voice);
  return {
    title,
    terms: words.terms[voice.reader.terms],
    size: sizeFacts(plan, text, voice),
    materials: materialFacts(plan, text, voice),
    gauge: gaugeFact(plan, text, voice),
    abbreviations: abbreviations(plan, text, voice),
    notes: generalNotes(plan, text, voice),
    parts: plan.parts.map((part) => partWords(part, plan, text, voice)),
    finishing: finishing(plan, text, voice),
    care: [...words.care[plan.gauge.yarn.fibre], ...(plan.strap ? [words.careHanging] : [])],
    cautions: plan.cautions.map(say),
    rules: plan.cautions.filter(({ code }) => code === 'caution-rules').map(say)[0] ?? null,
    fit: fitWords(plan, text, voice),
    label: labelWords(plan, text, voice),
    warnings: plan.warnings.map(say),
    checks: plan.checkpoints.map((checkpoint) => {
      const { afterRound, expectedMm, goOnMm, ifLess, ifMore, measure } = checkpoint;
      const length = voice.length(expectedMm.value);
      return {
        afterRound,
        label: roundLabel(afterRound, afterRound, voice),
        expect: measure === 'width across' ? text.plan.across(length) : text.plan.high(length),
        fine: voice.range(goOnMm),
        ifLess: say(ifLess),
        ifMore: say(ifMore),
      };
    }),
    load: loadWords(plan, text, voice),
    bases:
      plan.workedRounds > 0
        ? []
        : plan.candidates.map(
            (base) =>
              `${baseName(base.aims, text)}: ${words.base(base.start, base.rounds, base.stitchesAround, voice.length(base.widthMm.value))} ${base.reasons.map(say).join(' ')}`,
          ),
    needs: needFacts(plan, text, voice),
    cost: costFact(plan, text, voice),
    needsByPart: plan.parts.map((part) => ({
      part: text.plan.parts[part.name],
      yarn: `${yarnLengthText(part.yarnMetres, voice.reader)} (${massText(part.yarnGrams, voice.reader)})`,
      time: timeText(part.minutes.value),
    })),
  };
}

export function baseName(aims: Plan['candidates'][number]['aims'], text: Text): string {
  return aims.map((aim) => text.plan.aims[aim]).join(', ');
}

function sizeFacts(plan: Plan, text: Text, voice: Voice): Fact[] {
  const words = text.plan.pattern;
  const { container, coverHeightMm, band, strap } = plan;
  const base = plan.parts[0].rounds.at(-1)?.widthMm;
  const facts: Fact[] = [
    {
      name: words.madeFor,
      text: words.container(voice.length(container.maxDiameterMm.value), voice.length(container.heightMm.value)),
    },
  ];
  if (base)
    facts.push({ name: plan.carrier === 'mat' ? words.matAcross : words.baseAcross, text: voice.length(base.value) });
  if (coverHeightMm) facts.push({ name: words.height, text: voice.length(coverHeightMm.value) });
  if (band) facts.push({ name: words.aroundTop, text: voice.length(band.relaxedCircumferenceMm) });
  if (strap) facts.push({ name: text.plan.straps[strap.style], text: voice.tape(strap.lengthMm) });
  return facts;
}

function materialFacts(plan: Plan, text: Text, voice: Voice): Fact[] {
  const words = text.plan.pattern;
  const { gauge, yarn } = plan;
  // The standard's lengths are of lighter fibres: cotton of the same category is shorter, read off a label or assumed.
  const share = gauge.yarn.fibre === 'cotton' ? COTTON_LENGTH_SHARE : 1;
  const held = heldMetresPer100g(gauge.yarn.metresPer100g / share, gauge.strands);
  const isOwn = gauge.yarn.assumed && gauge.origin === 'measured';
  const category = isOwn ? categoryOfStitchWidth(gauge.stitchWidthMm.value) : categoryOfLength(held);
  const ball = words.putUp(voice.number(gauge.yarn.ballGrams), ballLength(plan, voice));
  const facts: Fact[] = [
    {
      name: text.plan.yarnNeed,
      text: [
        `${text.gauge.fibres[gauge.yarn.fibre]}, ${category.number} ${text.gauge.yarnNames[category.number]}`,
        ...(gauge.strands > 1 ? [text.plan.strands(gauge.strands)] : []),
        `${massText(yarn.grams, voice.reader)} / ${yarnLengthText(yarn.metres, voice.reader)}`,
        ...(yarn.byColour.length > 0
          ? yarn.byColour.map(
              (each) =>
                `${each.colour}: ${massText(each.grams, voice.reader)} / ${yarnLengthText(each.metres, voice.reader)}, ${words.balls(each.balls)} ${ball}`,
            )
          : [`${words.balls(yarn.balls)} ${ball}`]),
        ...(gauge.yarn.assumed ? [words.assumed] : []),
      ]
        .join('; ')
        .replace(`; ${words.assumed}`, ` ${words.assumed}`),
    },
  ];
  facts.push({
    name: text.plan.hook,
    text: gauge.hookMm === null ? words.hookOfSwatch : hookText(gauge.hookMm, voice),
  });
  facts.push({ name: words.notions, text: words.notionsText(plan.strap?.fastening === 'tabs') });
  return facts;
}

/** "4 mm (US G-6)". */
export function hookText(hookMm: number, voice: Voice): string {
  const names = hookNames(hookMm, voice.reader.terms);
  const digits = hookMm % 1 === 0 ? 0 : hookMm % 0.5 === 0 ? 1 : 2;
  return `${voice.number(hookMm, digits)} mm${names ? ` (${names})` : ''}`;
}

/** "97 m" or "105 yd" of one ball. */
function ballLength({ gauge }: Plan, voice: Voice): string {
  const metres = (gauge.yarn.metresPer100g * gauge.yarn.ballGrams) / 100;
  return voice.reader.units === 'in' ? `${voice.number(metres / 0.9144)} yd` : `${voice.number(metres)} m`;
}

/** Over 10 cm, which the trade takes for 4 in. To half a stitch, as a ruler on fabric is read. */
export function gaugeFact({ gauge }: Plan, text: Text, voice: Voice): Fact {
  const words = text.plan.pattern;
  const over = (mm: number) => {
    const halves = Math.round(200 / mm) / 2;
    return voice.number(halves, Number.isInteger(halves) ? 0 : 1);
  };
  return {
    name: words.gauge[voice.reader.terms],
    text:
      words.gaugeText(over(gauge.stitchWidthMm.value), voice.stitch(gauge.stitch), over(gauge.roundHeightMm.value)) +
      (gauge.origin === 'guess' ? ` ${words.guessed}` : ''),
  };
}

const ORDER: readonly Stitch[] = ['ch', 'sl st', 'sc', 'hdc', 'dc', 'tr'];

function abbreviations(plan: Plan, text: Text, voice: Voice): string {
  const words = voice.reader.terms === 'de' ? text.plan.pattern.shortGerman : text.plan.pattern.short;
  const used = stitchesUsed(plan);
  const has = (what: Step['do']) => doesInPlan(plan, (step) => step.do === what);
  const countsChain = doesInPlan(plan, (step) => step.do === 'turning-chain' && step.countsAs !== null);
  const uk = voice.reader.terms === 'uk';
  return [
    ...ORDER.filter((stitch) => used.has(stitch)).map(
      (stitch) => `${voice.stitch(stitch)} = ${voice.longStitch(stitch)}`,
    ),
    ...(has('increase') ? [words.increase] : []),
    ...(has('together') ? [words.together] : []),
    ...(has('skip') && !uk ? [words.skip] : []),
    words.stitch,
    words.round,
    ...(plan.zones.length > 0 ? [words.space] : []),
    ...(plan.zones.some(({ kind }) => kind === 'v-stitch')
      ? [words.vStitch(voice.stitch(plan.choices.mesh.postStitch), plan.zones[0].chains)]
      : []),
    ...(countsChain ? [words.beginning] : []),
    ...(has('cord') || has('strip') ? [words.repeat] : []),
    words.yarnOver,
    words.rightSide,
  ]
    .filter(Boolean)
    .join('; ');
}

function generalNotes(plan: Plan, text: Text, voice: Voice): string[] {
  const words = text.plan.pattern;
  return [
    ...(plan.workedRounds > 0 ? [words.replanned(plan.workedRounds)] : []),
    words.brackets[voice.reader.terms === 'de' ? 'de' : 'en'],
    ...(plan.coverReason ? [noteText(plan.coverReason, text.planNotes, voice)] : []),
    ...(plan.yarn.byColour.length > 0
      ? [words.stripes(plan.yarn.byColour.map(({ colour }) => colour).join(', '), voice.tape(TAIL_MM))]
      : []),
    ...(voice.reader.hand === 'left' ? [words.leftHanded] : []),
  ];
}

function partWords(part: Part, plan: Plan, text: Text, voice: Voice): PatternPart {
  const words = text.plan.pattern;
  const isLast = plan.parts.filter(({ name }) => !isOwnPiece(name)).at(-1) === part;
  return {
    name: part.name,
    title: text.plan.parts[part.name],
    notes: part.notes.map((note) => noteText(note, text.planNotes, voice)),
    lines: groupedRounds(part.rounds).map((rounds) => lineWords(rounds, plan, text, voice)),
    end: isOwnPiece(part.name) ? null : isLast ? words.fastenOff(voice.tape(TAIL_MM)) : words.goOn,
  };
}

function lineWords(rounds: readonly Round[], plan: Plan, text: Text, voice: Voice): PatternLine {
  const words = text.plan.pattern;
  const [first] = rounds;
  const last = rounds[rounds.length - 1];
  const work = roundText(first, voice);
  const notes = first.notes.map((note) => noteText(note, text.planNotes, voice));
  const { strap, drawstring } = plan;
  if (first.closing === 'rows' && strap?.tab) {
    return {
      rounds,
      label: words.tabs(strap.at.length),
      work: `${words.tabsAt({ at: strap.at, of: strap.topStitches, where: words.on[strap.on] }, voice.stitch('sl st'))} ${lowerFirst(work, voice)}`,
      count: '',
      notes: [words.tabTail(voice.tape(strap.tailMm))],
    };
  }
  if (first.part === 'drawstring' && drawstring) {
    return {
      rounds,
      label: words.cords(1),
      work,
      count: '',
      notes: [words.drawstringTo(voice.tape(drawstring.cordLengthMm))],
    };
  }
  if (first.closing === 'cord' && strap) {
    return {
      rounds,
      label: strap.cord === 'flat' ? words.flatStraps(strap.pieces) : words.cords(strap.pieces),
      work: `${words.leavingTail(voice.tape(strap.tailMm))} ${lowerFirst(work, voice)}`,
      count: '',
      notes: [words.cordTo(voice.tape(strap.cordLengthMm), voice.tape(strap.tailMm))],
    };
  }
  return {
    rounds,
    label: roundLabel(first.number, last.number, voice),
    work,
    count: countAfter(last, text, voice),
    notes,
  };
}

/** Within a sentence; German may begin with a noun. */
function lowerFirst(work: string, { reader }: Voice): string {
  return reader.terms === 'de' ? work : work.charAt(0).toLowerCase() + work.slice(1);
}

/** Stitches and size after a round: "40 dc; 7.2 cm across". A line of several rounds says those of its last. */
export function countAfter(round: Round, text: Text, voice: Voice): string {
  const size = round.widthMm
    ? text.plan.across(voice.length(round.widthMm.value))
    : round.heightMm && round.part !== 'band'
      ? text.plan.high(voice.length(round.heightMm.value))
      : '';
  return [countText(round, voice), size].filter(Boolean).join('; ');
}

/** "Rnd 3: (dc in next 2 sts, inc) 10 times (40 dc; 7.2 cm across). Its first sts are lower." */
export function lineText({ label, work, count, notes }: PatternLine): string {
  const counted = count === '' ? '' : ` (${count})`;
  return [`${label}: ${work}${counted}.`, ...notes].join(' ');
}

function finishing(plan: Plan, text: Text, voice: Voice): string[] {
  const words = text.plan.pattern;
  return [
    ...(plan.drawstring ? [words.thread(plan.drawstring.holesRound)] : []),
    ...(plan.strap ? [sewingWords(plan.strap, text, voice)] : []),
    words.weave,
    words.newBall,
    words.block[plan.gauge.yarn.fibre === 'acrylic' ? 'acrylic' : plan.carrier === 'mat' ? 'mat' : 'other'],
  ];
}

/** How the strap is fastened. */
export function sewingWords(strap: NonNullable<Plan['strap']>, text: Text, voice: Voice): string {
  const words = text.plan.pattern;
  if (strap.tab) return words.sewOnTabs(voice.tape(strap.sewMm), strap.cord, strap.at.length);
  return words.sewUnderBase({ ...strap, on: words.on[strap.on] }, voice.tape(2 * strap.sewMm));
}

function loadWords({ load, strap }: Plan, text: Text, voice: Voice): string[] {
  const words = text.plan;
  if (!strap) return [];
  const full = voice.mass(load.fullMassG.value + 1.96 * load.fullMassG.sd);
  return [load.emptyMassG === null ? words.loadNoContainer(full) : words.load(full), words.seams];
}

function needFacts({ yarn, minutes }: Plan, { plan: words }: Text, { reader }: Voice): Fact[] {
  return [
    { name: words.yarnNeed, text: `${yarnLengthText(yarn.metres, reader)} (${massText(yarn.grams, reader)})` },
    { name: words.time, text: `${words.timeAbout(timeText(minutes.value))} ± ${timeText(1.96 * minutes.sd)}` },
  ];
}

function costFact({ cost }: Plan, text: Text, voice: Voice): Fact | null {
  if (!cost) return null;
  const words = text.plan;
  const money = (amount: number) => moneyText(amount, cost, voice.reader);
  const parts = [
    ...(cost.material === null ? [] : [`${words.costParts.material} ${money(cost.material)}`]),
    ...(cost.labour === null ? [] : [`${words.costParts.labour} ${money(cost.labour.value)}`]),
    ...(cost.total === null
      ? []
      : [`${words.costParts.total} ${money(cost.total.value)} ± ${money(1.96 * cost.total.sd)}`]),
    ...hourWords(cost, text, voice),
  ];
  return { name: words.cost, text: parts.join(', ') };
}

/** "at €24.00 an hour brings €9.80 ± €3.10"; nothing while no price is said. */
export function hourWords(cost: NonNullable<Plan['cost']>, { plan: words }: Text, { reader }: Voice): string[] {
  const { price, hourAtPrice, material } = cost;
  if (price === null || hourAtPrice === null) return [];
  const money = (amount: number) => moneyText(amount, cost, reader);
  const hour = `${money(hourAtPrice.value)} ± ${money(1.96 * hourAtPrice.sd)}`;
  return [words.hourAtPrice(money(price), hour, material !== null)];
}

function labelWords(plan: Plan, text: Text, voice: Voice): string[] {
  const words = text.plan.pattern;
  const { fibre } = plan.gauge.yarn;
  const { load } = plan;
  const fullG = load.fullMassG.value + 1.96 * load.fullMassG.sd;
  const [{ name, text: container }] = sizeFacts(plan, text, voice);
  const holds = holdsText(plan, text, voice);
  return [
    `${name} ${container}.`,
    ...(holds ? [holds] : []),
    // The care of a fibre that is known begins with its name.
    ...(fibre === 'other' ? [`${text.gauge.fibres.other}.`] : []),
    ...words.care[fibre],
    ...(plan.strap ? [words.label.carries(voice.mass(fullG), load.emptyMassG !== null)] : []),
    ...(plan.strap || plan.drawstring ? [words.label.children] : []),
    words.label.hot,
  ];
}

function holdsText({ fit, container, carrier }: Plan, { plan: words }: Text, voice: Voice): string | null {
  const acrossMm = container.maxDiameterMm.value;
  const [smallest, largest] = fit.holds;
  return largest > smallest ? words.fit.holds[carrier](voice.range([acrossMm * smallest, acrossMm * largest])) : null;
}

export function fitWords(plan: Plan, text: Text, voice: Voice): FitWords {
  const words = text.plan.fit;
  const { fit, gauge, carrier } = plan;
  const ofHundred = (share: number) => (fives(share) === 0 ? words.hardlyAny : String(fives(share)));
  // A guess is no ground for a percentage, however it is worded.
  const figures =
    gauge.origin === 'guess'
      ? []
      : [
          words.figures(
            ofHundred(fit.probabilityFits),
            ofHundred(fit.probabilityTooTight),
            ofHundred(fit.probabilityTooLoose),
          ),
          fit.varianceShare.gauge > 0.6
            ? words.doubt.gauge
            : fit.varianceShare.gauge < 0.4
              ? words.doubt.container
              : words.doubt.both,
        ];
  const { verdict } = fit;
  const holds = holdsText(plan, text, voice);
  switch (verdict.kind) {
    case 'check-first':
      return {
        headline: words.checkFirst(verdict.afterRound, words.timesOfTen[tenths(verdict.thenFits)]),
        more: holds,
        figures,
      };
    case 'fits':
      return { headline: words.should, more: holds, figures };
    case 'likely':
      return {
        headline: words.likely(words.timesOfTen[tenths(fit.probabilityFits)]),
        more: verdict.afterRound === null ? holds : words.surer(verdict.afterRound),
        figures,
      };
    case 'unlikely':
      return {
        headline: words.unlikely[verdict.problem][carrier](words.places[verdict.where]),
        more: words.remedy[verdict.problem][verdict.where],
        figures,
      };
  }
}

/** Multiples of five, and never certainty; 0 is "hardly any". */
function fives(share: number): number {
  return Math.min(95, Math.round(share * 20) * 5);
}

function tenths(share: FitForecast['probabilityFits']): 5 | 6 | 7 | 8 | 9 {
  return Math.min(9, Math.max(5, Math.round(share * 10))) as 5 | 6 | 7 | 8 | 9;
}
