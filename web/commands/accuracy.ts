import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { photosIn, scoreFolders } from './accuracy-folders.ts';
import { type AccuracyReport, type GroupScore, isSilentlyWrong, type SizeScore } from './accuracy-score.ts';
import {
  EXIT,
  oneOf,
  readArguments,
  refuseBoth,
  runWhenStarted,
  shown,
  type Terminal,
  UsageError,
} from './command-line.ts';
import { writeContactSheet } from './contact-sheet.ts';
import { GIVEN_OPTIONS, GIVEN_OPTIONS_HELP, type Given } from './given-options.ts';
import { VARIANT_NAMES, VARIANT_OF, writeVariant } from './photo-variants.ts';
import { readTruth } from './truth.ts';

const HELP = `Measures every photo in a folder that has a truth file beside it and prints the errors.

npm run --silent accuracy -- FOLDER... [options]

${GIVEN_OPTIONS_HELP}
  --finding         also print, photo by photo, how well card and outline were found
  --turn DEGREES    measure the photos turned by 90, 180 or 270, with no word of it in the file
  --resave HOW      measure them as a messenger resaves them, without metadata: 1600, 1280 (px) or screenshot
  --augment         instead measure every photo in many variants (exposure, blur, noise, crop ...); a line for each
  --sheet FILE.jpg  a contact sheet of every photo with the found card and outline; card faces are blanked
  --json            one JSON object for machines
  --help            this text

Truth format: sample-images/README.md. Exit code: 0 done, 1 nothing to measure, 2 wrong call.
`;

