import type { TablePoint, TableView } from '../reference/table-view.ts';

/**
 * Where the plan outline of a fabric with a half-round edge lies, from a point of its outline as seen.
 * The edge is a tube of radius ρ = thickness / 2 whose middle runs ρ above the table and ρ inside the plan outline.
 * Seen under elevation e, a sphere of radius ρ covers an ellipse ρ × ρ / sin e of the plane through its middle, so the
 * seen outline stands ρ (√(sin²φ + cos²φ / sin²e) − 1) outside the plan outline, φ between edge normal and line of
 * sight (derived; support function of an ellipse; tests/vision/flat-piece/silhouette.test.ts).
 * @param seen    point of the seen outline on the plane half a thickness above the table
 * @param normal  unit vector out of the work, in the table plane
 * @returns mm on the same plane
 */
export function planPoint(view: TableView, seen: TablePoint, normal: TablePoint, thicknessMm: number): TablePoint {
  const excessMm = silhouetteExcessMm(view, seen, normal, thicknessMm / 2);
  return [seen[0] - excessMm * normal[0], seen[1] - excessMm * normal[1]];
}

/** How far the seen outline stands outside the plan outline, mm. */
export function silhouetteExcessMm(
  { eyeMm }: TableView,
  [xMm, yMm]: TablePoint,
  normal: TablePoint,
  radiusMm: number,
): number {
  const dx = eyeMm[0] - xMm;
  const dy = eyeMm[1] - yMm;
  const dz = eyeMm[2] - radiusMm;
  const level = Math.hypot(dx, dy);
  if (level < 1e-9) return 0;
  const cosPhi = (dx * normal[0] + dy * normal[1]) / level;
  const sinSquare = (dz * dz) / (dz * dz + level * level);
  return radiusMm * (Math.sqrt(1 - cosPhi * cosPhi + (cosPhi * cosPhi) / sinSquare) - 1);
}
