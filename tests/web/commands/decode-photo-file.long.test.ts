import { expect, it } from 'vitest';
import { fuzzDecoders } from '../../support/fuzz-decoders.ts';

it('decodePhotoFile survives 400 damaged files: a proper picture or null, finite numbers, no exception', async () => {
  const report = await fuzzDecoders(400, 7, null);
  expect(report.failures).toEqual([]);
  expect(report.decoded).toBeGreaterThan(20);
  expect(report.refused).toBeGreaterThan(20);
});
