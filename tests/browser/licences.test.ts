import { expect, test } from 'vitest';
import { Maker, startChromium } from './maker.ts';

const browser = startChromium();

test('the settings list the software inside with its licences in full, without a network too', async () => {
  const maker = await Maker.arrives(browser());
  await maker.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await maker.context.setOffline(true);
  await maker.visits('Settings');
  await maker.page.getByText('Software inside, and its licences').click();
  const heif = maker.page.locator('details').filter({ hasText: 'libheif-js' }).last();
  await heif.locator('summary').click();
  await heif.getByText('GNU LESSER GENERAL PUBLIC LICENSE', { exact: false }).first().waitFor();
  expect(await maker.page.locator('.licences__part').count()).toBeGreaterThan(15);
  await maker.leaves();
});
