import { FABRIC_STITCHES, type FabricStitch } from '../stitches.ts';

/** Cells of a net as a maker counts them in her own pattern. */
export interface OwnMesh {
  /** `loop`: chain loops caught in their middle; `post`: tall stitches with chains between; `v-stitch`: pairs of them. */
  readonly kind: 'loop' | 'post' | 'v-stitch';
  readonly cells: number;
  readonly chains: number;
  /** Stitch of the posts; null for loops. */
  readonly postStitch: FabricStitch | null;
  /** Rounds of cells; null when she did not say. */
  readonly rounds: number | null;
}

/** A maker's rounds for one container, as short as she writes them. */
export interface OwnPattern {
  /** Stitches after each round of the base. */
  readonly baseCounts: readonly number[];
  /** US name; null when she did not say. */
  readonly stitch: FabricStitch | null;
  /** Plain rounds between base and mesh; of a closed sleeve, all of its wall. */
  readonly wallRounds: number | null;
  readonly mesh: OwnMesh | null;
  readonly bandRounds: number | null;
  readonly strapMm: number | null;
}

export type NotationTrouble =
  | 'nothing-written'
  | 'not-understood'
  | 'said-twice'
  | 'base-missing'
  | 'count-out-of-range'
  | 'base-shrinks'
  | 'base-more-than-doubles'
  | 'rounds-without-cells'
  | 'more-cells-than-stitches';

/** Where the notation stops making sense: 0-based place of `found` in the text. */
export interface NotationError {
  readonly code: NotationTrouble;
  readonly at: number;
  readonly found: string;
}

export type ParsedPattern =
  | { readonly outcome: 'read'; readonly pattern: OwnPattern }
  | { readonly outcome: 'not-read'; readonly error: NotationError };

const MOST_STITCHES = 999;
const MOST_ROUNDS = 99;
const MM_PER_UNIT = { mm: 1, cm: 10, in: 25.4 } as const;

class Unreadable extends Error {
  constructor(readonly error: NotationError) {
    super(error.code);
  }
}

/** One part of the text between separators, with its place. */
interface Piece {
  readonly text: string;
  readonly at: number;
}

/**
 * Reads a maker's own rounds. Parts stand on lines of their own or between semicolons, in any order:
 *
 *     pattern = part { (newline | ";") part }
 *     part    = base | wall | mesh | rounds | band | strap
 *     base    = [ "base" ] count { "," count } [ stitch ]
 *     wall    = "wall" number
 *     mesh    = number "x" ( "ch" number | [ "v" ] stitch "ch" number )
 *     rounds  = number "rounds"
 *     band    = "band" number
 *     strap   = "strap" length ( "mm" | "cm" | "in" )
 *     stitch  = "sc" | "hdc" | "dc" | "tr"                     US names
 *
 * `12 x ch5` are chain loops, `12 x dc ch2` posts with chains between, `12 x v dc ch1` V-stitches; a bare part after a comma, as in
 * `12 x ch5, 14 rounds`, counts as one of its own.
 */
export function parseOwnPattern(text: string): ParsedPattern {
  try {
    return { outcome: 'read', pattern: patternOf(text) };
  } catch (error) {
    if (error instanceof Unreadable) return { outcome: 'not-read', error: error.error };
    throw error;
  }
}

function patternOf(text: string): OwnPattern {
  const said = new Map<string, Partial<OwnPattern> & { readonly meshRounds?: number }>();
  const pieces = piecesOf(text);
  if (pieces.length === 0) fail('nothing-written', { text: '', at: 0 });
  for (const piece of pieces) {
    const [name, value] = partOf(piece);
    if (said.has(name)) fail('said-twice', piece);
    said.set(name, value);
  }
  const all = Object.assign({}, ...said.values()) as Partial<OwnPattern> & { meshRounds?: number };
  const last = pieces[pieces.length - 1];
  if (!all.baseCounts) return fail('base-missing', { text: '', at: last.at + last.text.length });
  const rounds = all.meshRounds ?? null;
  if (rounds !== null && !all.mesh) fail('rounds-without-cells', pieceNamed(pieces, /rounds?$/));
  if (all.mesh && all.mesh.cells > all.baseCounts[all.baseCounts.length - 1]) {
    fail('more-cells-than-stitches', pieceNamed(pieces, /x/));
  }
  return {
    baseCounts: all.baseCounts,
    stitch: all.stitch ?? null,
    wallRounds: all.wallRounds ?? null,
    mesh: all.mesh ? { ...all.mesh, rounds } : null,
    bandRounds: all.bandRounds ?? null,
    strapMm: all.strapMm ?? null,
  };
}

