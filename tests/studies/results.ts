/**
 * Runs proofs, keeps what they print with when and where they ran in tests/results/, and writes tests/RESULTS.md and the table
 * of README.md wholly from what is kept: `npm run results [-- NAME...]`. Without a name nothing is run.
 */
import { execFileSync } from 'node:child_process';
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { cpus, loadavg } from 'node:os';
import type { AccuracyReport, SizeScore } from '../../web/commands/accuracy-score.ts';
import { EXIT, readArguments, runCommand, UsageError } from '../../web/commands/command-line.ts';
import type { NativeBench } from '../bench/native-bench.ts';
import type { Weight } from '../bench/page-weight.ts';
import type { Timing } from '../bench/timing.ts';
import type { FuzzReport } from '../support/fuzz-decoders.ts';
import type { MemoryUse } from '../support/memory-over-photos.ts';

const HELP = `Runs proofs and writes tests/RESULTS.md and README's table from what they leave in tests/results/.

npm run results -- [NAME...]
`;

const FOLDER = 'tests/results';
const PAGE = 'tests/RESULTS.md';

/** One proof: what it shows, how it is run, and its report in words. */
interface Proof {
  readonly title: string;
  /** What an npm script of that name is called with. */
  readonly script: string;
  readonly options: readonly string[];
  // biome-ignore lint/suspicious/noExplicitAny: every proof has a report of its own
  readonly table: (report: any) => string;
}

const PROOFS: Readonly<Record<string, Proof>> = {
  light: {
    title: 'Photos under measured light, every seventh of a set, nothing chosen',
    script: 'accuracy',
    options: ['sample-images/light', '--json'],
    table: accuracyTable,
  },
  samples: {
    title: 'The clear samples of the page',
    script: 'accuracy',
    options: ['sample-images', '--json'],
    table: accuracyTable,
  },
  turned: {
    title: 'The clear samples turned by a quarter, with no word of it in the file',
    script: 'accuracy',
    options: ['sample-images', '--turn', '90', '--json'],
    table: accuracyTable,
  },
  resaved: {
    title: 'The clear samples as a messenger resaves them, 1280 px, without metadata',
    script: 'accuracy',
    options: ['sample-images', '--resave', '1280', '--json'],
    table: accuracyTable,
  },
  coverage: {
    title: 'The model, simulated: bias, spread against the Cramér–Rao bound, coverage of the 95 % intervals',
    script: 'study:coverage',
    options: ['--scenes', '60', '--json'],
    table: coverageTable,
  },
  hand: {
    title: 'Put right by a simulated hand',
    script: 'study:hand',
    options: ['sample-images/light', '--json'],
    table: handTable,
  },
  numbers: { title: 'Tuned numbers', script: 'study:numbers', options: ['--json'], table: numbersSentence },
  bench: { title: 'Speed and weight', script: 'bench', options: ['--json'], table: benchTables },
  memory: { title: 'Memory, photo after photo', script: 'study:memory', options: ['--json'], table: memoryTable },
  fuzz: { title: 'Damaged files', script: 'fuzz', options: [], table: fuzzSentence },
};

/** What a proof left, with when and where it ran. */
interface Kept {
  readonly commit: string;
  readonly date: string;
  readonly machine: string;
  readonly load: number;
  readonly report: unknown;
}

runCommand('results', async () => {
  const { values, positionals } = readArguments({ help: { type: 'boolean' } });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  const unknown = positionals.find((name) => !(name in PROOFS));
  if (unknown) throw new UsageError(`${unknown}: expected ${Object.keys(PROOFS).join(', ')}`);
  await mkdir(FOLDER, { recursive: true });
  for (const name of positionals) {
    const kept: Kept = { ...whenAndWhere(), report: withoutPhotos(run(PROOFS[name])) };
    await writeFile(`${FOLDER}/${name}.json`, `${JSON.stringify(kept, null, 2)}\n`);
    process.stderr.write(`${name}\n`);
  }
  const names = new Set(await readdir(FOLDER));
  const kept = await Promise.all(
    Object.keys(PROOFS)
      .filter((name) => names.has(`${name}.json`))
      .map(async (name) => [name, JSON.parse(await readFile(`${FOLDER}/${name}.json`, 'utf8'))] as [string, Kept]),
  );
  await writeFile(PAGE, pageOf(kept));
  const light = kept.find(([name]) => name === 'light');
  if (light) await writeIntoReadme(accuracyTable(light[1].report as AccuracyReport));
  return EXIT.done;
});

function run({ script, options }: Proof): unknown {
  const command = ['run', '--silent', script, '--', ...options];
  try {
    return JSON.parse(execFileSync('npm', command, { encoding: 'utf8', maxBuffer: 1e8 }));
  } catch (error) {
    // a proof that has found something to complain of still reports
    const { stdout } = error as { readonly stdout?: string };
    if (stdout) return JSON.parse(stdout);
    throw error;
  }
}

/** Single photos and numbers are for looking into; the page has no row for them. */
function withoutPhotos(report: unknown): unknown {
  const { perPhoto, byArrangement, numbers, ...rest } = report as Record<string, unknown>;
  return rest;
}

