import { cpus, loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { EXIT, oneOf, readArguments, runCommand } from '../../web/commands/command-line.ts';
import { benchBatch } from './batch-bench.ts';
import { benchEngine } from './engine-bench.ts';
import { benchNative, type NativeBench } from './native-bench.ts';
import { benchPage } from './page-bench.ts';
import type { Weight } from './page-weight.ts';
import type { Timing } from './timing.ts';

const PARTS = ['engine', 'batch', 'native', 'page'] as const;
const outDir = fileURLToPath(new URL('../../node_modules/.tmp/benched-page', import.meta.url));

const HELP = `Times the engine in Node, the command line, the same OpenCV calls in native OpenCV (where Debian's python3-opencv is
installed) and the page in Chromium; weighs the page. Medians over the same inputs, beside their targets. Absolute times mean something on a quiet machine only: the load is printed with them.

npm run --silent bench -- [--only engine|batch|native|page] [--json]
`;

runCommand('bench', async () => {
  const { values } = readArguments({
    only: { type: 'string' },
    json: { type: 'boolean' },
    help: { type: 'boolean' },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  const only = oneOf('only', values.only, PARTS);
  const runs = (part: (typeof PARTS)[number]) => !only || only === part;
  const load = loadavg()[0];
  const engine = runs('engine') ? await benchEngine() : [];
  const batch = runs('batch') ? await benchBatch() : [];
  const native = runs('native') ? await benchNative() : null;
  const page = runs('page') ? await benchPage(outDir) : { timings: [], weights: { parts: [], chunks: [] } };
  const timings = [...engine, ...batch, ...page.timings];
  const machine = { cpu: cpus()[0]?.model, cores: cpus().length, load };
  if (values.json) process.stdout.write(`${JSON.stringify({ ...machine, timings, weights: page.weights, native })}\n`);
  else {
    process.stdout.write(`${machine.cores} × ${machine.cpu}, load ${load.toFixed(1)}\n${timingTable(timings)}`);
    if (runs('native')) process.stdout.write(nativeTable(native));
    if (page.weights.parts.length > 0) process.stdout.write(weightTable(page.weights.parts));
  }
  return EXIT.done;
});

function timingTable(timings: readonly Timing[]): string {
  const rows = timings.map(({ stage, medianMs, minMs, maxMs, targetMs, runs }) => {
    const ms = [medianMs, minMs, maxMs].map((value) => value.toFixed(1).padStart(9)).join('');
    return `${ms}${(targetMs ?? '').toString().padStart(9)}${runs.toString().padStart(6)}  ${stage}\n`;
  });
  return `median ms      min      max   target  runs  stage\n${rows.join('')}`;
}

function weightTable(weights: readonly Weight[]): string {
  const rows = weights.map(({ part, rawKb, gzipKb, brotliKb, targetKb }) => {
    const kb = [rawKb, gzipKb, brotliKb].map((value) => value.toFixed(0).padStart(9)).join('');
    return `${kb}${(targetKb ?? '').toString().padStart(9)}        ${part}\n`;
  });
  return `\n   raw kB     gzip   brotli   target        part\n${rows.join('')}`;
}

function nativeTable(native: NativeBench | null): string {
  if (!native) return '\nNo native OpenCV on this machine (Debian: python3-opencv, python3-onnx): no ratios.\n';
  const { calls, whole } = native;
  const row = (oursMs: number, nativeMs: number, name: string) =>
    `${[oursMs, nativeMs, oursMs / nativeMs].map((value) => value.toFixed(1).padStart(9)).join('')}  ${name}\n`;
  const rows = calls.map(({ call, oursMs, nativeMs }) => row(oursMs, nativeMs, call)).join('');
  return (
    `\n  ours ms   native    ratio  OpenCV ${native.nativeVersion}, one thread\n${rows}` +
    row(
      whole.oursMs,
      whole.withNativeMs,
      `whole photo with native OpenCV in it (${whole.inOpenCvMs.toFixed(0)} ms in OpenCV)`,
    )
  );
}
