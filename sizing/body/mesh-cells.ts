/** How many cells a round of `stitches` carries, and by how many stitches the skips must differ from `skip` in all. */
export interface CellCount {
  readonly cells: number;
  /** Stitches to pass over beyond (or, when negative, short of) `skip` per cell, summed over the round. */
  readonly extraSkips: number;
}

const FEWEST_CELLS = 4;

/**
 * Cells of one round: as many as divide evenly, else the even number nearest to it, so that the strap's ends find
 * cells opposite each other.
 */
export function cellsFor(stitches: number, skip: number): CellCount {
  const perCell = skip + 1;
  const exact = stitches / perCell;
  if (Number.isInteger(exact) && exact >= FEWEST_CELLS) return { cells: exact, extraSkips: 0 };
  const cells = Math.max(FEWEST_CELLS, 2 * Math.round(exact / 2));
  return { cells, extraSkips: stitches - cells * perCell };
}

export interface LoopCell {
  /** Width the container imposes: pi D / N. */
  readonly widthMm: number;
  /** Half of the loop, from its foot to where it is caught: b. */
  readonly barMm: number;
  /** x / 2b: netting's horizontal hanging ratio E1. */
  readonly openness: number;
  /** Height a round adds: v = sqrt(b^2 - (x/2)^2), zero when the cell does not go round the container. */
  readonly heightMm: number;
}

/**
 * A chain loop caught in its middle by the next round, on a rigid container (derived; the ratio of height to width is
 * the netting relation E2 = sqrt(1 - E1^2), published by FAO and Prado).
 */
export function loopCell(diameterMm: number, cellsAround: number, barMm: number): LoopCell {
  const widthMm = (Math.PI * diameterMm) / cellsAround;
  const openness = widthMm / (2 * barMm);
  return { widthMm, barMm, openness, heightMm: openness >= 1 ? 0 : barMm * hangingHeight(openness) };
}

/** E2 = sqrt(1 - E1^2). Source: FAO Catalogue of Small Scale Fishing Gear (1975); Prado, Fisherman's Workbook (1990). */
export function hangingHeight(openness: number): number {
  return Math.sqrt(1 - openness ** 2);
}

/** First guess of the half-loop of n chains: (n + 1) chain lengths over two; the catching stitch adds one (derived). */
export function loopBarMm(chains: number, chainLengthMm: number): number {
  return ((chains + 1) * chainLengthMm) / 2;
}

/**
 * Width a cell of its posts (two of a V-stitch) and the chains between opens to: a post is as wide as a chain is long
 * (derived). So a V-stitch with one chain is three stitches wide: it is worked over a multiple of 3 (common practice, no source).
 */
export function postCellWidthMm(chains: number, chainLengthMm: number, posts: 1 | 2): number {
  return (chains + posts) * chainLengthMm;
}

/**
 * Cells per turn in an endless spiral of loops: each catch sits midway between two catches of the round before, so a
 * round of N loops goes round N / (N + 1/2) of a turn and its start drifts back half a cell (derived).
 */
export function loopCellsPerTurn(cells: number): number {
  return cells + 0.5;
}
