import type { Estimate } from '../../vision/estimate.ts';
import {
  measureWork,
  type PlacedRound,
  WORK_PIECES,
  type WorkOptions,
  type WorkPiece,
  type WorkResult,
} from '../../vision/flat-piece/measure-work.ts';
import { ROW_DIRECTIONS } from '../../vision/flat-piece/work-photo.ts';
import { ID1_CARD } from '../../vision/reference/reference.ts';
import { typedLengthMm } from '../ui/typed-number.ts';
import {
  cornersOption,
  EXIT,
  numberOption,
  oneOf,
  pointOption,
  pointsOption,
  readArguments,
  referenceOption,
  refuseBoth,
  roundReferenceOption,
  runWhenStarted,
  type Terminal,
  UsageError,
  wholeNumberOption,
} from './command-line.ts';
import { openPhotoFile } from './decode-photo-file.ts';
import { loadEngine } from './measure-file.ts';
import { type WorkLine, workLine } from './work-line.ts';

const HELP = `Measures a flat piece of crochet in a photo that shows it beside a bank card.

npm run --silent check-work -- disc   PHOTO [--rounds N --stitches N] [options]
npm run --silent check-work -- swatch PHOTO [--rounds N --stitches N] [options]
npm run --silent check-work -- tube   PHOTO [--stitches N] [options]

Lay work and card flat on a table of another colour and photograph them from above, at any angle.
A disc is measured across, mean over all directions, between the mean line of the outer loops on both sides.

  --rounds N        rounds of the disc, rows of the swatch: gives the gauge, together with
  --stitches N      stitches in the last round, in a row, or all the way round the tube
  --rows-run WAY    across or up: how rows or rounds run in the picture (default across); longer or shorter: along which
                    side, for work that lies diagonally
  --thickness MM    thickness of one layer of the fabric, or in inches as in 0.12in (default: guessed from the stitches)
  --reference R     ID-1 (default), ID-2, ID-3, A4, A5, A6, "US Letter", or WIDTHxHEIGHT[xTHICKNESS] in mm
  --round NAME      a coin or disc instead of a card: "2 euro", "US quarter", "optical disc", ..., or dDIAMETER[xTHICKNESS]
  --rim R           its upper rim "x,y x,y ..." (6 points or more, all round, in order) instead of finding it
  --focal35 MM      35 mm-equivalent focal length, instead of what the file says
  --at X,Y          a point inside the work, in pixels
  --card C          the card's corners "x,y x,y x,y x,y" instead of finding them
  --edge E          the work's edge "x,y x,y ..." (8 points or more) instead of finding it
  --json            one JSON object (work-line.schema.json)
  --help            this text

Exit code: 0 measured, 1 refused, 2 wrong call.
`;

