/**
 * Fits the numbers in vision/calibration/numbers.ts to the cases in outline-evidence.json and prints what they gain on
 * cases held back: `npm run calibrate [-- --write]`. New cases: `npm run calibrate -- --collect FOLDER... > cases.json`, from
 * photos with a truth file beside each; the way the card lies is told, so that nothing but the outline is off.
 */
import { readFile, writeFile } from 'node:fs/promises';
import {
  fitOutlineError,
  logScore,
  type OutlineCase,
  type OutlineErrorNumbers,
} from '../../vision/calibration/fit-outline-error.ts';
import { OUTLINE_ERROR } from '../../vision/calibration/numbers.ts';
import type { MeasuredSize } from '../../vision/container/container-sizes.ts';
import { sizeEstimate } from '../../vision/container/size-estimate.ts';
import { measureAndFit } from '../../vision/measure-photo.ts';
import { photosIn } from '../../web/commands/accuracy-folders.ts';
import { EXIT, readArguments, runCommand } from '../../web/commands/command-line.ts';
import { decodePhotoFile } from '../../web/commands/decode-photo-file.ts';
import { loadEngine } from '../../web/commands/measure-file.ts';
import { readTruth } from '../../web/commands/truth.ts';

const CASES = 'vision/calibration/outline-evidence.json';
const NUMBERS = 'vision/calibration/numbers.ts';
/** Each half is scored by the numbers fitted to the other. */
const HALVES = [0, 1];
/** As if fits to found edges were as good as they say, and the outline always the container's. */
const FIRST: OutlineErrorNumbers = { ...OUTLINE_ERROR, fitSdFactor: 1, perGap: 0.1 };
const SIZES: readonly MeasuredSize[] = ['maxDiameterMm', 'heightMm', 'baseDiameterMm'];

runCommand('calibrate', async () => {
  const { values, positionals } = readArguments({ write: { type: 'boolean' }, collect: { type: 'boolean' } });
  if (values.collect) {
    process.stdout.write(`${JSON.stringify(await collected(positionals), null, 1)}\n`);
    return EXIT.done;
  }
  const cases: OutlineCase[] = JSON.parse(await readFile(CASES, 'utf8'));
  const fitted = fitOutlineError(cases, FIRST);
  const heldBack = HALVES.reduce((sum, half) => {
    const other = fitOutlineError(
      cases.filter((_, i) => i % 2 !== half),
      FIRST,
    );
    return (
      sum +
      logScore(
        cases.filter((_, i) => i % 2 === half),
        other,
      )
    );
  }, 0);
  const rounded = Object.fromEntries(
    Object.entries(fitted).map(([name, value]) => [name, Number(value.toPrecision(3))]),
  );
  process.stdout.write(
    `${cases.length} cases; log score first ${logScore(cases, FIRST).toFixed(1)}, in use ${logScore(cases, OUTLINE_ERROR).toFixed(1)}, fitted ${logScore(cases, fitted).toFixed(1)}, fitted to the other half ${heldBack.toFixed(1)}\n${JSON.stringify(rounded)}\n`,
  );
  if (values.write) {
    let text = await readFile(NUMBERS, 'utf8');
    for (const [name, value] of Object.entries(rounded))
      text = text.replace(new RegExp(`(\\b${name}: )[\\d.e-]+`), `$1${value}`);
    await writeFile(NUMBERS, text);
  }
  return EXIT.done;
});

async function collected(folders: readonly string[]): Promise<OutlineCase[]> {
  const engine = await loadEngine();
  const cases: OutlineCase[] = [];
  for (const path of await photosIn(folders)) {
    const [photo, truth] = [await decodePhotoFile(path), await readTruth(path)];
    if (!photo || !truth || truth.shouldRefuse) continue;
    const { looked, result } = measureAndFit(engine, photo, { arrangement: truth.arrangement }, () => {});
    const { before: { fit } = {}, evidence } = looked ?? {};
    // what is refused for another reason needs no error bar
    const isTold = result.outcome === 'measured' || result.reason.code === 'too-uncertain';
    if (!isTold || !fit || !evidence) continue;
    const sizes = SIZES.flatMap((size) => {
      const trueMm = truth[size];
      const { value, sd } = sizeEstimate(fit, size);
      return trueMm === null ? [] : [{ error: Math.log(value / trueMm), sd: sd / value, gap: evidence.gap[size] }];
    });
    cases.push({ supported: evidence.supported, sizes });
  }
  return cases;
}
