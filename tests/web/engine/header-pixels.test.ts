import sharp from 'sharp';
import { expect, test } from 'vitest';
import { headerPixels } from '../../../web/engine/worker/header-pixels.ts';

const bufferOf = (bytes: Uint8Array) =>
  bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;

test.each([false, true])('a JPEG that sharp wrote (progressive: %s) states its size', async (progressive) => {
  const blank = { create: { width: 40, height: 30, channels: 3, background: 'white' } } as const;
  const jpeg = await sharp(blank).jpeg({ progressive }).toBuffer();
  expect(headerPixels(bufferOf(jpeg))).toBe(1200);
});

test('a JPEG of the extended kind (SOF1) states its size', () => {
  const frame = [0xff, 0xc1, 0, 11, 8, 0x4e, 0x20, 0x4e, 0x20, 1, 1, 0x11, 0];
  const jpeg = Uint8Array.from([0xff, 0xd8, 0xff, 0xe0, 0, 4, 0, 0, ...frame, 0, 0, 0, 0]);
  expect(headerPixels(bufferOf(jpeg))).toBe(20_000 ** 2);
});

test('a BMP states its size, stored upwards or downwards', () => {
  const bmp = new Uint8Array(54);
  bmp.set([0x42, 0x4d]);
  new DataView(bmp.buffer).setInt32(18, 20_000, true);
  new DataView(bmp.buffer).setInt32(22, -20_000, true);
  expect(headerPixels(bmp.buffer)).toBe(20_000 ** 2);
});

test('what is neither, or cut short, states nothing', () => {
  expect(headerPixels(new ArrayBuffer(3))).toBe(0);
  expect(headerPixels(bufferOf(Uint8Array.from([0xff, 0xd8, ...Array(40).fill(0xff)])))).toBe(0);
});
