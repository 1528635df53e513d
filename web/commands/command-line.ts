import { type ParseArgsConfig, parseArgs } from 'node:util';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { type FlatReference, parseReference } from '../../vision/reference/reference.ts';
import { parseRoundReference, ROUND_REFERENCES, type RoundReference } from '../../vision/reference/round-reference.ts';

/** Exit codes every command keeps to. */
export const EXIT = { done: 0, refused: 1, usage: 2 } as const;

/** A wrong call: the message says what is wrong, and the command exits with 2. */
export class UsageError extends Error {}

type Options = NonNullable<ParseArgsConfig['options']>;
type Parsed<T extends Options> = ReturnType<typeof parseArgs<{ options: T; allowPositionals: true; strict: true }>>;

/** Parses a command's arguments strictly; unknown or malformed ones become a UsageError. */
export function readArguments<T extends Options>(options: T, args = process.argv.slice(2)): Parsed<T> {
  try {
    return parseArgs({ args, options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message.split('. ')[0] : String(error));
  }
}

/** Runs a command, turning wrong calls into one line and exit code 2; a user never sees a stack trace. */
export async function runCommand(name: string, main: () => Promise<number>): Promise<void> {
  // The reader of a pipe may stop early (`measure … | head`); that is no failure.
  process.stdout.on('error', (error: NodeJS.ErrnoException) =>
    process.exit(error.code === 'EPIPE' ? EXIT.done : EXIT.refused),
  );
  try {
    process.exitCode = await main();
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    if (error instanceof UsageError) {
      process.stderr.write(`${name}: ${message}\nTry: npm run ${name} -- --help\n`);
      process.exitCode = EXIT.usage;
      return;
    }
    process.stderr.write(`${name}: something went wrong inside: ${message}\n`);
    process.exitCode = EXIT.refused;
  }
}

/** A number within a range, or a UsageError that names the option, the value and the range. */
export function numberOption(name: string, text: string | undefined, from: number, to: number): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value) || value < from || value > to) {
    throw new UsageError(`--${name} ${text}: expected a number from ${from} to ${to}`);
  }
  return value;
}

/** One of a list of words, or a UsageError that lists them. */
export function oneOf<T extends string>(name: string, text: string | undefined, words: readonly T[]): T | undefined {
  if (text === undefined) return undefined;
  const known = words.find((word) => word === text);
  if (!known) throw new UsageError(`--${name} ${text}: expected one of ${words.join(', ')}`);
  return known;
}

export function referenceOption(text: string | undefined): FlatReference | undefined {
  if (text === undefined) return undefined;
  const reference = parseReference(text);
  if (!reference && parseRoundReference(text))
    throw new UsageError(`--reference ${text}: a coin or disc is named with --round`);
  if (!reference)
    throw new UsageError(`--reference ${text}: expected a name such as ID-1 or A4, or sizes in mm such as 210x297x0.1`);
  return reference;
}

export function roundReferenceOption(text: string | undefined): RoundReference | undefined {
  if (text === undefined) return undefined;
  const reference = parseRoundReference(text);
  if (!reference) {
    const names = ROUND_REFERENCES.map(({ name }) => `"${name}"`).join(', ');
    throw new UsageError(`--round ${text}: expected one of ${names}, or a size in mm such as d60 or d60x1.5`);
  }
  return reference;
}

export function pointsOption(name: string, points: string, fewest: number): readonly ImagePoint[] {
  const list = points
    .trim()
    .split(/\s+/)
    .map((point) => pointOption(name, point));
  if (list.length < fewest) throw new UsageError(`--${name}: expected at least ${fewest} points "x,y x,y ..."`);
  return list;
}

export function pointOption(name: string, text: string): ImagePoint {
  const numbers = text.split(',').map(Number);
  if (numbers.length !== 2 || !numbers.every(Number.isFinite)) {
    throw new UsageError(`--${name} ${text}: expected x,y in pixels`);
  }
  return [numbers[0], numbers[1]];
}

export function cornersOption(text: string): CornersPx {
  const corners = text
    .trim()
    .split(/\s+/)
    .map((corner) => pointOption('card', corner));
  if (corners.length !== 4) throw new UsageError(`--card "${text}": expected four corners "x,y x,y x,y x,y"`);
  const [a, b, c, d] = corners;
  return [a, b, c, d];
}
