import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import sharp, { type Sharp } from 'sharp';

type Point = readonly [x: number, y: number];

/** An upright photo changed in one respect, and where its points went. */
interface Variant {
  readonly name: string;
  readonly change: (picture: Sharp, widthPx: number, heightPx: number) => Sharp | Promise<Sharp>;
  readonly quality?: number;
  readonly move?: (point: Point, widthPx: number, heightPx: number) => Point;
  /** What the file says about the lens holds no longer. */
  readonly withoutLens?: boolean;
}

const SCALE = 0.6;
/** Cut off at the left and at the top, as a share of the side. */
const CROP = 0.03;

/** Long sides that messengers resave pictures at, with the JPEG quality that goes with them (from memory, no source). */
const RESAVED = { '1600': 70, '1280': 50 } as const;
/** A phone's screen with a picture on it, bars above and below, px. */
const SCREEN = { width: 1080, height: 2340, quality: 80, background: { r: 24, g: 24, b: 26 } } as const;

function shrinking(longSidePx: number, width: number, height: number): number {
  return Math.min(1, longSidePx / Math.max(width, height));
}

/** Where a point goes when a picture is made smaller. */
function scaled([x, y]: Point, scale: number): Point {
  return [scale * (x + 0.5) - 0.5, scale * (y + 0.5) - 0.5];
}

function resaved(longSide: keyof typeof RESAVED): Variant {
  const scaleOf = (width: number, height: number) => shrinking(Number(longSide), width, height);
  return {
    name: `resaved at ${longSide} px`,
    change: (picture, width, height) => picture.resize(Math.round(scaleOf(width, height) * width)),
    move: (point, width, height) => scaled(point, scaleOf(width, height)),
    quality: RESAVED[longSide],
    withoutLens: true,
  };
}

function onScreen(width: number, height: number) {
  const scale = Math.min(SCREEN.width / width, SCREEN.height / height);
  const [wide, high] = [Math.round(scale * width), Math.round(scale * height)];
  return { scale, left: (SCREEN.width - wide) >> 1, top: (SCREEN.height - high) >> 1, wide, high };
}

async function screenshot(picture: Sharp, width: number, height: number): Promise<Sharp> {
  const { left, top, wide, high } = onScreen(width, height);
  const shown = await picture.resize(wide, high).png().toBuffer();
  const { width: across, height: down, background } = SCREEN;
  return sharp({ create: { width: across, height: down, channels: 3, background } }).composite([
    { input: shown, left, top },
  ]);
}

/** Clockwise, the file's metadata saying nothing of it. */
function turned(degrees: 90 | 180 | 270): Variant {
  const move = ([x, y]: Point, width: number, height: number): Point =>
    degrees === 90 ? [height - 1 - y, x] : degrees === 180 ? [width - 1 - x, height - 1 - y] : [y, width - 1 - x];
  return { name: `turned by ${degrees}°`, change: (picture) => picture.rotate(degrees), move };
}

/** What happens to photos between the lens and us. Strengths are such that people still see everything. */
const VARIANTS: readonly Variant[] = [
  { name: 'as it is', change: (picture) => picture },
  { name: 'underexposed', change: (picture) => picture.linear(0.55, 0) },
  { name: 'overexposed', change: (picture) => picture.linear(1.35, 10) },
  { name: 'low contrast', change: (picture) => picture.linear(0.5, 70) },
  { name: 'blurred', change: (picture, width, height) => picture.blur(0.001 * Math.max(width, height)) },
  { name: 'noisy', change: noisy },
  { name: 'JPEG quality 25', change: (picture) => picture, quality: 25 },
  { name: 'hue turned', change: (picture) => picture.modulate({ hue: 120 }) },
  { name: 'warm light', change: (picture) => picture.linear([1.12, 1, 0.75], [0, 0, 0]) },
  { name: 'without colour', change: (picture) => picture.modulate({ saturation: 0 }) },
  { name: 'mirrored', change: (picture) => picture.flop(), move: ([x, y], width) => [width - 1 - x, y] },
  {
    name: 'smaller',
    change: (picture, width, height) => picture.resize(Math.round(SCALE * width), Math.round(SCALE * height)),
    move: (point) => scaled(point, SCALE),
  },
  {
    name: 'cropped',
    change: (picture, width, height) =>
      picture.extract({
        left: Math.round(CROP * width),
        top: Math.round(CROP * height),
        width: width - Math.round(CROP * width),
        height: height - Math.round(CROP * height),
      }),
    move: ([x, y], width, height) => [x - Math.round(CROP * width), y - Math.round(CROP * height)],
    withoutLens: true,
  },
  turned(90),
  turned(180),
  turned(270),
  resaved('1600'),
  resaved('1280'),
  {
    name: 'screenshot',
    change: screenshot,
    move: (point, width, height) => {
      const { scale, left, top } = onScreen(width, height);
      const [x, y] = scaled(point, scale);
      return [x + left, y + top];
    },
    quality: SCREEN.quality,
    withoutLens: true,
  },
];
/** Variants by what they are called on the command line. */
export const VARIANT_OF = {
  turn: { '90': 'turned by 90°', '180': 'turned by 180°', '270': 'turned by 270°' },
  resave: { '1600': 'resaved at 1600 px', '1280': 'resaved at 1280 px', screenshot: 'screenshot' },
} as const;
export const VARIANT_NAMES = VARIANTS.map(({ name }) => name);

