import {
  CARRIER_KINDS,
  type Choices,
  defaultChoices,
  MESH_KINDS,
  STRAP_CORDS,
  STRAP_FASTENINGS,
  STRAP_STYLES,
  TOP_WAYS,
} from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, type Gauge, gaugeFromSwatch, gaugeFromYarnCategory } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { RefusedInput } from '../../sizing/refusal.ts';
import type { OwnDesign } from '../../sizing/regrade/regrade.ts';
import { sizeSetOf } from '../../sizing/regrade/size-set.ts';
import { FABRIC_STITCHES } from '../../sizing/stitches.ts';
import { HANDS, LANGUAGES, TERM_SETS } from '../app/settings.ts';
import { patternOf } from '../plan/words/pattern.ts';
import { type Block, blocksAsMarkdown, blocksAsText, patternBlocks } from '../plan/words/pattern-text.ts';
import { refusalText } from '../plan/words/refusal-words.ts';
import { disagreementText, regradeNoteText, sizeSetLines } from '../plan/words/regrade-words.ts';
import { type Voice, voiceOf } from '../plan/words/voice.ts';
import { regradeText } from '../regrade/regrade-text.ts';
import { de } from '../text/de/text.ts';
import { en } from '../text/en/text.ts';
import type { Text } from '../text/text.ts';
import {
  EXIT,
  lengthOption,
  numberOption,
  oneOf,
  readArguments,
  refuseBoth,
  runWhenStarted,
  type Terminal,
  UsageError,
  wholeNumberOption,
} from './command-line.ts';
import { NoChromium } from './in-chromium.ts';
import { writeCharts, writePdf } from './plan-files.ts';
import { containersOfSizes, designLike, regradedFor } from './plan-like.ts';
import { planLine } from './plan-line.ts';
import { readMeasureLines } from './read-measure-line.ts';
import { readRegularFile } from './regular-file.ts';

const HELP = `Turns a container's sizes into a crochet pattern for its carrier.

npm run --silent plan -- --diameter MM --height MM [options]
npm run --silent plan -- --from FILE|- [options]      lines printed by measure --json

Lengths are in mm, or with their unit: 7.3cm, 7,3cm, 3in.

Container
  --diameter MM          across the base (15 to 400)      --top-diameter MM   across the rim, for a tapered cup
  --height MM            overall (10 to 700)              --shoulder MM       height where the body narrows
  --tape-sd MM           how far one tape reading may be off (default 0.7, at most 5 % of the diameter)
  --label NAME           whose it is, for the title
  --sizes WxH,WxH        two to six sizes across and high instead, as one graded pattern: 66x115,73x210,95x127
Your own pattern
  --like FILE            your rounds for another container, as short as "6, 12, 18, 24; 12 x ch5; 14 rounds; band 3"
  --like-diameter MM  --like-height MM  --like-shoulder MM      the container they are for
Gauge (default: a guess for light cotton and a 4 mm hook)
  --stitch S             ${FABRIC_STITCHES.join(', ')} in US terms (default dc)
  --stitches N           stitches over 10 cm, worked in the round, together with
  --rounds N             rounds over 10 cm
  --yarn-category 0-7    a guess from the Craft Yarn Council weight category instead
  --hook MM  --strands N  --metres-per-100g M  --ball-grams G  --price-per-ball P  --stitches-per-minute N
Choices
  --carrier K            ${CARRIER_KINDS.join(', ')} (default net)
  --base 1|2|3           which of the offered bases (default 1, the easiest to count)
  --ease PCT             carrier wider (+) or narrower (-) than the container, as in --ease -5
  --wall-rounds N        plain rounds above the base
  --mesh K               ${MESH_KINDS.join(', ')}      --post S  stitch of its posts (default dc)
  --chains N  --skip N  --hole MM (no larger)
  --cover-height MM      height of the carrier            --band-rounds N
  --top K                ${TOP_WAYS.join(', ')}: where the body narrows (default pulled-over)
  --colours N  --stripe N   one to four colours, and rounds of a stripe (default 3)
  --strap K              ${STRAP_STYLES.join(', ')}
  --strap-fastening K    ${STRAP_FASTENINGS.join(', ')}
  --strap-cord K         ${STRAP_CORDS.join(', ')}
  --strap-length MM      free length                      --wearer-around MM  hip over opposite shoulder to hip
  --hourly-rate R  --price P  --fees PCT  --currency SIGN
Output
  --language L           ${LANGUAGES.join(', ')} (default en)         --terms T     ${TERM_SETS.join(', ')} (default us; de in German)
  --units cm|in          (default cm)                     --hand H      ${HANDS.join(', ')} (default right)
  --markdown             Markdown instead of text         --json              the plan as data
  --pdf FILE             the pattern printed, on Letter with --units in, else A4; needs a Chromium (CHROMIUM_PATH)
  --svg-chart FILE       the chart of the base; that of net and band beside it as FILE-net.svg
  --help                 this text

Exit code: 0 planned, 1 no plan could be made, 2 wrong call.
`;

