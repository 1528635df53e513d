import { realpathSync } from 'node:fs';
import { text as readAll } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { type ParseArgsConfig, parseArgs } from 'node:util';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import { type FlatReference, parseReference } from '../../vision/reference/reference.ts';
import { parseRoundReference, ROUND_REFERENCES, type RoundReference } from '../../vision/reference/round-reference.ts';
import { typedLengthMm, typedNumber } from '../ui/typed-number.ts';

/** Exit codes every command keeps to. */
export const EXIT = { done: 0, refused: 1, usage: 2 } as const;

/** A wrong call: the message says what is wrong, and the command exits with 2. */
export class UsageError extends Error {}

/** What a command is given and where its words go; a test has one of its own. */
export interface Terminal {
  readonly args: readonly string[];
  out(text: string): void;
  err(text: string): void;
  input(): Promise<string>;
}

const TERMINAL: Terminal = {
  args: process.argv.slice(2),
  out: (text) => process.stdout.write(printable(text)),
  err: (text) => process.stderr.write(printable(text)),
  input: () => readAll(process.stdin),
};

type Main = (terminal: Terminal) => Promise<number>;
type Options = NonNullable<ParseArgsConfig['options']>;
type Parsed<T extends Options> = ReturnType<typeof parseArgs<{ options: T; allowPositionals: true; strict: true }>>;

/** Parses a command's arguments strictly; what is unknown, malformed or given twice becomes a UsageError. */
export function readArguments<T extends Options>(options: T, typed = TERMINAL.args): Parsed<T> {
  const args = withNegativeNumbers(options, typed);
  const config = { args, options, allowPositionals: true, strict: true } as const;
  try {
    const { tokens } = parseArgs({ ...config, tokens: true });
    const names = tokens.flatMap((token) => (token.kind === 'option' ? [token.name] : []));
    const twice = names.find((name, index) => names.indexOf(name) !== index);
    if (twice) throw new UsageError(`--${twice} is given twice`);
    return parseArgs(config);
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message.split('. ')[0] : String(error));
  }
}

/** `--ease -5`, which the parser takes for two options, as `--ease=-5`. */
function withNegativeNumbers(options: Options, args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const arg of args) {
    const last = joined.at(-1) ?? '';
    const takesValue = last.startsWith('--') && options[last.slice(2)]?.type === 'string';
    if (takesValue && /^-[\d.,]/.test(arg)) joined[joined.length - 1] = `${last}=${arg}`;
    else joined.push(arg);
  }
  return joined;
}

/** Options that say different things about one matter; whoever gives both is asked which it is. */
export function refuseBoth(values: object, first: string, ...others: readonly string[]): void {
  const given = (name: string) => (values as Record<string, unknown>)[name] !== undefined;
  const other = others.find(given);
  if (given(first) && other) throw new UsageError(`--${first} and --${other} do not go together: give one of them`);
}

/** Runs a command if its file is the script that was started, and not when a test imports it. */
export function runWhenStarted(name: string, moduleUrl: string, main: Main): void {
  const [, script] = process.argv;
  if (script && fileURLToPath(moduleUrl) === realpathSync(script)) void runCommand(name, main);
}

/** Runs a command on the terminal it was started from. */
export async function runCommand(name: string, main: Main): Promise<void> {
  // The reader of a pipe may stop early (`measure … | head`); that is no failure.
  process.stdout.on('error', (error: NodeJS.ErrnoException) =>
    process.exit(error.code === 'EPIPE' ? EXIT.done : EXIT.refused),
  );
  process.exitCode = await answerCall(name, main, TERMINAL);
}

/**
 * A command's exit code. A wrong call becomes one line and a failure inside one sentence, with --json also an object of
 * the shape of a refusal; a user never sees a stack trace.
 */
export async function answerCall(name: string, main: Main, terminal: Terminal): Promise<number> {
  try {
    return await main(terminal);
  } catch (error) {
    const message = shown(error instanceof Error ? error.message : String(error));
    const isWrongCall = error instanceof UsageError;
    if (terminal.args.includes('--json')) {
      const reason = { code: isWrongCall ? 'wrong-call' : 'failed', message };
      terminal.out(`${JSON.stringify({ outcome: 'refused', reason })}\n`);
    }
    if (isWrongCall) terminal.err(`${name}: ${message}\nTry: npm run ${name} -- --help\n`);
    else terminal.err(`${name}: something went wrong inside: ${message}\n`);
    return isWrongCall ? EXIT.usage : EXIT.refused;
  }
}

/** Controls (C0, C1), and marks that turn the direction of writing: a terminal obeys them instead of showing them. */
const OBEYED =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;

function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

/** Text of several lines that a terminal can only show, whatever names are in it; JSON stays the same JSON. */
export function printable(text: string): string {
  return text.replace(OBEYED, escaped);
}

/** A name within a line: it cannot begin a line of its own. */
export function shown(name: string): string {
  return printable(name.replace(/[\t\n]/g, escaped));
}

/** A number within a range, or a UsageError that names the option, the value and the range. */
export function numberOption(name: string, text: string | undefined, from: number, to: number): number | undefined {
  if (text === undefined) return undefined;
  const [, sign, size] = /^\s*([+−-]?)(.*)$/s.exec(text) ?? [];
  const value = (sign === '-' || sign === '−' ? -1 : 1) * (typedNumber(size ?? '') ?? Number.NaN);
  if (!(value >= from && value <= to))
    throw new UsageError(`--${name} ${text}: expected a number from ${from} to ${to}`);
  return value;
}

/** A number to count with, or a UsageError. */
export function wholeNumberOption(name: string, text: string | undefined, from: number, to: number) {
  const value = numberOption(name, text, from, to);
  if (value !== undefined && !Number.isInteger(value))
    throw new UsageError(`--${name} ${text}: expected a whole number from ${from} to ${to}`);
  return value;
}

/** A length in mm, or with its unit behind it (7.3cm, 3in), within a range in mm; or a UsageError. */
export function lengthOption(name: string, text: string | undefined, fromMm: number, toMm: number): number | undefined {
  if (text === undefined) return undefined;
  const mm = typedLengthMm(text, 'mm') ?? Number.NaN;
  if (!(mm >= fromMm && mm <= toMm)) throw new UsageError(`--${name} ${text}: expected ${fromMm} to ${toMm} mm`);
  return mm;
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
