import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { FONTS, pageFont } from '../../../web/commands/make-fonts.ts';

const shipped = (file: string) => readFileSync(new URL(`../../../web/ui/fonts/${file}`, import.meta.url));

test('both typefaces together weigh 60 kB or less', () => {
  expect(FONTS.reduce((bytes, { file }) => bytes + shipped(file).length, 0)).toBeLessThanOrEqual(60_000);
});

test.each(FONTS)('$file is what `npm run fonts` makes of the package', async (font) => {
  expect(Buffer.compare(await pageFont(font), shipped(font.file))).toBe(0);
});