function whenAndWhere(): Omit<Kept, 'report'> {
  return {
    commit: execFileSync('git', ['rev-parse', '--short', 'HEAD'], { encoding: 'utf8' }).trim(),
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus().length} × ${cpus()[0]?.model.trim() ?? 'unknown'}`,
    load: Number(loadavg()[0].toFixed(1)),
  };
}

function pageOf(kept: readonly (readonly [string, Kept])[]): string {
  const parts = kept.map(([name, { commit, date, machine, load, report }]) => {
    const { title, script, options, table } = PROOFS[name];
    const told = options.filter((option) => option !== '--json').join(' ');
    const command = `npm run ${script}${told && ` -- ${told}`}`;
    return `## ${title}

\`${command}\`: commit ${commit}, ${date}, ${machine}, load ${load} at the end.

${table(report)}`;
  });
  return `# Results

Written by \`npm run results\` from what each proof left in [results/](results/): do not edit. \`npm run results -- NAME\` runs one
anew (${Object.keys(PROOFS).join(', ')}). Targets that are missed are bold. \`sample-images/light\` is part of the set that the width
of the error bars was fitted to (vision/calibration/); the network never saw it.

${parts.join('\n')}`;
}

async function writeIntoReadme(table: string): Promise<void> {
  const place = /(<!-- accuracy: [^>]*-->\n)[\s\S]*?(<!-- \/accuracy -->)/;
  const text = await readFile('README.md', 'utf8');
  await writeFile(
    'README.md',
    text.replace(place, (_, begin, end) => `${begin}\n${table}\n${end}`),
  );
}

function rows(head: readonly string[], body: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return `${[line(head), line(head.map(() => '---')), ...body.map(line)].join('\n')}\n`;
}

/** What a report of `accuracy` says, size by size. */
function accuracyTable(report: AccuracyReport): string {
  const row = (name: string, score: SizeScore) => [
    name,
    `${score.n}`,
    `${fixed(score.medianAbsMm, 1)} mm (${fixed(score.medianAbsPct, 1)} %)`,
    `${fixed(score.p90AbsPct, 1)} %`,
    `± ${fixed(score.halfWidthMedianPct, 1)} %`,
    `${fixed(100 * (score.coverage95 ?? 0), 0)} %`,
    `${fixed(score.silentWrongPct, 1)} %`,
  ];
  const { photos, measured, negatives, anySilentWrongPct } = report;
  const toMeasure = photos - negatives.photos;
  const rightly = measured - (negatives.photos - negatives.refused);
  const refusals = negatives.photos > 0 ? ` Of ${negatives.photos} to be refused ${negatives.refused} are.` : '';
  return `${rightly} of ${toMeasure} that can be measured are, without help; ${fixed(anySilentWrongPct, 1)} % of the measured are off by over 3 % in some size and do not say so.${refusals}

${rows(
  [
    'size',
    'photos',
    'median error',
    '90 % of errors below',
    'stated ± (half of the 95 % interval), median',
    'truth inside it',
    'over 3 % off and outside',
  ],
  [
    row('widest diameter', report.widestDiameter),
    row('height', report.height),
    row('base diameter, where given', report.baseDiameter),
  ],
)}`;
}

interface NumbersReport {
  readonly named: number;
  readonly inline: number;
  readonly total: number;
  readonly withoutReason: number;
  readonly withoutComment: number;
}

function numbersSentence({ named, inline, total, withoutReason, withoutComment }: NumbersReport): string {
  return `${miss(total, 350, 0)} tuned numbers in \`vision/\` (goal 350): ${named} named, ${inline} inline; ${withoutComment} without a comment, ${withoutReason} whose comment names no test, script or source.\n`;
}

interface HandReport {
  readonly photos: number;
  readonly startedRefused: number;
  readonly rescued: number;
  readonly medianDrags: number | null;
  readonly edited: Readonly<Record<'widest' | 'height' | 'base', SizeScore>>;
  readonly nudged: { readonly photos: number; readonly withinPct: number | null };
  readonly silentWrongPct: number | null;
}

function handTable({
  photos,
  startedRefused,
  rescued,
  medianDrags,
  edited,
  nudged,
  silentWrongPct,
}: HandReport): string {
  const row = (name: string, score: SizeScore) => [
    name,
    `${fixed(score.medianAbsPct, 1)} %`,
    `${fixed(100 * (score.coverage95 ?? 0), 0)} %`,
    `${fixed(score.silentWrongPct, 1)} %`,
  ];
  return `${photos} photos; ${rescued} of ${startedRefused} refused ones rescued, ${fixed(medianDrags, 0)} drags (median); ${nudged.photos} that were right nudged, ${fixed(nudged.withinPct, 0)} % of them within their ±; silently wrong in some size ${fixed(silentWrongPct, 1)} %.

${rows(
  ['size after edits', 'median error', 'truth inside', 'over 3 % off and outside'],
  [row('widest', edited.widest), row('height', edited.height), row('base', edited.base)],
)}`;
}