/** Standard deviation of the grain, grey levels. */
const GRAIN = 12;

/** The same grain in every run. */
async function noisy(picture: Sharp): Promise<Sharp> {
  const { data, info } = await picture.removeAlpha().raw().toBuffer({ resolveWithObject: true });
  let state = 1;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  for (let i = 0; i < data.length; i++) {
    // Box and Muller (1958)
    const normal = Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    data[i] = Math.min(Math.max(Math.round(data[i] + GRAIN * normal), 0), 255);
  }
  return sharp(data, { raw: { width: info.width, height: info.height, channels: info.channels } });
}

/**
 * Writes one variant of each photo, with its truth file, into a folder.
 * @param photoPaths  photos that have a truth file beside them
 * @returns the photos that could not be read
 */
export async function writeVariant(name: string, photoPaths: readonly string[], folder: string): Promise<string[]> {
  const variant = VARIANTS.find((candidate) => candidate.name === name);
  if (!variant) throw new RangeError(`No variant is called ${name}.`);
  await mkdir(folder, { recursive: true });
  const unread: string[] = [];
  for (const path of photoPaths) await writeOne(variant, path, folder).catch(() => unread.push(path));
  return unread;
}

async function writeOne(variant: Variant, path: string, folder: string): Promise<void> {
  const original = await sharp(path).rotate().toColourspace('srgb').png({ compressionLevel: 1 }).toBuffer();
  const { width = 0, height = 0 } = await sharp(original).metadata();
  const { exif } = await sharp(path).metadata();
  const changed = await variant.change(sharp(original).removeAlpha(), width, height);
  const jpeg = await changed.jpeg({ quality: variant.quality ?? 92 }).toBuffer();
  const target = join(folder, basename(path).replace(/\.[a-z]+$/i, '.jpg'));
  const keepsLens = exif && !variant.withoutLens;
  await writeFile(target, keepsLens ? withExif(jpeg, uprightExif(exif)) : jpeg);
  const truth = JSON.parse(await readFile(path.replace(/\.[a-z]+$/i, '.json'), 'utf8'));
  const moved = (points: readonly Point[] | undefined) =>
    points?.map((point) => variant.move?.(point, width, height) ?? point);
  const container = {
    ...truth.container,
    outline_px: truth.container?.outline_px?.map(moved),
    axis_px: moved(truth.container?.axis_px),
  };
  const card = truth.card && { ...truth.card, corners_px: moved(truth.card.corners_px) };
  // what the crop cuts off ought to be refused
  const isCut = [...(container.outline_px?.flat() ?? []), ...(card?.corners_px ?? [])].some(([x, y]) => x < 0 || y < 0);
  const negative = truth.negative ?? (isCut ? 'cut by the variant' : null);
  await writeFile(target.replace(/\.jpg$/, '.json'), JSON.stringify({ ...truth, negative, container, card }));
}

/** The metadata with its orientation set to upright. Source: Exif 2.32 (CIPA DC-008), tag 0x0112 in the first directory. */
function uprightExif(exif: Buffer): Buffer {
  const copy = Buffer.from(exif);
  const start = 6; // after "Exif\0\0"
  const little = copy.toString('latin1', start, start + 2) === 'II';
  const u16 = (at: number) => (little ? copy.readUInt16LE(at) : copy.readUInt16BE(at));
  const directory = start + (little ? copy.readUInt32LE(start + 4) : copy.readUInt32BE(start + 4));
  for (let k = 0; k < u16(directory); k++) {
    const entry = directory + 2 + 12 * k;
    if (u16(entry) !== 0x0112) continue;
    if (little) copy.writeUInt16LE(1, entry + 8);
    else copy.writeUInt16BE(1, entry + 8);
  }
  return copy;
}

/** A JPEG file with an APP1 segment right after its start marker. */
function withExif(jpeg: Buffer, exif: Buffer): Buffer {
  const header = Buffer.from([0xff, 0xe1, 0, 0]);
  header.writeUInt16BE(exif.length + 2, 2);
  return Buffer.concat([jpeg.subarray(0, 2), header, exif, jpeg.subarray(2)]);
}
