import { expect, test } from 'vitest';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();

/** Pages of a PDF: each has one object of this type. */
function pageCount(pdf: Buffer): number {
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

test.each(['A4', 'Letter'])('the guide for a customer prints on one page of %s', async (format) => {
  const maker = await Maker.arrives(browser(), { colorScheme: 'dark' });
  await maker.visits('How to take the photo');
  expect(pageCount(await maker.page.pdf({ format, preferCSSPageSize: false }))).toBe(1);
  await maker.leaves();
});

test.each(['A4', 'Letter'])('a plan prints on one or two pages of %s, without the page around it', async (format) => {
  const maker = await Maker.arrives(browser());
  await maker.choosesPhoto(samplePhoto('tumbler-standing-on-dark-desk'));
  await maker.waitsForSizes();
  await maker.goesTo('Plan');
  const pages = pageCount(await maker.page.pdf({ format, preferCSSPageSize: false }));
  expect(pages).toBeGreaterThan(0);
  expect(pages).toBeLessThanOrEqual(2);
  await maker.page.emulateMedia({ media: 'print' });
  expect(await maker.page.getByRole('navigation').count()).toBe(0);
  await maker.leaves();
});
