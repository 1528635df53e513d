import type { Segment } from './line-segments.ts';

const TILES_ALONG_LONG_SIDE = 8;
const QUOTA_PER_TILE = 26;
const QUOTA = 360;
/** Beyond this, longer is no better: a table's edge is not more card-like than a card's. */
const LONG_ENOUGH_PX = 353;
const STRONG_ENOUGH = 8;

/**
 * The most promising segments, with a quota per tile of the picture, so that a cutting mat's grid or a chequered cloth
 * cannot crowd out the one card that lies on it.
 */
export function selectSegments(segments: readonly Segment[], widthPx: number, heightPx: number): Segment[] {
  const tilePx = Math.max(widthPx, heightPx) / TILES_ALONG_LONG_SIDE;
  const tilesAcross = Math.ceil(widthPx / tilePx);
  const inTile = new Map<number, number>();
  const ranked = segments.map((s) => ({ s, rank: rank(s) })).sort((a, b) => b.rank - a.rank);
  const selected: Segment[] = [];
  for (const { s } of ranked) {
    const column = Math.floor((s.x0 + s.x1) / 2 / tilePx);
    const row = Math.floor((s.y0 + s.y1) / 2 / tilePx);
    const tile = row * tilesAcross + column;
    const already = inTile.get(tile) ?? 0;
    if (already >= QUOTA_PER_TILE) continue;
    inTile.set(tile, already + 1);
    selected.push(s);
    if (selected.length === QUOTA) break;
  }
  return selected;
}

function rank(s: Segment): number {
  return Math.min(s.length * s.covered, LONG_ENOUGH_PX) ** 0.7 * Math.min(s.strength, STRONG_ENOUGH) ** 0.5;
}