/** Semicolons and line ends part; so does a comma before anything but a bare count. */
function piecesOf(text: string): Piece[] {
  const pieces: Piece[] = [];
  const part = /[^;\n]+?(?=[;\n]|$|,\s*(?:\d+\s*(?:x|×|rounds?)|[a-z]))/giy;
  let at = 0;
  while (at < text.length) {
    if (/[;\n,\s]/.test(text[at])) {
      at++;
      continue;
    }
    part.lastIndex = at;
    const found = part.exec(text)?.[0] ?? text.slice(at);
    pieces.push({ text: found.trimEnd(), at });
    at += found.length;
  }
  return pieces;
}

function pieceNamed(pieces: readonly Piece[], pattern: RegExp): Piece {
  return pieces.find(({ text }) => pattern.test(text)) ?? pieces[0];
}

const STITCH = FABRIC_STITCHES.join('|');
const BASE = new RegExp(`^(?:base\\s+)?(\\d+(?:\\s*,\\s*\\d+)*)(?:\\s+(${STITCH}))?$`, 'i');
const MESH = new RegExp(`^(\\d+)\\s*[x×]\\s*(?:(?:(v)\\s+)?(${STITCH})\\s+)?ch\\s*-?(\\d+)$`, 'i');

type Part = readonly [name: string, value: Partial<OwnPattern> & { readonly meshRounds?: number }];

function partOf(piece: Piece): Part {
  const { text } = piece;
  const base = BASE.exec(text);
  if (base) return ['base', { baseCounts: baseCounts(base[1], piece), stitch: stitchNamed(base[2]) }];
  const mesh = MESH.exec(text);
  if (mesh) {
    const [isV, postStitch] = [mesh[2] !== undefined, stitchNamed(mesh[3])];
    const cells = within(mesh[1], 3, MOST_STITCHES, piece);
    const chains = within(mesh[4], 1, 15, piece);
    return [
      'mesh',
      { mesh: { kind: !postStitch ? 'loop' : isV ? 'v-stitch' : 'post', cells, chains, postStitch, rounds: null } },
    ];
  }
  const rounds = /^(\d+)\s*rounds?$/i.exec(text);
  if (rounds) return ['rounds', { meshRounds: within(rounds[1], 1, MOST_ROUNDS, piece) }];
  const wall = /^wall\s+(\d+)$/i.exec(text);
  if (wall) return ['wall', { wallRounds: within(wall[1], 0, MOST_ROUNDS, piece) }];
  const band = /^band\s+(\d+)$/i.exec(text);
  if (band) return ['band', { bandRounds: within(band[1], 0, 12, piece) }];
  const strap = /^strap\s+(\d+(?:[.,]\d+)?)\s*(mm|cm|in)$/i.exec(text);
  if (strap) {
    const mm = Number(strap[1].replace(',', '.')) * MM_PER_UNIT[strap[2].toLowerCase() as keyof typeof MM_PER_UNIT];
    if (mm < 50 || mm > 2500) fail('count-out-of-range', piece);
    return ['strap', { strapMm: mm }];
  }
  return fail('not-understood', piece);
}

function baseCounts(list: string, piece: Piece): number[] {
  const counts = list.split(',').map((count) => within(count.trim(), 3, MOST_STITCHES, piece));
  counts.forEach((count, index) => {
    if (index === 0) return;
    if (count < counts[index - 1]) fail('base-shrinks', { ...piece, text: String(count) });
    if (count > 2 * counts[index - 1]) fail('base-more-than-doubles', { ...piece, text: String(count) });
  });
  return counts;
}

function stitchNamed(name: string | undefined): FabricStitch | null {
  return (name?.toLowerCase() as FabricStitch | undefined) ?? null;
}

function within(digits: string, least: number, most: number, piece: Piece): number {
  const value = Number(digits);
  if (value < least || value > most) fail('count-out-of-range', { ...piece, text: digits });
  return value;
}

function fail(code: NotationTrouble, { text, at }: Piece): never {
  throw new Unreadable({ code, at, found: text });
}

/** The shortest text that reads back as the same pattern. */
export function writeOwnPattern(pattern: OwnPattern): string {
  const { baseCounts: counts, stitch, wallRounds, mesh, bandRounds, strapMm } = pattern;
  const lines = [counts.join(', ') + (stitch ? ` ${stitch}` : '')];
  if (wallRounds !== null) lines.push(`wall ${wallRounds}`);
  if (mesh) {
    lines.push(
      `${mesh.cells} x ${mesh.kind === 'v-stitch' ? 'v ' : ''}${mesh.postStitch ? `${mesh.postStitch} ` : ''}ch${mesh.chains}`,
    );
    if (mesh.rounds !== null) lines.push(`${mesh.rounds} rounds`);
  }
  if (bandRounds !== null) lines.push(`band ${bandRounds}`);
  if (strapMm !== null) lines.push(`strap ${strapMm} mm`);
  return lines.join('; ');
}
