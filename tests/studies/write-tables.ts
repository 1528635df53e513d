/**
 * Writes what the proofs print into the tables of README.md and DEVELOPERS.md:
 * `npm run readme -- [accuracy] [coverage] [bench] [memory] [fuzz]`, all when none is named.
 * A table stands between `<!-- NAME: … -->` and `<!-- /NAME -->`.
 */
import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { scoreFolders } from '../../web/commands/accuracy-folders.ts';
import type { AccuracyReport, SizeScore } from '../../web/commands/accuracy-score.ts';
import { EXIT, readArguments, runCommand, UsageError } from '../../web/commands/command-line.ts';
import type { NativeBench } from '../bench/native-bench.ts';
import type { Weight } from '../bench/page-weight.ts';
import type { Timing } from '../bench/timing.ts';
import type { FuzzReport } from '../support/fuzz-decoders.ts';
import type { MemoryUse } from '../support/memory-over-photos.ts';

const HELP = `Runs the proofs and writes their tables into README.md and DEVELOPERS.md. Takes half an hour; wants a quiet machine.

npm run readme -- [accuracy] [coverage] [bench] [memory] [fuzz]
`;

const TABLES: Readonly<Record<string, { readonly file: string; readonly make: () => string | Promise<string> }>> = {
  accuracy: {
    file: 'README.md',
    make: async () => accuracyTable((await scoreFolders(['sample-images'], {})).report),
  },
  coverage: {
    file: 'DEVELOPERS.md',
    make: () => coverageTable(jsonOf('tests/studies/coverage.ts', '--scenes', '200', '--json')),
  },
  bench: { file: 'DEVELOPERS.md', make: () => benchTables(jsonOf('tests/bench/bench.ts', '--json')) },
  memory: { file: 'DEVELOPERS.md', make: () => memoryTable(jsonOf('tests/studies/memory.ts', '--json')) },
  fuzz: { file: 'DEVELOPERS.md', make: () => fuzzSentence(jsonOf('tests/studies/fuzz.ts')) },
};

runCommand('readme', async () => {
  const { values, positionals } = readArguments({ help: { type: 'boolean' } });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  const unknown = positionals.find((name) => !(name in TABLES));
  if (unknown) throw new UsageError(`${unknown}: expected ${Object.keys(TABLES).join(', ')}`);
  for (const name of positionals.length > 0 ? positionals : Object.keys(TABLES)) {
    const { file, make } = TABLES[name];
    const place = new RegExp(`(<!-- ${name}: [^>]*-->\\n)[\\s\\S]*?(<!-- /${name} -->)`);
    const before = await readFile(file, 'utf8');
    if (!place.test(before)) throw new UsageError(`${file} has no place for the table ${name}`);
    const table = await make();
    // read again: making a table takes minutes
    const text = await readFile(file, 'utf8');
    await writeFile(
      file,
      text.replace(place, (_, begin, end) => `${begin}\n${table}\n${end}`),
    );
    process.stderr.write(`${file}: ${name}\n`);
  }
  return EXIT.done;
});

function jsonOf<T>(script: string, ...options: string[]): T {
  const command = ['--import', 'tsx', script, ...options];
  return JSON.parse(execFileSync(process.execPath, command, { encoding: 'utf8', maxBuffer: 1e8 }));
}

function rows(head: readonly string[], body: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return `${[line(head), line(head.map(() => '---')), ...body.map(line)].join('\n')}\n`;
}

function accuracyTable(report: AccuracyReport): string {
  const row = (name: string, score: SizeScore) => [
    name,
    `${score.n}`,
    `${fixed(score.medianAbsMm, 1)} mm (${fixed(score.medianAbsPct, 1)} %)`,
    `${fixed(score.p90AbsPct, 1)} %`,
    `${fixed(score.worstAbsPct, 1)} %`,
    `${Math.round(100 * (score.coverage95 ?? 0))} %`,
  ];
  return `\`npm run accuracy -- sample-images\`: ${report.photos} photos of known truth, found and measured without help, ${report.measured} measured, ${report.refused} refused with a reason.

${rows(
  ['size', 'photos', 'median error', '90 % of errors below', 'worst', 'truth inside the stated 95 % interval'],
  [
    row('widest diameter', report.widestDiameter),
    row('base diameter', report.baseDiameter),
    row('height', report.height),
  ],
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
