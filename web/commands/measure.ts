import type { Estimate } from '../../vision/estimate.ts';
import { EXIT, readArguments, runCommand, UsageError } from './command-line.ts';
import { GIVEN_OPTIONS, GIVEN_OPTIONS_HELP, givenOptions } from './given-options.ts';
import { type MeasureJob, measureFiles } from './measure-files.ts';
import type { MeasureLine } from './measure-line.ts';
import { measureSameContainerFiles } from './same-container.ts';

const HELP = `Measures round containers in photos that show them beside a bank card.

npm run --silent measure -- PHOTO... [options]

${GIVEN_OPTIONS_HELP}
  --same-container  all photos show one container: measure it once from all of them together
  --json            one JSON object a line, in the order of the photos; one for all with --same-container
  --help            this text

Exit code: 0 every photo measured, 1 a photo was refused, 2 wrong call.
`;

runCommand('measure', async () => {
  const { values, positionals } = readArguments({
    ...GIVEN_OPTIONS,
    'same-container': { type: 'boolean' },
    json: { type: 'boolean' },
    help: { type: 'boolean' },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  if (positionals.length === 0) throw new UsageError('no photo given');

  const jobs: MeasureJob[] = [];
  for (const path of positionals) jobs.push({ path, options: await givenOptions(values, path) });
  if (values['same-container']) return measureTogether(jobs, Boolean(values.json));
  const printInOrder = orderedPrinter((line) => {
    process.stdout.write(values.json ? `${JSON.stringify(line)}\n` : tableRows(line));
  });
  if (!values.json) process.stdout.write(TABLE_HEAD);
  let finished = 0;
  const lines = await measureFiles(jobs, (index, line) => {
    finished += 1;
    if (jobs.length > 1) process.stderr.write(`${finished} of ${jobs.length}: ${line.photo}\n`);
    printInOrder(index, line);
  });
  return lines.every((line) => line.outcome === 'measured') ? EXIT.done : EXIT.refused;
});

/** Prints every photo alone as it is measured, then all together; as JSON only the line of all together. */
async function measureTogether(jobs: readonly MeasureJob[], json: boolean): Promise<number> {
  if (jobs.length < 2) throw new UsageError('--same-container needs at least two photos');
  if (!json) process.stdout.write(TABLE_HEAD);
  const alone: MeasureLine[] = [];
  const together = await measureSameContainerFiles(jobs, (line) => {
    alone.push(line);
    if (!json) process.stdout.write(tableRows(line));
  });
  if (!together) {
    if (json) for (const line of alone) process.stdout.write(`${JSON.stringify(line)}\n`);
    process.stderr.write(
      'Nothing to put together: fewer than two photos were measured, or no container fits them all.\n',
    );
    return EXIT.refused;
  }
  process.stdout.write(json ? `${JSON.stringify(together)}\n` : togetherRows(together));
  return alone.every((line) => line.outcome === 'measured') ? EXIT.done : EXIT.refused;
}

function togetherRows(line: MeasureLine): string {
  const { together } = line;
  if (!together) return '';
  const used = together.photos.filter((photo) => photo.used);
  const leftOut = together.photos
    .filter((photo) => !photo.used && !photo.reason)
    .map(({ photo }) => `    left out: ${photo}\n`);
  const percent = (share: number) => `${(100 * share).toFixed(0)} %`;
  const agreement = `χ² ${together.chiSquared.toFixed(1)} with ${together.degreesOfFreedom} degrees of freedom, chance ${percent(together.probability)}`;
  const gain = `± of the surest photo becomes ${percent(together.gain.maxDiameterMm)} (widest ⌀), ${percent(together.gain.heightMm)} (height)`;
  return `${sizeColumns(line)}  ${used.length} photos together\n${leftOut.join('')}    ${agreement}; ${gain}\n${notes(line)}`;
}

/** Lets lines that finish early wait for the ones before them. */
function orderedPrinter(print: (line: MeasureLine) => void): (index: number, line: MeasureLine) => void {
  const waiting = new Map<number, MeasureLine>();
  let next = 0;
  return (index, line) => {
    waiting.set(index, line);
    for (let ready = waiting.get(next); ready; ready = waiting.get(next)) {
      print(ready);
      waiting.delete(next);
      next += 1;
    }
  };
}

const TABLE_HEAD = `${'base ⌀ mm'.padStart(15)}${'widest ⌀ mm'.padStart(15)}${'height mm'.padStart(15)}${'holds ml'.padStart(14)}  photo (± is the 95 % interval)\n`;

function tableRows(line: MeasureLine): string {
  if (line.outcome === 'refused')
    return `${'not measured'.padStart(15)}${' '.repeat(44)}  ${line.photo}\n    ${line.reason?.message}\n${notes(line)}`;
  return `${sizeColumns(line)}  ${line.photo} (${line.arrangement})\n${notes(line)}`;
}

function sizeColumns(line: MeasureLine): string {
  const sizes = [line.baseDiameterMm, line.maxDiameterMm, line.heightMm].map((size) => plusMinus(size, 1).padStart(15));
  return `${sizes.join('')}${`< ${plusMinus(line.capacityMl, 0)}`.padStart(14)}`;
}

function notes({ warnings }: MeasureLine): string {
  return warnings.map(({ message }) => `    note: ${message}\n`).join('');
}

function plusMinus(size: Estimate | null, digits: number): string {
  if (!size) return 'hidden';
  return `${size.value.toFixed(digits)} ± ${((size.high95 - size.low95) / 2).toFixed(digits)}`;
}
