import { basename } from 'node:path';
import sharp from 'sharp';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import { shown } from './command-line.ts';
import type { MeasureLine } from './measure-line.ts';
import type { Truth } from './truth.ts';

const TILE_PX = 480;
const COLUMNS = 4;

/**
 * Writes one JPEG with a tile per photo: found card and outline in colour, the true outline thin and white.
 * The card's face is painted over, so a sheet can be shown to anybody. A photo that cannot be read is a grey tile.
 * @returns false when the file cannot be written
 */
export async function writeContactSheet(
  lines: readonly MeasureLine[],
  truths: readonly Truth[],
  target: string,
): Promise<boolean> {
  const tiles = await Promise.all(lines.map((line, k) => tile(line, truths[k]).catch(() => greyTile(line))));
  const rows = Math.ceil(tiles.length / COLUMNS);
  return sharp({
    create: { width: COLUMNS * TILE_PX, height: rows * TILE_PX, channels: 3, background: '#222' },
    limitInputPixels: false,
  })
    .composite(
      tiles.map((input, k) => ({ input, left: (k % COLUMNS) * TILE_PX, top: Math.floor(k / COLUMNS) * TILE_PX })),
    )
    .jpeg({ quality: 85 })
    .toFile(target)
    .then(() => true)
    .catch(() => false);
}

async function tile(line: MeasureLine, truth: Truth): Promise<Buffer> {
  const picture = sharp(line.photo).rotate();
  const { data, info } = await picture
    .resize(TILE_PX, TILE_PX, { fit: 'inside' })
    .toBuffer({ resolveWithObject: true });
  const { width: fullWidth, height: fullHeight, orientation = 1 } = await sharp(line.photo).metadata();
  const scale = info.width / (orientation >= 5 ? fullHeight : fullWidth);
  const path = (points: readonly ImagePoint[]) =>
    points.map(([x, y]) => `${((x + 0.5) * scale).toFixed(1)},${((y + 0.5) * scale).toFixed(1)}`).join(' ');
  const card = line.card.cornersPx ?? truth.cornersPx;
  const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="${info.width}" height="${info.height}">
    ${truth.cornersPx ? `<polygon points="${path(truth.cornersPx)}" fill="#888" stroke="none"/>` : ''}
    ${card ? `<polygon points="${path(card)}" fill="#888" stroke="${line.card.cornersPx ? '#0c6' : '#c33'}" stroke-width="1.5"/>` : ''}
    ${truth.outlinePx ? `<polygon points="${path(truth.outlinePx)}" fill="none" stroke="#fff" stroke-width="0.8"/>` : ''}
    ${line.outlinePx.length > 2 ? `<polygon points="${path(line.outlinePx)}" fill="none" stroke="#f60" stroke-width="1.5"/>` : ''}
    ${label(line, info.width)}
  </svg>`;
  return sharp(data)
    .composite([{ input: Buffer.from(drawing) }])
    .jpeg()
    .toBuffer();
}

function greyTile(line: MeasureLine): Promise<Buffer> {
  const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="${TILE_PX}" height="${TILE_PX}">
    <rect width="${TILE_PX}" height="${TILE_PX}" fill="#666"/>${label(line, TILE_PX)}</svg>`;
  return sharp(Buffer.from(drawing)).jpeg().toBuffer();
}

function label(line: MeasureLine, widthPx: number): string {
  const text = shown(`${basename(line.photo)} ${line.reason?.code ?? line.arrangement}`).replace(/[<&]/g, '');
  return `<rect width="${widthPx}" height="18" fill="#000" fill-opacity="0.7"/>
    <text x="4" y="13" font-size="12" font-family="sans-serif" fill="#fff">${text}</text>`;
}
