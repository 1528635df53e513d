import { expect, test } from 'vitest';
import { containerFromTape } from '../../../sizing/container.ts';
import { type Asked, daySheet, daySheetCsv, type Piece } from '../../../web/stall/day-sheet.ts';
import type { FinishedCarrier } from '../../../web/stall/finished-carrier.ts';

const MORNING = Date.UTC(2026, 5, 6);

const net = (widestMm: number, price: number | null): FinishedCarrier => ({
  kind: 'net',
  madeFor: { baseDiameterMm: widestMm, widestMm, heightMm: 200 },
  coverHeightMm: 150,
  holds: [0.94, 1.08],
  relativeSd: 0.01,
  colour: '#2f6f5e',
  price,
  strapMm: null,
  reservedFor: '',
});
const piece = (label: string, widestMm: number, soldAt: number | null, price: number | null = 18): Piece => ({
  id: label,
  label,
  carrier: net(widestMm, price),
  soldAt,
});
const asked = (diameterMm: number, at = MORNING + 1): Asked => ({
  at,
  container: containerFromTape({ diameterMm, heightMm: 200 }),
});

test('a day counts what was sold since it began, and the money for it', () => {
  const pieces = [
    piece('kelp net', 70, MORNING + 3600_000),
    piece('coral net', 73, MORNING + 7200_000, 22),
    piece('gift', 73, MORNING + 7300_000, null),
    piece('yesterday', 70, MORNING - 1),
    piece('still here', 70, null),
  ];
  const { sold, money } = daySheet(pieces, [], MORNING);
  expect(sold.map(({ label }) => label)).toEqual(['kelp net', 'coral net', 'gift']);
  expect(money).toBe(40);
});

test('what was asked for and nothing fitted stands there once a size; what fitted or was asked yesterday does not', () => {
  const { missing } = daySheet(
    [piece('net', 70, null)],
    [asked(70), asked(95), asked(96), asked(60), asked(110, MORNING - 5)],
    MORNING,
  );
  expect(missing.map(({ container }) => container.maxDiameterMm.value)).toEqual([95, 60]);
});

test('a piece sold today was there to fit', () => {
  expect(daySheet([piece('net', 70, MORNING + 5)], [asked(70)], MORNING).missing).toEqual([]);
});

test('the table is comma-separated by RFC 4180 and takes no name for a formula', () => {
  const rows = daySheetCsv([piece('=2+3, "net"', 70, MORNING)], ['Piece', 'Kind']).split('\r\n');
  expect(rows[0]).toBe('"Piece","Kind"');
  expect(rows[1]).toBe('"\'=2+3, ""net""","net","#2f6f5e","70","200","18","2026-06-06T00:00:00.000Z"');
  expect(rows[2]).toBe('');
});
