import { basename } from 'node:path';
import type { Estimate } from '../../vision/estimate.ts';

import { type MeasureOptions, measureAndFit } from '../../vision/measure-photo.ts';
import type { MeasureResult } from '../../vision/measurement.ts';
import { photosIn } from '../../web/commands/accuracy-folders.ts';
import { quantile, type SizeScore, scoreSizes, sizeError } from '../../web/commands/accuracy-score.ts';
import { EXIT, readArguments, runCommand, UsageError } from '../../web/commands/command-line.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';
import { loadEngine } from '../../web/commands/measure-file.ts';
import { readTruth, type Truth } from '../../web/commands/truth.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { type HandWork, SimulatedHand } from '../support/simulated-hand.ts';

const HELP = `Puts every photo of known truth right by a simulated hand and scores the sizes after it.

npm run --silent study:hand -- FOLDER... [options]

  --seed N    of the hand's errors and zoom (default 1)
  --without-model  as where the outline network could not be loaded: every photo starts refused, with a worse guess
  --json      one JSON object for machines
  --help      this text

The maker sees the true edges on a phone (390 CSS px, zoom up to 4), moves what is more than 4 CSS px off, the farthest
first, and lets go with a normal error of 3 CSS px; at most six moves, taps and answers counted like drags, a card placed
by hand as four. Photos that were right are nudged at two handles. Silent wrong: a size outside its 95 % interval, more
than 3 % off, and no warning
but one of the lens. Rescued: refused before, measured after at most four moves with every size inside its
interval or within 3 %.
`;

/** A rescue takes at most this many moves. */
const RESCUE_MOVES = 4;
/** What a maker would notice on the finished piece. */
const PLAIN_ERROR_PCT = 3;

type Sizes = Readonly<Record<'widest' | 'base' | 'height', SizeScore>>;

interface Study {
  readonly photos: number;
  readonly startedRefused: number;
  readonly rescued: number;
  readonly medianDrags: number | null;
  readonly edited: { readonly photos: number; readonly measured: number } & Sizes;
  readonly nudged: { readonly photos: number; readonly withinPct: number | null } & Sizes;
  readonly silentWrongPct: number | null;
}

interface Done {
  readonly truth: Truth;
  readonly found: MeasureResult;
  readonly work: HandWork;
  readonly isNudge: boolean;
}

