import { BufferAttribute, BufferGeometry } from 'three';

/** Radius and height of points up the half section, mm. */
export type Section = readonly (readonly [rMm: number, zMm: number])[];

const AROUND = 72;

/** Thickness and depth of the lip that an open container shows, mm. */
const LIP_MM = [1.6, 5] as const;

/** The container turned from its half section, with normals: closed at its base, and at its top unless it is open. */
export function turnedSolid(section: Section, isOpen: boolean): BufferGeometry {
  const [rimMm, topMm] = section[section.length - 1];
  const inner = Math.max(0, rimMm - LIP_MM[0]);
  const lip: Section = [
    [inner, topMm],
    [inner, topMm - LIP_MM[1]],
  ];
  const points = [[0, section[0][1]] as const, ...section, ...(isOpen ? lip : [[0, topMm] as const])];
  const position: number[] = [];
  const normal: number[] = [];
  const index: number[] = [];
  // each piece has its own normals: rims stay sharp, and even walls look even since their pieces agree
  for (let k = 1; k < points.length; k++) {
    const [[r0, z0], [r1, z1]] = [points[k - 1], points[k]];
    if (Math.hypot(r1 - r0, z1 - z0) < 1e-6) continue;
    const ends = [normalAt(points, k - 1, k), normalAt(points, k, k)];
    const first = position.length / 3;
    for (let a = 0; a <= AROUND; a++) {
      const [c, s] = [Math.cos((2 * Math.PI * a) / AROUND), Math.sin((2 * Math.PI * a) / AROUND)];
      position.push(r0 * c, r0 * s, z0, r1 * c, r1 * s, z1);
      for (const [nr, nz] of ends) normal.push(nr * c, nr * s, nz);
      if (a > 0) {
        const v = first + 2 * a;
        index.push(v - 2, v, v - 1, v, v + 1, v - 1);
      }
    }
  }
  const solid = new BufferGeometry();
  solid.setAttribute('position', new BufferAttribute(new Float32Array(position), 3));
  solid.setAttribute('normal', new BufferAttribute(new Float32Array(normal), 3));
  solid.setIndex(index);
  return solid;
}

/** Normal of the pieces that meet at point k, or of piece `piece` alone where they meet at an edge. */
function normalAt(points: Section, k: number, piece: number): readonly [number, number] {
  const own = pieceNormal(points, piece);
  const other = k === piece ? pieceNormal(points, piece + 1) : pieceNormal(points, piece - 1);
  if (!own || !other || own[0] * other[0] + own[1] * other[1] < 0.6) return own ?? [1, 0];
  const length = Math.hypot(own[0] + other[0], own[1] + other[1]);
  return [(own[0] + other[0]) / length, (own[1] + other[1]) / length];
}

function pieceNormal(points: Section, piece: number): readonly [number, number] | null {
  if (piece < 1 || piece >= points.length) return null;
  const [dr, dz] = [points[piece][0] - points[piece - 1][0], points[piece][1] - points[piece - 1][1]];
  const length = Math.hypot(dr, dz);
  return length < 1e-6 ? null : [dz / length, -dr / length];
}

/** A square on the table, `halfMm` to each side. */
export function tableTop(zMm: number, halfMm: number): BufferGeometry {
  const table = new BufferGeometry();
  const corners = [-halfMm, -halfMm, zMm, halfMm, -halfMm, zMm, halfMm, halfMm, zMm, -halfMm, halfMm, zMm];
  table.setAttribute('position', new BufferAttribute(new Float32Array(corners), 3));
  table.setAttribute('normal', new BufferAttribute(new Float32Array([0, 0, 1, 0, 0, 1, 0, 0, 1, 0, 0, 1]), 3));
  table.setIndex([0, 1, 2, 0, 2, 3]);
  return table;
}
