import type { Container } from '../../sizing/container.ts';
import { SURE } from './answer.ts';
import type { FinishedCarrier } from './finished-carrier.ts';
import { stockFit } from './which-fits.ts';
import type { YarnToBuy } from './yarn-to-buy.ts';

export interface Piece {
  readonly id: string;
  readonly label: string;
  readonly carrier: FinishedCarrier;
  readonly soldAt: number | null;
}

/** A container that somebody asked about. */
export interface Asked {
  readonly at: number;
  readonly container: Container;
}

export interface DaySheet {
  readonly sold: readonly Piece[];
  /** Of the pieces sold that have a price. */
  readonly money: number;
  /** Asked for today and fitted by nothing that hangs or was sold today; sizes alike stand once. */
  readonly missing: readonly Asked[];
}

/** Girths closer than this ask for the same piece: about what one carrier holds either way. */
const ALIKE_SHARE = 0.04;

/** What a market day came to, from what was sold and measured since it began. */
export function daySheet(pieces: readonly Piece[], asked: readonly Asked[], dayBeganAt: number): DaySheet {
  const sold = pieces.filter(({ soldAt }) => soldAt !== null && soldAt >= dayBeganAt);
  const there = pieces.filter(({ soldAt }) => soldAt === null || soldAt >= dayBeganAt);
  const missing: Asked[] = [];
  for (const each of asked) {
    if (each.at < dayBeganAt || there.some(({ carrier }) => stockFit(carrier, each.container).probability >= SURE))
      continue;
    if (!missing.some((other) => isAlike(other.container, each.container))) missing.push(each);
  }
  return { sold, money: sold.reduce((sum, { carrier }) => sum + (carrier.price ?? 0), 0), missing };
}

function isAlike(a: Container, b: Container): boolean {
  return Math.abs(Math.log(a.maxDiameterMm.value / b.maxDiameterMm.value)) < ALIKE_SHARE;
}

/** Midnight of the day, where the stall stands. */
export function dayBegan(now: number): number {
  return new Date(now).setHours(0, 0, 0, 0);
}

/** One row a piece after RFC 4180: quoted, CRLF; a sheet must not take a name for a formula, so such names get a quote. */
export function daySheetCsv(sold: readonly Piece[], columns: readonly string[]): string {
  const rows = sold.map(({ label, carrier, soldAt }) => [
    label,
    carrier.kind,
    carrier.colour ?? '',
    String(Math.round(carrier.madeFor.widestMm)),
    String(Math.round(carrier.madeFor.heightMm)),
    carrier.price === null ? '' : String(carrier.price),
    soldAt === null ? '' : new Date(soldAt).toISOString(),
  ]);
  return csv([columns, ...rows]);
}

/** The yarn to buy as a second table under the first, an empty line between. */
export function yarnCsv(
  yarn: readonly YarnToBuy[],
  columns: readonly string[],
  nameOf: (colour: string) => string,
): string {
  if (yarn.length === 0) return '';
  const rows = yarn.map(({ colour, pieces, grams, balls }) => [
    nameOf(colour),
    String(pieces),
    String(Math.round(grams.value)),
    String(balls),
  ]);
  return `\r\n${csv([columns, ...rows])}`;
}

function csv(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

function cell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return `"${safe.replaceAll('"', '""')}"`;
}