interface CoverageSize {
  readonly biasInSd: number;
  readonly rmseMm: number;
  readonly rmseByBound: number;
  readonly coverage: number;
}
interface CoverageReport {
  readonly seed: number;
  readonly cells: readonly {
    readonly beside: 'card' | 'coin';
    readonly arrangement: string;
    readonly focalCase: string;
    readonly scenes: number;
    readonly failures: number;
    readonly sizes: Readonly<Record<'baseDiameterMm' | 'maxDiameterMm' | 'heightMm', CoverageSize>>;
  }[];
}

function coverageTable({ cells }: CoverageReport): string {
  const size = ({ biasInSd, rmseMm, rmseByBound, coverage }: CoverageSize) =>
    `${fixed(biasInSd, 2)} / ${fixed(rmseMm, 2)} (${fixed(rmseByBound, 2)}) / ${fixed(100 * coverage, 1)} %`;
  return rows(
    [
      'card lies',
      'focal length',
      'failures',
      'widest ⌀: bias sd / RMSE mm (× bound) / coverage',
      'height: bias sd / RMSE mm (× bound) / coverage',
      'base ⌀ coverage',
    ],
    cells.map(({ beside, arrangement, focalCase, scenes, failures, sizes }) => [
      beside === 'coin' ? `2 euro coin, ${arrangement}` : arrangement,
      focalCase,
      `${failures} of ${scenes}`,
      size(sizes.maxDiameterMm),
      size(sizes.heightMm),
      `${fixed(100 * sizes.baseDiameterMm.coverage, 1)} %`,
    ]),
  );
}

interface BenchReport {
  readonly cpu: string;
  readonly cores: number;
  readonly load: number;
  readonly timings: readonly Timing[];
  readonly weights: { readonly parts: readonly Weight[] };
  readonly native: NativeBench | null;
}

function benchTables({ cpu, cores, load, timings, weights, native }: BenchReport): string {
  const times = rows(
    ['stage', 'median ms', 'fastest', 'slowest', 'target', 'runs'],
    timings.map(({ stage, medianMs, minMs, maxMs, targetMs, runs }) => [
      stage,
      miss(medianMs, targetMs, medianMs < 20 ? 1 : 0),
      fixed(minMs, minMs < 20 ? 1 : 0),
      fixed(maxMs, maxMs < 20 ? 1 : 0),
      targetMs === null ? '' : `${targetMs}`,
      `${runs}`,
    ]),
  );
  const kilobytes = rows(
    ['part of the page', 'raw kB', 'gzip', 'brotli', 'target'],
    weights.parts.map(({ part, rawKb, gzipKb, brotliKb, targetKb }) => [
      part,
      fixed(rawKb, 0),
      miss(gzipKb, targetKb, 0),
      fixed(brotliKb, 0),
      targetKb === null ? '' : `${targetKb}`,
    ]),
  );
  return `${cores} × ${cpu}, load ${fixed(load, 1)} at the start; misses in bold.

${times}
${kilobytes}
${native ? nativeTable(native) : 'No native OpenCV on this machine, so no ratios.\n'}`;
}

function nativeTable({ nativeVersion, calls, whole }: NativeBench): string {
  const row = (name: string, oursMs: number, nativeMs: number) => [
    name,
    fixed(oursMs, 1),
    fixed(nativeMs, 1),
    fixed(oursMs / nativeMs, 1),
  ];
  return rows(
    ['OpenCV call, 12 megapixels', 'ours ms', `native ${nativeVersion} ms`, 'ratio'],
    [
      ...calls.map(({ call, oursMs, nativeMs }) => row(call, oursMs, nativeMs)),
      row(`whole photo (${fixed(whole.inOpenCvMs, 0)} ms of it in OpenCV)`, whole.oursMs, whole.withNativeMs),
    ],
  );
}

function memoryTable({ uses }: { readonly uses: readonly MemoryUse[] }): string {
  return rows(
    ['photos', 'live OpenCV objects', 'OpenCV in use MB', 'JavaScript heap MB', 'resident MB'],
    uses.map(({ photos, liveOpenCvObjects, openCvInUseMb, jsHeapMb, residentMb }) => [
      `${photos}`,
      `${liveOpenCvObjects}`,
      fixed(openCvInUseMb, 1),
      fixed(jsHeapMb, 1),
      fixed(residentMb, 0),
    ]),
  );
}

function fuzzSentence({ files, decoded, refused, measured, slowestMs, peakMb, failures }: FuzzReport): string {
  return `${files} damaged files: ${decoded} still decoded, ${refused} refused, ${measured} of the decoded measured to the end; ${failures.length} failures, slowest ${fixed(slowestMs / 1000, 1)} s, at most ${fixed(peakMb, 0)} MB held.\n`;
}

/** A value, bold where it misses its target. */
function miss(value: number, target: number | null, digits: number): string {
  return target !== null && value > target ? `**${fixed(value, digits)}**` : fixed(value, digits);
}

function fixed(value: number | null, digits: number): string {
  return value === null ? '–' : value.toFixed(digits);
}
