import type { Estimate } from '../../vision/estimate.ts';
import { EXIT, readArguments, runWhenStarted, shown, type Terminal, UsageError } from './command-line.ts';
import { GIVEN_OPTIONS, GIVEN_OPTIONS_HELP, givenOptions } from './given-options.ts';
import { type MeasureJob, measureFiles } from './measure-files.ts';
import type { MeasureLine } from './measure-line.ts';
import { measureSameContainerFiles } from './same-container.ts';

const OPTIONS = {
  ...GIVEN_OPTIONS,
  'same-container': { type: 'boolean' },
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const;

const HELP = `Measures round containers in photos that show them beside a bank card.

npm run --silent measure -- PHOTO... [options]

${GIVEN_OPTIONS_HELP}
  --same-container  all photos show one container: measure it once from all of them together
  --json            one JSON object a line, in the order of the photos; one for all with --same-container
  --help            this text

Exit code: 0 every photo measured, 1 a photo was refused, 2 wrong call.
`;

export async function measure(terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(OPTIONS, terminal.args);
  if (values.help) {
    terminal.out(HELP);
    return EXIT.done;
  }
  if (positionals.length === 0) throw new UsageError('no photo given');

  const jobs: MeasureJob[] = [];
  for (const path of positionals) jobs.push({ path, options: await givenOptions(values, path) });
  if (values['same-container']) return measureTogether(terminal, jobs, Boolean(values.json));
  const printInOrder = orderedPrinter((line) => {
    terminal.out(values.json ? `${JSON.stringify(line)}\n` : tableRows(line));
  });
  if (!values.json) terminal.out(TABLE_HEAD);
  let finished = 0;
  const lines = await measureFiles(jobs, (index, line) => {
    finished += 1;
    if (jobs.length > 1) terminal.err(`${finished} of ${jobs.length}: ${shown(line.photo)}\n`);
    printInOrder(index, line);
  });
  return lines.every((line) => line.outcome === 'measured') ? EXIT.done : EXIT.refused;
}

/** Prints every photo alone as it is measured, then all together; as JSON only the line of all together. */
async function measureTogether(terminal: Terminal, jobs: readonly MeasureJob[], json: boolean): Promise<number> {
  if (jobs.length < 2) throw new UsageError('--same-container needs at least two photos');
  if (!json) terminal.out(TABLE_HEAD);
  const alone: MeasureLine[] = [];
  const together = await measureSameContainerFiles(jobs, (line) => {
    alone.push(line);
    if (!json) terminal.out(tableRows(line));
  });
  if (!together) {
    if (json) for (const line of alone) terminal.out(`${JSON.stringify(line)}\n`);
    terminal.err('Nothing to put together: fewer than two photos were measured, or no container fits them all.\n');
    return EXIT.refused;
  }
  terminal.out(json ? `${JSON.stringify(together)}\n` : togetherRows(together));
  return alone.every((line) => line.outcome === 'measured') ? EXIT.done : EXIT.refused;
}

function togetherRows(line: MeasureLine): string {
  const { together } = line;
  if (!together) return '';
  const used = together.photos.filter((photo) => photo.used);
  const leftOut = together.photos
    .filter((photo) => !photo.used && !photo.reason)
    .map(({ photo }) => `    left out: ${shown(photo)}\n`);
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
    return `${'not measured'.padStart(15)}${' '.repeat(44)}  ${shown(line.photo)}\n    ${line.reason?.message}\n${notes(line)}`;
  return `${sizeColumns(line)}  ${shown(line.photo)} (${line.arrangement})\n${notes(line)}`;
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

runWhenStarted('measure', import.meta.url, measure);
