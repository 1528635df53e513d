import { readFileSync } from 'node:fs';
import { crc32, deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { jpegWithExif } from './exif-jpeg.ts';
import type { SeededRandom } from './seeded-random.ts';

export interface SeedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Small pictures of every format the decoders read, odd ones too, to be damaged. */
export async function seedFiles(): Promise<SeedFile[]> {
  const sample = sharp(readFileSync('sample-images/jar-standing-on-linen.jpg')).resize(120);
  const exif = await jpegWithExif({
    FocalLengthIn35mmFilm: 26,
    PixelXDimension: 40,
    PixelYDimension: 30,
    FocalLength: 5,
  });
  return [
    {
      name: 'jpeg',
      bytes: await sample
        .clone()
        .withExif({ IFD0: { Orientation: '6' } })
        .jpeg()
        .toBuffer(),
    },
    { name: 'jpeg-exif', bytes: new Uint8Array(exif) },
    { name: 'progressive', bytes: await sample.clone().jpeg({ progressive: true }).toBuffer() },
    { name: 'png', bytes: await sample.clone().png().toBuffer() },
    { name: 'webp', bytes: await sample.clone().webp().toBuffer() },
    { name: 'avif', bytes: await sample.clone().avif({ effort: 0 }).toBuffer() },
    { name: 'heic', bytes: readFileSync('tests/browser/files/jam-jar-standing-on-dark-desk.heic') },
    ...(await Promise.all(ODD_EXIF.map(withOddExif))),
    ...ABSURD_SIDES.map((side) => ({ name: `bomb of ${side} px`, bytes: pngBomb(side) })),
  ];
}

/** Turns that do not exist, and lenses of no, endless and unheard-of length. */
const ODD_EXIF = [
  ...['0', '9', '255', '65535'].map((Orientation) => ({ IFD0: { Orientation } })),
  ...['0', '1', '65535'].map((FocalLengthIn35mmFilm) => ({ IFD2: { FocalLengthIn35mmFilm } })),
  ...['0/0', '0/1', '5/0'].map((FocalLength) => ({ IFD2: { FocalLength } })),
];
/** Just over what the decoder takes, and as much as a PNG can say. */
const ABSURD_SIDES = [11_402, 100_000, 0x7fffffff];

async function withOddExif(exif: (typeof ODD_EXIF)[number]): Promise<SeedFile> {
  const sample = sharp(readFileSync('sample-images/jar-standing-on-linen.jpg')).resize(120);
  return { name: JSON.stringify(exif), bytes: await sample.withExif(exif).jpeg().toBuffer() };
}

/** A few kilobytes that unpack to a grey picture of this side, or to as much of it as fits in 50 MB. */
function pngBomb(side: number): Uint8Array {
  const size = Buffer.alloc(13);
  size.writeUInt32BE(side, 0);
  size.writeUInt32BE(side, 4);
  size[8] = 8;
  const pixels = deflateSync(Buffer.alloc(Math.min(side * (side + 1), 50e6)));
  const signature = Buffer.from('89504e470d0a1a0a', 'hex');
  return Buffer.concat([
    signature,
    pngChunk('IHDR', size),
    pngChunk('IDAT', pixels),
    pngChunk('IEND', Buffer.alloc(0)),
  ]);
}

function pngChunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const [length, checksum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  checksum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, checksum]);
}

/** One damaged copy: cut short, bits flipped, bytes overwritten with extremes, pieces repeated or swapped. */
export function mutate(bytes: Uint8Array, random: SeededRandom): Uint8Array {
  let copy = Uint8Array.from(bytes);
  const rounds = random.whole(1, 2);
  for (let round = 0; round < rounds; round += 1) copy = MUTATIONS[random.whole(0, MUTATIONS.length - 1)](copy, random);
  return copy;
}

type Mutation = (bytes: Uint8Array<ArrayBuffer>, random: SeededRandom) => Uint8Array<ArrayBuffer>;

/** Most of what can go wrong sits in the headers. */
function somewhere(length: number, random: SeededRandom): number {
  const from = random.chance(0.7) ? Math.min(length, 600) : length;
  return random.whole(0, Math.max(from - 1, 0));
}

const MUTATIONS: readonly Mutation[] = [
  function cutShort(bytes, random) {
    return bytes.slice(0, random.whole(0, bytes.length));
  },
  function flipBits(bytes, random) {
    const flips = random.whole(1, 4);
    for (let k = 0; k < flips; k += 1) bytes[somewhere(bytes.length, random)] ^= 1 << random.whole(0, 7);
    return bytes;
  },
  function writeExtremes(bytes, random) {
    const at = somewhere(bytes.length, random);
    bytes.fill(random.pick([0x00, 0xff, 0x7f, 0x80]), at, at + random.pick([1, 2, 4, 8]));
    return bytes;
  },
  function repeatPiece(bytes, random) {
    const [from, to] = [somewhere(bytes.length, random), somewhere(bytes.length, random)].sort((a, b) => a - b);
    return Uint8Array.from([...bytes.subarray(0, to), ...bytes.subarray(from, to), ...bytes.subarray(to)]);
  },
  function dropPiece(bytes, random) {
    const from = somewhere(bytes.length, random);
    const to = Math.min(bytes.length, from + random.whole(1, 64));
    return Uint8Array.from([...bytes.subarray(0, from), ...bytes.subarray(to)]);
  },
];
