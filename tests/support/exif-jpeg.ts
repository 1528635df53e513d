import sharp from 'sharp';

/** Exif tags a test may write, with their ids and types. Source: Exif 2.32 (CIPA DC-008), section 4.6. */
const TAGS = {
  FocalLength: { id: 0x920a, rational: true },
  PixelXDimension: { id: 0xa002, rational: false },
  PixelYDimension: { id: 0xa003, rational: false },
  FocalPlaneXResolution: { id: 0xa20e, rational: true },
  FocalPlaneResolutionUnit: { id: 0xa210, rational: false },
  DigitalZoomRatio: { id: 0xa404, rational: true },
  FocalLengthIn35mmFilm: { id: 0xa405, rational: false },
} as const;

export type ExifTags = { readonly [Name in keyof typeof TAGS]?: number };

/** A small grey JPEG whose Exif block holds exactly the given tags (big-endian TIFF, one Exif IFD). */
export async function jpegWithExif(tags: ExifTags): Promise<ArrayBuffer> {
  const plain = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#888' } })
    .jpeg()
    .toBuffer();
  const file = Buffer.concat([plain.subarray(0, 2), app1(exifTiff(tags)), plain.subarray(2)]);
  return file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer;
}

function app1(tiff: Buffer): Buffer {
  const head = Buffer.from('FFE10000457869660000', 'hex');
  head.writeUInt16BE(tiff.length + 8, 2);
  return Buffer.concat([head, tiff]);
}

function exifTiff(tags: ExifTags): Buffer {
  const entries = Object.entries(tags)
    .map(([name, value]) => ({ ...TAGS[name as keyof typeof TAGS], value }))
    .sort((a, b) => a.id - b.id);
  const exifIfdAt = 26;
  const valuesAt = exifIfdAt + 2 + 12 * entries.length + 4;
  const tiff = Buffer.alloc(valuesAt + 8 * entries.length);
  tiff.write('MM\0*', 'latin1');
  tiff.writeUInt32BE(8, 4);
  tiff.writeUInt16BE(1, 8);
  writeEntry(tiff, 10, 0x8769, 4, exifIfdAt);
  tiff.writeUInt16BE(entries.length, exifIfdAt);
  entries.forEach(({ id, rational, value }, k) => {
    const at = exifIfdAt + 2 + 12 * k;
    const valueAt = valuesAt + 8 * k;
    writeEntry(tiff, at, id, rational ? 5 : 4, rational ? valueAt : value);
    tiff.writeUInt32BE(Math.round(value * 1000), valueAt);
    tiff.writeUInt32BE(1000, valueAt + 4);
  });
  return tiff;
}

function writeEntry(tiff: Buffer, at: number, id: number, type: number, value: number): void {
  tiff.writeUInt16BE(id, at);
  tiff.writeUInt16BE(type, at + 2);
  tiff.writeUInt32BE(1, at + 4);
  tiff.writeUInt32BE(value, at + 8);
}
