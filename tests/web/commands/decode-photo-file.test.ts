import { describe, expect, it } from 'vitest';
import { decodePhotoFile } from '../../../web/commands/decode-photo-file.ts';
import { fuzzDecoders } from '../../support/fuzz-decoders.ts';

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

  // 400 of them: decode-photo-file.long.test.ts
  it('survives 40 damaged files: a proper picture or null, finite numbers, no exception', async () => {
    const report = await fuzzDecoders(40, 7, null);
    expect(report.failures).toEqual([]);
    expect(report.decoded).toBeGreaterThan(2);
    expect(report.refused).toBeGreaterThan(2);
  });
});
