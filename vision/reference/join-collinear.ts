import { type Segment, segment } from './line-segments.ts';

/** Two pieces belong to one line when all ends lie this close to it, and directions agree to 2 degrees. */
const MAX_OFFSET_PX = 1.6;
const MAX_SINE = 0.05;
/** A gap may be this share of what has been seen of the line so far: a finger, a band, a run of stripes. */
const MAX_GAP_SHARE = 0.6;
const MIN_GAIN = 1.08;

/**
 * The segments plus chains of collinear ones: stripes that run into a card's border, glare and fingers cut the border
 * into many pieces, and only their chain is as long as a side.
 */
export function joinCollinear(segments: readonly Segment[]): Segment[] {
  const joined: Segment[] = [];
  for (const base of segments) {
    const chain = chainAlong(base, segments);
    if (chain) joined.push(chain);
  }
  return [...segments, ...withoutTwins(joined)];
}

function chainAlong(base: Segment, segments: readonly Segment[]): Segment | null {
  const pieces: { from: number; to: number; strength: number; length: number }[] = [];
  for (const other of segments) {
    if (Math.abs(other.ux * base.uy - other.uy * base.ux) > MAX_SINE) continue;
    const a = across(base, other.x0, other.y0);
    const b = across(base, other.x1, other.y1);
    // a long base predicts well far away, a short one does not
    const reach = MAX_OFFSET_PX + 0.004 * Math.max(0, Math.abs(along(base, other.x0, other.y0)) - base.length);
    if (Math.abs(a) > reach || Math.abs(b) > reach) continue;
    const t0 = along(base, other.x0, other.y0);
    const t1 = along(base, other.x1, other.y1);
    pieces.push({ from: Math.min(t0, t1), to: Math.max(t0, t1), strength: other.strength, length: other.length });
  }
  if (pieces.length < 2) return null;
  pieces.sort((a, b) => a.from - b.from);
  let from = 0;
  let to = base.length;
  let covered = base.length;
  let strength = base.strength * base.length;
  for (let grown = true; grown; ) {
    grown = false;
    for (const piece of pieces) {
      const beyond = piece.from - to;
      const before = from - piece.to;
      const gap = Math.max(beyond, before);
      const outside = Math.max(0, piece.to - to) + Math.max(0, from - piece.from);
      if (outside < 1 || gap > MAX_GAP_SHARE * covered) continue;
      from = Math.min(from, piece.from);
      to = Math.max(to, piece.to);
      covered += Math.min(piece.length, outside);
      strength += piece.strength * Math.min(piece.length, outside);
      grown = true;
    }
  }
  if (to - from < MIN_GAIN * base.length) return null;
  const { x0, y0, ux, uy } = base;
  return segment(
    x0 + from * ux,
    y0 + from * uy,
    x0 + to * ux,
    y0 + to * uy,
    strength / covered,
    Math.min(1, covered / (to - from)),
  );
}

/** Chains started from different pieces of one line come out alike: keep the first of each. */
function withoutTwins(segments: readonly Segment[]): Segment[] {
  const kept: Segment[] = [];
  for (const s of segments) {
    const twin = kept.some((k) => endsWithin(k, s.x0, s.y0, s.x1, s.y1) || endsWithin(k, s.x1, s.y1, s.x0, s.y0));
    if (!twin) kept.push(s);
  }
  return kept;
}

function endsWithin(s: Segment, x0: number, y0: number, x1: number, y1: number): boolean {
  return Math.abs(s.x0 - x0) + Math.abs(s.y0 - y0) < 5 && Math.abs(s.x1 - x1) + Math.abs(s.y1 - y1) < 5;
}

function along(s: Segment, x: number, y: number): number {
  return (x - s.x0) * s.ux + (y - s.y0) * s.uy;
}

function across(s: Segment, x: number, y: number): number {
  return (x - s.x0) * s.uy - (y - s.y0) * s.ux;
}