const text = { type: 'string' } as const;
const OPTIONS = {
  rounds: text,
  stitches: text,
  'rows-run': text,
  thickness: text,
  reference: text,
  round: text,
  rim: text,
  focal35: text,
  at: text,
  card: text,
  edge: text,
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const;

type Values = ReturnType<typeof readArguments<typeof OPTIONS>>['values'];

export async function checkWork(terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(OPTIONS, terminal.args);
  if (values.help) {
    terminal.out(HELP);
    return EXIT.done;
  }
  const [pieceText, path, ...more] = positionals;
  if (!path || more.length > 0) throw new UsageError('give what it is (disc, swatch or tube) and one photo');
  const piece = WORK_PIECES.find((known) => known === pieceText);
  if (!piece) throw new UsageError(`"${pieceText}": expected disc, swatch or tube`);
  refuseBoth(values, 'reference', 'round');
  refuseBoth(values, 'card', 'round');
  const options = workOptions(values);
  if (piece === 'tube' && values.rounds !== undefined) throw new UsageError('--rounds is for a disc or a swatch');
  if (piece === 'disc' && values['rows-run'] !== undefined)
    throw new UsageError('--rows-run is for a swatch or a tube');
  const rounds = wholeNumberOption('rounds', values.rounds, 1, 1000);

  const start = performance.now();
  const result = await measureFile(path, piece, options);
  const line = workLine({
    photo: path,
    result,
    counts: { rounds, stitches: options.stitches },
    reference: (options.round?.reference ?? options.reference ?? ID1_CARD).name,
    cornersPx: result.outcome === 'measured' ? result.cornersPx : null,
    elapsedMs: performance.now() - start,
  });
  terminal.out(values.json ? `${JSON.stringify(line)}\n` : report(line));
  return line.outcome === 'measured' ? EXIT.done : EXIT.refused;
}

async function measureFile(path: string, piece: WorkPiece, options: WorkOptions): Promise<WorkResult> {
  const opened = await openPhotoFile(path);
  if (opened.ok) return measureWork(await loadEngine(), opened.photo, piece, options);
  return { piece, outcome: 'refused', reason: opened.reason, found: { cornersPx: null, edgePx: null } };
}

function workOptions(values: Values): WorkOptions {
  const edgePx = values.edge === undefined ? undefined : pointsOption('edge', values.edge, 8);
  return {
    reference: referenceOption(values.reference),
    round: roundOption(values),
    focal35Mm: numberOption('focal35', values.focal35, 8, 1000),
    insidePx: values.at === undefined ? undefined : pointOption('at', values.at),
    cornersPx: values.card === undefined ? undefined : cornersOption(values.card),
    edgePx,
    thicknessMm: thicknessOption(values.thickness),
    stitches: wholeNumberOption('stitches', values.stitches, 1, 1000),
    rowsRun: oneOf('rows-run', values['rows-run'], ROW_DIRECTIONS),
  };
}

function thicknessOption(typed: string | undefined): number | undefined {
  if (typed === undefined) return undefined;
  const mm = typedLengthMm(typed, 'mm');
  if (mm === null || !(mm >= 0.2 && mm <= 40)) {
    throw new UsageError(`--thickness ${typed}: expected 0.2 to 40 mm, or inches as in 0.12in`);
  }
  return mm;
}

function roundOption({ round, rim }: Values): PlacedRound | undefined {
  if (round === undefined && rim === undefined) return undefined;
  if (round === undefined) throw new UsageError('--rim needs --round');
  const reference = roundReferenceOption(round);
  return reference && { reference, rimPx: rim === undefined ? undefined : pointsOption('rim', rim, 6) };
}

function report(line: WorkLine): string {
  const rows: string[] = [];
  if (line.reason) rows.push(line.reason.message);
  if (line.disc) {
    const { meanDiameterMm, outOfRoundness, scallopMm } = line.disc;
    rows.push(`across          ${mm(meanDiameterMm)}, mean over all directions`);
    rows.push(`out of round    ${(100 * outOfRoundness.value).toFixed(1)} ± ${(196 * outOfRoundness.sd).toFixed(1)} %`);
    rows.push(`loops           stand ${scallopMm.toFixed(1)} mm over the mean line on each side`);
  }
  if (line.swatch)
    rows.push(`along the rows  ${mm(line.swatch.widthMm)}`, `across the rows ${mm(line.swatch.heightMm)}`);
  if (line.tube) {
    rows.push(`flat width      ${mm(line.tube.widthMm)}`, `length          ${mm(line.tube.lengthMm)}`);
    rows.push(`all the way round ${mm(line.tube.aroundMm)}, through the middle of the fabric`);
  }
  if (line.thicknessMm) rows.push(`fabric          ${small(line.thicknessMm)} thick, one layer`);
  if (line.gauge) {
    const { stitchWidthMm, roundHeightMm } = line.gauge;
    rows.push(`stitch width    ${small(stitchWidthMm)}`, `round height    ${small(roundHeightMm)}`);
  }
  for (const warning of line.warnings) rows.push(`note: ${warning.message}`);
  return `${rows.join('\n')}\n`;
}

function mm({ value, low95, high95 }: Estimate): string {
  return `${value.toFixed(1)} ± ${((high95 - low95) / 2).toFixed(1)} mm`;
}

function small({ value, sd }: { readonly value: number; readonly sd: number }): string {
  return `${value.toFixed(2)} ± ${(1.96 * sd).toFixed(2)} mm`;
}

runWhenStarted('check-work', import.meta.url, checkWork);
