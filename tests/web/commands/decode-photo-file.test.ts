import { execFileSync } from 'node:child_process';
import { mkdtemp, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodePhotoFile, openPhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { fuzzDecoders } from '../../support/fuzz-decoders.ts';

const folder = await mkdtemp(join(tmpdir(), 'roundwise-'));

describe('decodePhotoFile', () => {
  it('turns a photo upright as its Exif says: stored 2016 × 1512 with orientation 1 stays as it is', async () => {
    const photo = await decodePhotoFile('sample-images/jar-standing-on-linen.jpg');
    expect(photo).toMatchObject({ widthPx: 2016, heightPx: 1512 });
    expect(photo?.rgba.length).toBe(4 * 2016 * 1512);
  });

  it('answers null for what is no picture', async () => {
    expect(await decodePhotoFile('package.json')).toBeNull();
    expect(await decodePhotoFile('no-such-file.jpg')).toBeNull();
  });

  it('reads HEIC, with the decoder of the page', async () => {
    const heic = await decodePhotoFile('tests/browser/files/jam-jar-standing-on-dark-desk.heic');
    expect(heic).toMatchObject({ widthPx: 1008, heightPx: 1344 });
    const { data } = await sharp('sample-images/jam-jar-standing-on-dark-desk.jpg')
      .resize(1008, 1344)
      .ensureAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    const off = data.reduce((sum, level, k) => sum + Math.abs(level - (heic?.rgba[k] ?? 0)), 0) / data.length;
    expect(off).toBeLessThan(4);
  });

  it.each([
    ['a PNG', pngHeader(20_000, 6_501)],
    ['a JPEG of the extended kind (SOF1)', jpegHeader(0xc1, 20_000, 20_000)],
    ['a JPEG', jpegHeader(0xc0, 12_000, 16_000)],
    ['a BMP', bmpHeader(20_000, 20_000)],
  ])('calls %s of more than 130 million pixels too large, before it is unpacked', async (_, bytes) => {
    const path = join(folder, 'large');
    await writeFile(path, bytes);
    expect(await openPhotoFile(path)).toMatchObject({ ok: false, reason: { code: 'photo-too-large' } });
  });

  it('opens regular files only: a pipe would never end', async () => {
    const pipe = join(folder, 'pipe');
    execFileSync('mkfifo', [pipe]);
    for (const path of [pipe, folder, '/dev/zero']) {
      const opened = await openPhotoFile(path);
      expect(opened.ok ? '' : opened.reason.message).toMatch(/no file but a folder, a pipe or a device/);
    }
  });

  // 400 of them: decode-photo-file.long.test.ts
  it('survives 40 damaged files: a proper picture or null, finite numbers, no exception', async () => {
    const report = await fuzzDecoders(40, 7, null);
    expect(report.failures).toEqual([]);
    expect(report.decoded).toBeGreaterThan(2);
    expect(report.refused).toBeGreaterThan(2);
  });
});

/** Headers that state a size, with nothing behind them. */
function pngHeader(width: number, height: number): Buffer {
  const header = Buffer.from('89504e470d0a1a0a0000000d4948445200000000000000000802000000', 'hex');
  header.writeUInt32BE(width, 16);
  header.writeUInt32BE(height, 20);
  return Buffer.concat([header, Buffer.alloc(8)]);
}

function jpegHeader(startOfFrame: number, width: number, height: number): Buffer {
  const header = Buffer.from('ffd8ffc0001108000000000301220002110103110100ffd9', 'hex');
  header[3] = startOfFrame;
  header.writeUInt16BE(height, 7);
  header.writeUInt16BE(width, 9);
  return header;
}

function bmpHeader(width: number, height: number): Buffer {
  const header = Buffer.alloc(54);
  header.write('BM');
  header.writeUInt32LE(54, 10);
  header.writeUInt32LE(40, 14);
  header.writeInt32LE(width, 18);
  header.writeInt32LE(height, 22);
  return header;
}
