import { expect, test } from 'vitest';
import { sentPhoto } from '../../../web/photo/sent-photo.ts';

const photo = (widthPx: number, heightPx: number, focal35Mm: number | null) => ({
  widthPx,
  heightPx,
  lens: { focal35Mm, looksCropped: false },
});

test('a photo that knows its lens is as it was taken, whatever it was saved as', () => {
  expect(sentPhoto(photo(3024, 4032, 26), 'image/jpeg')).toBe('as-taken');
  expect(sentPhoto(photo(1080, 2340, 26), 'image/png')).toBe('as-taken');
});

test('a picture as long as a phone, or a PNG, without a lens is of a screen; any other such is a copy', () => {
  expect(sentPhoto(photo(1080, 2340, null), 'image/jpeg')).toBe('screenshot');
  expect(sentPhoto(photo(1170, 1560, null), 'image/png')).toBe('screenshot');
  expect(sentPhoto(photo(1200, 1600, null), 'image/jpeg')).toBe('copy');
});