const OPTIONS = {
  ...GIVEN_OPTIONS,
  finding: { type: 'boolean' },
  augment: { type: 'boolean' },
  turn: { type: 'string' },
  resave: { type: 'string' },
  sheet: { type: 'string' },
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const;

export async function accuracy(terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(OPTIONS, terminal.args);
  if (values.help) {
    terminal.out(HELP);
    return EXIT.done;
  }
  if (positionals.length === 0) throw new UsageError('no folder given');
  refuseBoth(values, 'augment', 'turn', 'resave', 'sheet', 'finding', 'json');
  refuseBoth(values, 'turn', 'resave', 'sheet');
  refuseBoth(values, 'resave', 'sheet');
  refuseBoth(values, 'json', 'finding');

  if (values.augment) {
    await printVariants(terminal, positionals, values);
    return EXIT.done;
  }
  const turn = oneOf('turn', values.turn, ['90', '180', '270']);
  const resave = oneOf('resave', values.resave, ['1600', '1280', 'screenshot']);
  const variant = turn ? VARIANT_OF.turn[turn] : resave && VARIANT_OF.resave[resave];
  const score = (folders: readonly string[]) => scoreFolders(folders, values);
  const { report, lines, truths } = await (variant
    ? withVariant(variant, await photosWithTruth(positionals), (folder) => score([folder]))
    : score(positionals));
  if (report.photos === 0) {
    terminal.err('accuracy: no photo with a truth file beside it\n');
    return EXIT.refused;
  }
  terminal.out(values.json ? `${JSON.stringify(report)}\n` : reportText(report, Boolean(values.finding)));
  if (values.sheet === undefined) return EXIT.done;
  const isWritten = await writeContactSheet(lines, truths, values.sheet);
  if (!isWritten) terminal.err(`accuracy: --sheet ${values.sheet}: cannot be written there\n`);
  return isWritten ? EXIT.done : EXIT.refused;
}

/** One line for each variant of all photos, as soon as it is measured. */
async function printVariants(terminal: Terminal, folders: readonly string[], given: Given): Promise<void> {
  const photos = await photosWithTruth(folders);
  terminal.out(
    `${''.padEnd(18)}measured  card  corners  widest: median   90 %  in 95 %  height: median   90 %  in 95 %  > 3 % outside\n`,
  );
  for (const name of VARIANT_NAMES) {
    const { report } = await withVariant(name, photos, (folder) => scoreFolders([folder], given));
    terminal.out(variantText(name, report));
  }
}

async function photosWithTruth(folders: readonly string[]): Promise<string[]> {
  const photos: string[] = [];
  for (const path of await photosIn(folders)) if (await readTruth(path)) photos.push(path);
  return photos;
}

/** Lets `score` look at a folder with one variant of the photos, and takes the folder away again. */
async function withVariant<T>(
  name: string,
  photos: readonly string[],
  score: (folder: string) => Promise<T>,
): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'accuracy-'));
  try {
    for (const path of await writeVariant(name, photos, folder))
      process.stderr.write(`${shown(path)} cannot be read: it is left out\n`);
    return await score(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function variantText(name: string, report: AccuracyReport): string {
  const good = report.photos - report.negatives.photos;
  const measured = report.measured - (report.negatives.photos - report.negatives.refused);
  const size = ({ medianAbsPct, p90AbsPct, coverage95 }: SizeScore) =>
    `${fixed(medianAbsPct, 2)} %`.padStart(16) +
    `${fixed(p90AbsPct, 2)} %`.padStart(7) +
    percent(coverage95).padStart(9);
  const wrong = report.perPhoto.filter(
    (photo) =>
      !photo.shouldRefuse && [photo.widestDiameter, photo.height].some((error) => error && isSilentlyWrong(error)),
  );
  return (
    name.padEnd(18) +
    `${measured}/${good}`.padStart(8) +
    String(report.cardCorners.found).padStart(6) +
    `${fixed(report.cardCorners.medianPct, 2)} %`.padStart(9) +
    size(report.widestDiameter) +
    size(report.height) +
    `  ${wrong.map((photo) => shown(basename(photo.photo))).join(' ') || 'none'}\n`
  );
}

function reportText(report: AccuracyReport, finding: boolean): string {
  const groups: [string, GroupScore][] = [['all', report], ...Object.entries(report.byArrangement)];
  return (
    groups.map(([name, group]) => groupText(name, group)).join('\n') +
    (finding ? findingText(report) : photoText(report))
  );
}

function groupText(name: string, group: GroupScore): string {
  const { cardCorners, arrangementRight } = group;
  return [
    `${name}: ${group.photos} photos, ${group.measured} measured, ${group.refused} refused${negativesText(group)}, silently wrong in some size ${fixed(group.anySilentWrongPct, 1)} %, ${fixed(group.medianMs, 0)} ms each (median)`,
    `  ${''.padEnd(16)}  n   median    90 %   worst    median  in 95 % interval    ± median  silently wrong`,
    sizeText('widest diameter', group.widestDiameter),
    sizeText('base diameter', group.baseDiameter),
    sizeText('height', group.height),
    `  card found ${cardCorners.found}, corner error ${fixed(cardCorners.medianPct, 2)} % of its width (median), ${fixed(cardCorners.worstPct, 2)} % (worst); ` +
      `arrangement right ${percent(arrangementRight)}; outline overlap ${fixed(group.outlineIou, 3)}`,
    '',
  ].join('\n');
}

function negativesText({ negatives }: GroupScore): string {
  return negatives.photos === 0 ? '' : ` (${negatives.refused} of the ${negatives.photos} that ought to be)`;
}

function sizeText(name: string, score: SizeScore): string {
  const pct = [score.medianAbsPct, score.p90AbsPct, score.worstAbsPct].map((value) =>
    `${fixed(value, 2)} %`.padStart(8),
  );
  return `  ${name.padEnd(16)}${String(score.n).padStart(3)} ${pct.join('')}${`${fixed(score.medianAbsMm, 2)} mm`.padStart(10)}  ${percent(score.coverage95).padEnd(18)}${`${fixed(score.halfWidthMedianPct, 2)} %`.padStart(12)}${`${fixed(score.silentWrongPct, 1)} %`.padStart(10)}`;
}

function photoText(report: AccuracyReport): string {
  const rows = report.perPhoto.map((photo) => {
    const sizes = [photo.widestDiameter, photo.baseDiameter, photo.height].map((size) =>
      size
        ? `${size.errorPct >= 0 ? '+' : ''}${size.errorPct.toFixed(2)} %${size.inside95 ? ' ' : '!'}`.padStart(10)
        : ''.padStart(10),
    );
    return `${sizes.join('')}  ${shown(basename(photo.photo))}${photo.reason ? ` refused: ${photo.reason}` : ''}`;
  });
  return `\n    widest      base    height  photo (! outside its 95 % interval)\n${rows.join('\n')}\n`;
}

function findingText(report: AccuracyReport): string {
  const rows = report.perPhoto.map((photo) =>
    [
      `${fixed(photo.cardCornersPct, 2)} %`.padStart(10),
      fixed(photo.outlineIou, 3).padStart(9),
      (photo.arrangement ?? '-').padStart(15),
      photo.arrangement && photo.arrangement !== photo.trueArrangement ? ` (is ${photo.trueArrangement})` : '',
      `  ${shown(basename(photo.photo))}${photo.reason ? ` refused: ${photo.reason}` : ''}`,
    ].join(''),
  );
  return `\n   corners  overlap    arrangement  photo\n${rows.join('\n')}\n${photoText(report)}`;
}

function fixed(value: number | null, digits: number): string {
  return value === null ? '-' : value.toFixed(digits);
}

function percent(share: number | null): string {
  return share === null ? '-' : `${(100 * share).toFixed(0)} %`;
}

runWhenStarted('accuracy', import.meta.url, accuracy);
