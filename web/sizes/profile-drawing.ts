import type { Container, ProfilePoint } from '../../sizing/container.ts';

/** A place in the drawing, SVG units, y down. */
export interface DrawnPoint {
  readonly x: number;
  readonly y: number;
}

/** The container's side view to scale, standing on the line `groundY`, its axis at `axisX`. */
export interface ProfileDrawing {
  readonly unitsPerMm: number;
  readonly axisX: number;
  readonly groundY: number;
  readonly topY: number;
  /** Closed outline as an SVG path. */
  readonly path: string;
  readonly widest: { readonly y: number; readonly halfWidth: number };
  readonly base: { readonly halfWidth: number };
  /** Radius in drawing units at a height above the table. */
  readonly halfWidthAt: (zMm: number) => number;
}

interface Frame {
  readonly axisX: number;
  readonly topY: number;
  readonly groundY: number;
  readonly widestAllowed: number;
}

/** Fits the side view into the frame, one scale for both directions. */
export function profileDrawing(container: Container, frame: Frame): ProfileDrawing {
  const { axisX, groundY } = frame;
  const heightMm = container.heightMm.value;
  const unitsPerMm = Math.min((groundY - frame.topY) / heightMm, frame.widestAllowed / container.maxDiameterMm.value);
  const wall = wallOf(container);
  const y = (zMm: number) => groundY - zMm * unitsPerMm;
  const right = wall.map(({ zMm, radiusMm }) => ({ x: axisX + radiusMm * unitsPerMm, y: y(zMm) }));
  const left = right.map((point) => ({ x: 2 * axisX - point.x, y: point.y })).reverse();
  const widest = widestPlace(wall, heightMm);
  return {
    unitsPerMm,
    axisX,
    groundY,
    topY: y(heightMm),
    path: `M${[...right, ...left].map((point) => `${round(point.x)} ${round(point.y)}`).join('L')}Z`,
    widest: { y: y(widest.zMm), halfWidth: widest.radiusMm * unitsPerMm },
    base: { halfWidth: (container.baseDiameterMm.value / 2) * unitsPerMm },
    halfWidthAt: (zMm) => radiusAtMm(wall, zMm) * unitsPerMm,
  };
}

/** Straight walls are as wide everywhere: their dimension is drawn where there is room, near the middle. */
const AS_WIDE = 0.995;
const SAMPLES = 60;

function widestPlace(wall: readonly WallPoint[], heightMm: number): WallPoint {
  const sampled = Array.from({ length: SAMPLES + 1 }, (_, index) => {
    const zMm = (index / SAMPLES) * heightMm;
    return { zMm, radiusMm: radiusAtMm(wall, zMm) };
  });
  const widestMm = Math.max(...sampled.map((point) => point.radiusMm));
  const candidates = sampled.filter((point) => point.radiusMm >= AS_WIDE * widestMm);
  const offMiddle = (point: WallPoint) => Math.abs(point.zMm - 0.45 * heightMm);
  return candidates.reduce((best, point) => (offMiddle(point) < offMiddle(best) ? point : best));
}

type WallPoint = Pick<ProfilePoint, 'zMm' | 'radiusMm'>;

/** Right half of the outline from the table up: flat base, rounded edge, wall, top. */
function wallOf(container: Container): WallPoint[] {
  const baseRadiusMm = container.baseDiameterMm.value / 2;
  const heightMm = container.heightMm.value;
  const edgeMm = Math.min(container.baseEdgeRadiusMm?.value ?? 0, baseRadiusMm / 2, heightMm / 4);
  const points = [{ zMm: 0, radiusMm: baseRadiusMm - edgeMm }];
  for (let step = 1; step <= 4 && edgeMm > 0; step++) {
    const angle = (step / 4) * (Math.PI / 2);
    points.push({ zMm: edgeMm * (1 - Math.cos(angle)), radiusMm: baseRadiusMm - edgeMm * (1 - Math.sin(angle)) });
  }
  points.push(...container.profile.filter(({ zMm, radiusMm }) => zMm > edgeMm && zMm < heightMm && radiusMm > 0));
  points.push({ zMm: heightMm, radiusMm: container.profile[container.profile.length - 1].radiusMm });
  return points;
}

function radiusAtMm(points: readonly WallPoint[], zMm: number): number {
  const above = points.findIndex((point) => point.zMm >= zMm);
  if (above <= 0) return points[above === 0 ? 0 : points.length - 1].radiusMm;
  const [low, high] = [points[above - 1], points[above]];
  const share = high.zMm === low.zMm ? 1 : (zMm - low.zMm) / (high.zMm - low.zMm);
  return low.radiusMm + share * (high.radiusMm - low.radiusMm);
}

function round(value: number): string {
  return value.toFixed(1);
}