runCommand('study:hand', async () => {
  const { values, positionals } = readArguments({
    seed: { type: 'string' },
    'without-model': { type: 'boolean' },
    json: { type: 'boolean' },
    help: { type: 'boolean' },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  if (positionals.length === 0) throw new UsageError('no folder given');
  const loaded = await loadEngine();
  const engine = values['without-model'] ? { ...loaded, outlineModel: null } : loaded;
  const done: Done[] = [];
  for (const path of await photosIn(positionals)) {
    const truth = await readTruth(path);
    const photo = truth && !truth.shouldRefuse && truth.outlinePx && (await decodePhotoFile(path));
    if (!truth || !photo) continue;
    const measure = (options: MeasureOptions) => measureAndFit(engine, photo, options, () => {}).result;
    const found = measure({});
    const random = seededRandom(Number(values.seed ?? 1) + done.length * 7919);
    const hand = new SimulatedHand(truth, random, measure);
    const isNudge = hand.isRight(found);
    const work = isNudge ? hand.nudge(found) : hand.putRight(found);
    done.push({ truth, found, work, isNudge });
    if (!values.json) process.stdout.write(`${lineOf(basename(path), done[done.length - 1])}\n`);
  }
  const study = score(done);
  process.stdout.write(values.json ? `${JSON.stringify(study)}\n` : `${JSON.stringify(study, null, 1)}\n`);
  return done.length > 0 ? EXIT.done : EXIT.refused;
});

function errorsOf(result: MeasureResult, truth: Truth) {
  if (result.outcome === 'refused') return null;
  const { maxDiameterMm, baseDiameterMm, heightMm } = result.measurement;
  return {
    widest: sizeError(maxDiameterMm, truth.maxDiameterMm),
    base: sizeError(baseDiameterMm, truth.baseDiameterMm),
    height: sizeError(heightMm, truth.heightMm),
  };
}

function score(done: readonly Done[]): Study {
  const edited = done.filter(({ isNudge }) => !isNudge);
  const nudged = done.filter(({ isNudge }) => isNudge);
  const refused = edited.filter(({ found }) => found.outcome === 'refused');
  const changes = nudged.map(isWithinItsInterval);
  const wrong = done.filter(isSilentlyWrong).length;
  return {
    photos: done.length,
    startedRefused: refused.length,
    rescued: refused.filter(isRescued).length,
    medianDrags: quantile(
      edited.map(({ work }) => work.moves),
      0.5,
    ),
    edited: {
      photos: edited.length,
      measured: edited.filter(({ work }) => work.result.outcome === 'measured').length,
      ...sizesOf(edited),
    },
    nudged: {
      photos: nudged.length,
      withinPct: changes.length > 0 ? (100 * changes.filter(Boolean).length) / changes.length : null,
      ...sizesOf(nudged),
    },
    silentWrongPct: done.length > 0 ? (100 * wrong) / done.length : null,
  };
}

function sizesOf(done: readonly Done[]): Sizes {
  const errors = done.map(({ work, truth }) => errorsOf(work.result, truth));
  const of = (size: 'widest' | 'base' | 'height') => scoreSizes(errors.map((error) => error?.[size] ?? null));
  return { widest: of('widest'), base: of('base'), height: of('height') };
}

function isRescued({ work, truth }: Done): boolean {
  const errors = errorsOf(work.result, truth);
  if (!errors || work.moves > RESCUE_MOVES) return false;
  return Object.values(errors).every((error) => !error || error.inside95 || Math.abs(error.errorPct) < PLAIN_ERROR_PCT);
}

function isSilentlyWrong({ work, truth }: Done): boolean {
  if (work.result.outcome === 'refused' || work.result.warnings.some(isAboutTheOutline)) return false;
  const errors = Object.values(errorsOf(work.result, truth) ?? {});
  return errors.some((error) => error && !error.inside95 && Math.abs(error.errorPct) > PLAIN_ERROR_PCT);
}

/** Warnings that only widen the interval say nothing is wrong. */
const OF_LENS: readonly string[] = ['typical-focal', 'card-square-on', 'looks-cropped', 'card-far-away'];
function isAboutTheOutline({ code }: { readonly code: string }): boolean {
  return !OF_LENS.includes(code);
}

/** Whether a nudge left every size within the interval that it had before. */
function isWithinItsInterval({ found, work }: Done): boolean {
  if (found.outcome === 'refused' || work.result.outcome === 'refused') return false;
  const [a, b] = [found.measurement, work.result.measurement];
  const isWithin = (before: Estimate | null, after: Estimate | null) =>
    !before || !after || (before.low95 <= after.value && after.value <= before.high95);
  return (
    isWithin(a.maxDiameterMm, b.maxDiameterMm) &&
    isWithin(a.baseDiameterMm, b.baseDiameterMm) &&
    isWithin(a.heightMm, b.heightMm)
  );
}

function lineOf(name: string, { truth, found, work, isNudge }: Done): string {
  const errors = errorsOf(work.result, truth);
  const before = errorsOf(found, truth);
  const text = (all: ReturnType<typeof errorsOf>, result: MeasureResult) =>
    all
      ? Object.values(all)
          .map((error) => (error ? `${error.errorPct.toFixed(1)}${error.inside95 ? '' : '!'}` : '-').padStart(7))
          .join('')
      : result.outcome === 'refused'
        ? result.reason.code
        : '';
  const warned = work.result.warnings.map(({ code }) => code).join(' ');
  const features = (work.options.hand ?? []).map(({ feature }) => feature).join(',');
  return `${name.slice(0, 28).padEnd(29)}${isNudge ? 'nudged' : 'edited'} ${work.moves}  ${text(before, found).padEnd(22)} -> ${text(errors, work.result)}  ${features} ${warned}`;
}