const number = { type: 'string' } as const;
const OPTIONS = {
  diameter: number,
  'top-diameter': number,
  height: number,
  shoulder: number,
  'tape-sd': number,
  label: { type: 'string' },
  sizes: { type: 'string' },
  like: { type: 'string' },
  'like-diameter': number,
  'like-height': number,
  'like-shoulder': number,
  from: { type: 'string' },
  stitch: { type: 'string' },
  stitches: number,
  rounds: number,
  'yarn-category': number,
  hook: number,
  strands: number,
  'metres-per-100g': number,
  'ball-grams': number,
  'price-per-ball': number,
  'stitches-per-minute': number,
  carrier: { type: 'string' },
  base: number,
  ease: number,
  'wall-rounds': number,
  mesh: { type: 'string' },
  post: { type: 'string' },
  chains: number,
  skip: number,
  hole: number,
  'cover-height': number,
  'band-rounds': number,
  top: { type: 'string' },
  colours: number,
  stripe: number,
  strap: { type: 'string' },
  'strap-fastening': { type: 'string' },
  'strap-cord': { type: 'string' },
  'strap-length': number,
  'wearer-around': number,
  'hourly-rate': number,
  price: number,
  fees: number,
  currency: { type: 'string' },
  language: { type: 'string' },
  units: { type: 'string' },
  terms: { type: 'string' },
  hand: { type: 'string' },
  pdf: { type: 'string' },
  'svg-chart': { type: 'string' },
  markdown: { type: 'boolean' },
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const;

/** A tape reading further off than this share is no measurement. */
const WORST_TAPE = 0.05;

type Values = ReturnType<typeof readArguments<typeof OPTIONS>>['values'];
/** The options that hold a number. */
type NumberName = {
  [K in keyof typeof OPTIONS]: (typeof OPTIONS)[K] extends typeof number ? K : never;
}[keyof typeof OPTIONS];

export async function plan(terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(OPTIONS, terminal.args);
  if (values.help) {
    terminal.out(HELP);
    return EXIT.done;
  }
  if (positionals.length > 0)
    throw new UsageError(`unexpected "${positionals[0]}"; sizes go with --diameter and --height`);
  refuseBoth(values, 'json', 'markdown');
  refuseBoth(values, 'from', 'diameter', 'height', 'top-diameter', 'shoulder', 'tape-sd');
  refuseBoth(values, 'sizes', 'from', 'diameter', 'height', 'top-diameter', 'shoulder', 'tape-sd');
  refuseBoth(values, 'hole', 'skip');
  refuseBoth(values, 'yarn-category', 'stitches', 'rounds');
  refuseBoth(
    values,
    'like',
    'base',
    'ease',
    'wall-rounds',
    'mesh',
    'post',
    'chains',
    'skip',
    'hole',
    'cover-height',
    'band-rounds',
  );
  refuseIdle(values);
  const said = wordsFor(values);
  const choices = choicesFrom(values);
  const gauge = gaugeOrRefusal(values);
  if (gauge instanceof RefusedInput) {
    terminal.err(`plan: ${refusalText(gauge.refusal, said.text.planRefusals, said.voice)}\n`);
    return EXIT.refused;
  }
  const { containers, complaints } = await containersFrom(values, terminal);
  for (const complaint of complaints) terminal.err(`plan: ${complaint}\n`);
  const design = await designOf(values, gauge, said);
  const plans: Plan[] = [];
  let everyPlanMade = complaints.length === 0;
  for (const container of containers) {
    const made = design
      ? regradedFor(design, container, choices)
      : { result: planCarrier(container, gauge, choices), notes: [] };
    if ('code' in made) {
      terminal.err(`plan: ${disagreementText(made, regradeText(said.voice.reader.language), said.voice)}
`);
      return EXIT.refused;
    }
    const { result, notes } = made;
    if (result.outcome === 'planned') plans.push(result.plan);
    else everyPlanMade = false;
    const regraded = notes.map((note) => regradeNoteText(note, regradeText(said.voice.reader.language), said.voice));
    if (values.json) {
      const kept = design ? { regraded: { codes: notes, sentences: regraded } } : {};
      terminal.out(`${JSON.stringify({ ...planLine(result, said.text, said.voice), ...kept })}\n`);
    } else if (result.outcome === 'refused') {
      terminal.err(`plan: ${refusalText(result.reason, said.text.planRefusals, said.voice)}\n`);
    } else {
      const pattern = patternOf(titleFor(result.plan.choices, values, said.text), result.plan, said.text, said.voice);
      const render = values.markdown ? blocksAsMarkdown : blocksAsText;
      const kept: Block[] = [
        { kind: 'heading', text: regradeText(said.voice.reader.language).title },
        { kind: 'list', items: regraded },
      ];
      terminal.out(render([...patternBlocks(pattern, said.text), ...(design ? kept : [])]));
    }
  }
  if (!(await filesWritten(plans, values, said, terminal))) return EXIT.refused;
  if (values.sizes !== undefined && everyPlanMade && !values.json) terminal.out(gradedText(plans, values, said));
  return everyPlanMade ? EXIT.done : EXIT.refused;
}

/** Print and charts of the one plan that was made, where they are asked for. */
async function filesWritten(plans: readonly Plan[], values: Values, said: Said, terminal: Terminal): Promise<boolean> {
  const { pdf, 'svg-chart': chart } = values;
  if (pdf === undefined && chart === undefined) return true;
  if (plans.length !== 1) {
    terminal.err(`plan: --pdf and --svg-chart are for one plan, and there are ${plans.length}\n`);
    return false;
  }
  const [made] = plans;
  try {
    if (chart !== undefined) {
      for (const path of await writeCharts(chart, made, said.text, said.voice)) terminal.err(`plan: wrote ${path}\n`);
    }
    if (pdf !== undefined) {
      await writePdf(pdf, titleFor(made.choices, values, said.text), made, said.voice);
      terminal.err(`plan: wrote ${pdf}\n`);
    }
    return true;
  } catch (error) {
    const isFile = error instanceof Error && 'code' in error;
    if (!(error instanceof NoChromium || isFile)) throw error;
    terminal.err(`plan: ${error.message}\n`);
    return false;
  }
}

/** All sizes as one text, as a graded pattern has them. */
function gradedText(plans: readonly Plan[], values: Values, { voice }: Said): string {
  const render = values.markdown ? blocksAsMarkdown : blocksAsText;
  return render([
    { kind: 'heading', text: regradeText(voice.reader.language).sizes.title },
    { kind: 'list', items: sizeSetLines(sizeSetOf(plans), regradeText(voice.reader.language), voice) },
  ]);
}

/** The maker's own design; null when a plan of ours is asked for. */
async function designOf(values: Values, gauge: Gauge, said: Said): Promise<OwnDesign | null> {
  const diameterMm = lengthOf(values, 'like-diameter', 1, 1e4);
  const heightMm = lengthOf(values, 'like-height', 1, 1e4);
  const shoulderMm = lengthOf(values, 'like-shoulder', 1, 1e4);
  if (values.like === undefined) {
    if (diameterMm ?? heightMm ?? shoulderMm) throw new UsageError('--like-diameter and the like go with --like FILE');
    return null;
  }
  if (diameterMm === undefined || heightMm === undefined) {
    throw new UsageError('--like needs the container it was made for: --like-diameter and --like-height');
  }
  const isOwn = values.stitches !== undefined || values['yarn-category'] !== undefined;
  return designLike({ file: values.like, diameterMm, heightMm, shoulderMm }, isOwn ? gauge : null, said);
}

interface Said {
  readonly text: Text;
  readonly voice: Voice;
}

function wordsFor(values: Values): Said {
  const language = oneOf('language', values.language, LANGUAGES) ?? 'en';
  const voice = voiceOf({
    language,
    terms: oneOf('terms', values.terms, TERM_SETS) ?? (language === 'de' ? 'de' : 'us'),
    units: oneOf('units', values.units, ['cm', 'in'] as const) ?? 'cm',
    hand: oneOf('hand', values.hand, HANDS) ?? 'right',
  });
  return { text: language === 'de' ? de : en, voice };
}

function titleFor({ carrier }: Choices, { label }: Values, { plan: words }: Text): string {
  return label ? words.titleFor(words.titles[carrier], label) : words.titles[carrier];
}

/** A swatch of nothing is refused before there is a plan. */
function gaugeOrRefusal(values: Values): Gauge | RefusedInput {
  try {
    return gaugeFrom(values);
  } catch (error) {
    if (error instanceof RefusedInput) return error;
    throw error;
  }
}

/** Options that would be passed over in silence are a mistake somewhere. */
function refuseIdle(values: Values): void {
  const idle = (names: readonly (keyof Values)[]) => {
    const name = names.find((each) => values[each] !== undefined);
    if (name) throw new UsageError(`--${name} does nothing with --carrier ${values.carrier}`);
  };
  if (values.carrier === 'sleeve' || values.carrier === 'mat')
    idle(['mesh', 'post', 'chains', 'skip', 'hole', 'wall-rounds']);
  if (values.carrier === 'mat') {
    idle([
      'top',
      'colours',
      'stripe',
      'strap',
      'strap-fastening',
      'strap-cord',
      'strap-length',
      'band-rounds',
      'cover-height',
    ]);
  }
}

async function containersFrom(
  values: Values,
  terminal: Terminal,
): Promise<{ containers: Container[]; complaints: string[] }> {
  if (values.sizes !== undefined) return { containers: containersOfSizes(values.sizes), complaints: [] };
  if (values.from !== undefined) return readMeasureLines(await readInput(values.from, terminal));
  const diameterMm = lengthOf(values, 'diameter', 0, 1e4);
  const heightMm = lengthOf(values, 'height', 0, 1e4);
  if (diameterMm === undefined || heightMm === undefined) {
    throw new UsageError('give --diameter and --height in mm, or --from with a measured line');
  }
  const container = containerFromTape({
    diameterMm,
    heightMm,
    topDiameterMm: lengthOf(values, 'top-diameter', 1, 1e4),
    shoulderZMm: lengthOf(values, 'shoulder', 1, heightMm),
    sdMm: lengthOf(values, 'tape-sd', 0, Math.max(0.5, diameterMm * WORST_TAPE)),
  });
  return { containers: [container], complaints: [] };
}

async function readInput(from: string, terminal: Terminal): Promise<string> {
  if (from === '-') return terminal.input();
  const file = await readRegularFile(from);
  if (typeof file === 'string') throw new UsageError(`--from ${from}: ${file}`);
  return file.toString('utf8');
}

function gaugeFrom(values: Values): Gauge {
  const stitch = oneOf('stitch', values.stitch, FABRIC_STITCHES);
  const hookMm = lengthOf(values, 'hook', 0.5, 60);
  const strands = wholeOf(values, 'strands', 1, 12);
  const stitches = numberOf(values, 'stitches', 1, 200);
  const rounds = numberOf(values, 'rounds', 1, 200);
  const metresPer100g = numberOf(values, 'metres-per-100g', 5, 2000);
  const category = wholeOf(values, 'yarn-category', 0, 7);
  if ((stitches === undefined) !== (rounds === undefined)) {
    throw new UsageError('--stitches and --rounds over 10 cm go together');
  }
  const gauge =
    stitches !== undefined && rounds !== undefined
      ? gaugeFromSwatch({ stitch: stitch ?? 'dc', stitches, widthMm: 100, rounds, heightMm: 100, strands, hookMm })
      : category !== undefined
        ? gaugeFromYarnCategory(category, { stitch, hookMm, strands })
        : defaultGauge(stitch);
  return {
    ...gauge,
    hookMm: hookMm ?? gauge.hookMm,
    strands: strands ?? gauge.strands,
    stitchesPerMinute: numberOf(values, 'stitches-per-minute', 1, 170) ?? gauge.stitchesPerMinute,
    yarn: {
      ...gauge.yarn,
      metresPer100g: metresPer100g ?? gauge.yarn.metresPer100g,
      assumed: metresPer100g === undefined,
      ballGrams: numberOf(values, 'ball-grams', 1, 5000) ?? gauge.yarn.ballGrams,
      pricePerBall: numberOf(values, 'price-per-ball', 0, 1e6) ?? gauge.yarn.pricePerBall,
    },
  };
}

function choicesFrom(values: Values): Choices {
  const usual = defaultChoices(oneOf('carrier', values.carrier, CARRIER_KINDS));
  const easePct = numberOf(values, 'ease', -15, 15);
  return {
    ...usual,
    baseCandidate: (wholeOf(values, 'base', 1, 3) ?? 1) - 1,
    easeRatio: easePct === undefined ? usual.easeRatio : easePct / 100,
    plainWallRounds: wholeOf(values, 'wall-rounds', 0, 30) ?? usual.plainWallRounds,
    mesh: {
      ...usual.mesh,
      kind: oneOf('mesh', values.mesh, MESH_KINDS) ?? usual.mesh.kind,
      postStitch: oneOf('post', values.post, FABRIC_STITCHES) ?? usual.mesh.postStitch,
      chains: wholeOf(values, 'chains', 1, 15) ?? usual.mesh.chains,
      skip: wholeOf(values, 'skip', 1, 8) ?? usual.mesh.skip,
      mostHoleMm: lengthOf(values, 'hole', 5, 100) ?? usual.mesh.mostHoleMm,
    },
    band: { ...usual.band, rounds: wholeOf(values, 'band-rounds', 0, 12) ?? usual.band.rounds },
    strap: {
      style: oneOf('strap', values.strap, STRAP_STYLES) ?? usual.strap.style,
      fastening: oneOf('strap-fastening', values['strap-fastening'], STRAP_FASTENINGS) ?? usual.strap.fastening,
      cord: oneOf('strap-cord', values['strap-cord'], STRAP_CORDS) ?? usual.strap.cord,
      lengthMm: lengthOf(values, 'strap-length', 50, 2500) ?? usual.strap.lengthMm,
      wearerAroundMm: lengthOf(values, 'wearer-around', 300, 2500) ?? usual.strap.wearerAroundMm,
    },
    top: oneOf('top', values.top, TOP_WAYS) ?? usual.top,
    stripes: {
      colours: wholeOf(values, 'colours', 1, 4) ?? usual.stripes.colours,
      rounds: wholeOf(values, 'stripe', 1, 20) ?? usual.stripes.rounds,
    },
    coverHeightMm: lengthOf(values, 'cover-height', 10, 700) ?? usual.coverHeightMm,
    hourlyRate: numberOf(values, 'hourly-rate', 0, 1e6) ?? usual.hourlyRate,
    price: numberOf(values, 'price', 0, 1e6) ?? usual.price,
    feeShare: (numberOf(values, 'fees', 0, 90) ?? 100 * usual.feeShare) / 100,
    currency: values.currency ?? usual.currency,
  };
}

function numberOf(values: Values, name: NumberName, from: number, to: number): number | undefined {
  return numberOption(name, values[name], from, to);
}

function wholeOf(values: Values, name: NumberName, from: number, to: number): number | undefined {
  return wholeNumberOption(name, values[name], from, to);
}

function lengthOf(values: Values, name: NumberName, fromMm: number, toMm: number): number | undefined {
  return lengthOption(name, values[name], fromMm, toMm);
}

runWhenStarted('plan', import.meta.url, plan);
