import { describe, expect, it } from 'vitest';
import { cheapestPath } from '../../../vision/outline/cheapest-path.ts';
import { halfOutlineOfCut, wholeOutline } from '../../../vision/outline/half-outline.ts';
import { type CutEvidence, symmetricCut } from '../../../vision/outline/symmetric-cut.ts';
import { smoothWeighted } from '../../../vision/outline/weighted-smoothing.ts';

const COLUMNS = 60;
const ROWS = 50;

/** Evidence for a shape given by its half width in each row about column 29.5. */
function evidenceFor(
  halfWidth: (row: number) => number,
  extra: (column: number, row: number) => boolean = () => false,
) {
  const inside = new Float32Array(COLUMNS * ROWS);
  for (let i = 0; i < inside.length; i++) {
    const [column, row] = [i % COLUMNS, Math.floor(i / COLUMNS)];
    const isInside = Math.abs(column - 29.5) < halfWidth(row) || extra(column, row);
    inside[i] = isInside ? 0.5 : -0.5;
  }
  const none = new Float32Array(COLUMNS * ROWS);
  return { columns: COLUMNS, rows: ROWS, inside, edgeLeft: none, edgeAbove: none } satisfies CutEvidence;
}

const bottle = (row: number) => (row < 8 || row >= 42 ? 0 : row < 18 ? 6 : 14);

describe('symmetricCut', () => {
  it('cuts a bottle out of clear evidence exactly, neck and all', () => {
    const cut = symmetricCut(evidenceFor(bottle), 29.5, { boundary: 0.2 });
    expect(cut?.firstRow).toBe(8);
    expect(cut?.halfWidths).toEqual(Array.from({ length: 34 }, (_, i) => bottle(8 + i)));
  });

  it('is not drawn aside by something that touches one side only', () => {
    const beside = (column: number, row: number) => column >= 43 && column < 50 && row > 20 && row < 35;
    const cut = symmetricCut(evidenceFor(bottle, beside), 29.5, { boundary: 0.2 });
    expect(cut?.halfWidths).toEqual(Array.from({ length: 34 }, (_, i) => bottle(8 + i)));
  });

  it('finds nothing where all speaks against a container', () => {
    expect(
      symmetricCut(
        evidenceFor(() => 0),
        29.5,
        { boundary: 0.2 },
      ),
    ).toBeNull();
  });

  it('takes the part that holds the rows it must cover, even where another part is larger', () => {
    const twoParts = (row: number) => (row < 4 || row === 14 || row >= 40 ? 0 : row < 14 ? 6 : 14);
    const evidence = evidenceFor(twoParts);
    expect(symmetricCut(evidence, 29.5, { boundary: 3 })?.firstRow).toBe(15);
    const covering = symmetricCut(evidence, 29.5, { boundary: 3, mustCover: [8, 10] });
    expect(covering?.firstRow).toBeLessThanOrEqual(8);
  });

  it('becomes an outline that runs clockwise and closes on the axis', () => {
    const cut = symmetricCut(evidenceFor(bottle), 29.5, { boundary: 0.2 });
    if (!cut) throw new Error('no cut');
    const outline = wholeOutline(halfOutlineOfCut(cut, 1));
    expect(outline[0][0]).toBe(29.5);
    const xs = outline.map(([x]) => x);
    expect(Math.max(...xs)).toBeCloseTo(29.5 + 14, 0);
    expect(Math.min(...xs)).toBeCloseTo(29.5 - 14, 0);
  });
});

describe('cheapestPath', () => {
  it('follows the cheap places and crosses a gap the short way', () => {
    const costs = new Float32Array(10 * 7).fill(1);
    for (let i = 0; i < 10; i++) if (i < 4 || i > 5) costs[i * 7 + (i < 4 ? 2 : 3)] = 0;
    const path = cheapestPath(costs, 10, 7, 0.1, 2);
    expect([...path.slice(0, 4)]).toEqual([2, 2, 2, 2]);
    expect([...path.slice(6)]).toEqual([3, 3, 3, 3]);
    expect(path[4] >= 2 && path[5] <= 3).toBe(true);
  });
});

describe('smoothWeighted', () => {
  it('bridges a gap without weights in a straight line', () => {
    const values = [0, 1, 2, 9, 9, 9, 6, 7, 8];
    const weights = [1, 1, 1, 0, 0, 0, 1, 1, 1];
    smoothWeighted(values, weights, 5, 1e-9).forEach((z, i) => {
      expect(z).toBeCloseTo(i, 4);
    });
  });

  it('is zero where nothing is known', () => {
    expect([...smoothWeighted([3, 3, 3, 3], [0, 0, 0, 0], 2)]).toEqual([0, 0, 0, 0]);
  });
});
