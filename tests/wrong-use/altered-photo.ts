import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { Photo } from '../../vision/picture/photo.ts';

type Colour = readonly [red: number, green: number, blue: number];

/**
 * A picture made from a photo, its metadata lost.
 * @param sourceOf  where in the photo the light of a new pixel comes from; null for a pixel of the background
 */
export function redrawn(
  photo: Photo,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  sourceOf: (xPx: number, yPx: number) => ImagePoint | null,
  background: Colour = [245, 245, 245],
): Photo {
  const rgba = new Uint8Array(4 * widthPx * heightPx).fill(255);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const source = sourceOf(x, y);
      rgba.set(source ? lightAt(photo, source) : background, 4 * (y * widthPx + x));
    }
  }
  const aspect = Math.max(widthPx, heightPx) / Math.min(widthPx, heightPx);
  return { widthPx, heightPx, rgba, lens: { focal35Mm: null, looksCropped: Math.abs(aspect / (4 / 3) - 1) > 0.01 } };
}

/** The part of a photo from one corner to the other. */
export function cropped(photo: Photo, [left, top]: ImagePoint, [right, bottom]: ImagePoint): Photo {
  return redrawn(photo, { widthPx: right - left, heightPx: bottom - top }, (x, y) => [x + left, y + top]);
}

/** As a selfie camera keeps it. */
export function mirrored(photo: Photo): Photo {
  return redrawn(photo, photo, (x, y) => [photo.widthPx - 1 - x, y]);
}

/** As a lens without correction would show it: r' = r (1 + k₁ r²), r in half diagonals. */
export function bent(photo: Photo, k1: number): Photo {
  const [cx, cy] = [(photo.widthPx - 1) / 2, (photo.heightPx - 1) / 2];
  const half = Math.hypot(cx, cy);
  return redrawn(photo, photo, (x, y) => {
    const [u, v] = [(x - cx) / half, (y - cy) / half];
    const grown = 1 + k1 * (u * u + v * v);
    return [cx + half * u * grown, cy + half * v * grown];
  });
}

/**
 * Things put on the plane of a card in a photo, seen as the card is.
 * @param cornersPx  of the card in the photo; the first two at the ends of the side that is `alongMm` long
 * @param colourAt  colour at a place of the card's plane (mm from the card's centre), null where the photo stays
 */
export function painted(
  photo: Photo,
  cornersPx: CornersPx,
  [alongMm, acrossMm]: readonly [number, number],
  colourAt: (xMm: number, yMm: number) => Colour | null,
): Photo {
  const toPlane = inverse3(homography(cornersPx, alongMm, acrossMm));
  const rgba = Uint8Array.from(photo.rgba);
  for (let y = 0; y < photo.heightPx; y++) {
    for (let x = 0; x < photo.widthPx; x++) {
      const sum = [0, 0, 0];
      let covered = 0;
      for (const [dx, dy] of QUARTERS) {
        const colour = colourAt(...map(toPlane, x + dx, y + dy));
        if (!colour) continue;
        covered++;
        for (let k = 0; k < 3; k++) sum[k] += colour[k];
      }
      const at = 4 * (y * photo.widthPx + x);
      for (let k = 0; covered > 0 && k < 3; k++) rgba[at + k] = (sum[k] + (4 - covered) * rgba[at + k]) / 4;
    }
  }
  return { ...photo, rgba };
}

const QUARTERS = [
  [-0.25, -0.25],
  [0.25, -0.25],
  [-0.25, 0.25],
  [0.25, 0.25],
] as const;

/** The colour of a photo at a place of a card's plane, to move a thing about the table. */
export function colourOnPlane(
  photo: Photo,
  cornersPx: CornersPx,
  [alongMm, acrossMm]: readonly [number, number],
): (xMm: number, yMm: number) => Colour {
  const toPhoto = homography(cornersPx, alongMm, acrossMm);
  return (xMm, yMm) => lightAt(photo, map(toPhoto, xMm, yMm));
}

function lightAt({ rgba, widthPx, heightPx }: Photo, [x, y]: ImagePoint): Colour {
  const [u, v] = [Math.min(Math.max(x, 0), widthPx - 1.001), Math.min(Math.max(y, 0), heightPx - 1.001)];
  const [i, j] = [Math.floor(u), Math.floor(v)];
  const [a, b] = [u - i, v - j];
  const at = 4 * (j * widthPx + i);
  const below = at + 4 * widthPx;
  const mixed = (k: number) =>
    (1 - b) * ((1 - a) * rgba[at + k] + a * rgba[at + 4 + k]) +
    b * ((1 - a) * rgba[below + k] + a * rgba[below + 4 + k]);
  return [mixed(0), mixed(1), mixed(2)];
}

/** Photo from plane, row-major. Source: Heckbert, Fundamentals of Texture Mapping and Image Warping (1989), 2.2.3. */
function homography([p0, p1, p2, p3]: CornersPx, alongMm: number, acrossMm: number): readonly number[] {
  const [dx1, dx2, sx] = [p1[0] - p2[0], p3[0] - p2[0], p0[0] - p1[0] + p2[0] - p3[0]];
  const [dy1, dy2, sy] = [p1[1] - p2[1], p3[1] - p2[1], p0[1] - p1[1] + p2[1] - p3[1]];
  const determinant = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / determinant;
  const h = (dx1 * sy - sx * dy1) / determinant;
  const unitSquare = [
    p1[0] - p0[0] + g * p1[0],
    p3[0] - p0[0] + h * p3[0],
    p0[0],
    p1[1] - p0[1] + g * p1[1],
    p3[1] - p0[1] + h * p3[1],
    p0[1],
    g,
    h,
    1,
  ];
  return [0, 3, 6].flatMap((row) => {
    const [a, b, c] = unitSquare.slice(row, row + 3);
    return [a / alongMm, b / acrossMm, a / 2 + b / 2 + c];
  });
}

function map(m: readonly number[], x: number, y: number): [number, number] {
  const w = m[6] * x + m[7] * y + m[8];
  return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
}

/** Up to a factor, which a homography does not mind. */
function inverse3([a, b, c, d, e, f, g, h, i]: readonly number[]): readonly number[] {
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ];
}
