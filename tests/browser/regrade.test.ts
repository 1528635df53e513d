import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from 'vitest';
import { LAPTOP, Maker, startChromium } from './maker.ts';

const browser = startChromium();
const ROUNDS = '6, 12, 18, 24, 30, 36, 42; wall 2; 14 x ch5; 12 rounds; band 3';

test('her own rounds become those for another bottle, a plan to follow, and are there after a reload', async () => {
  const maker = await Maker.arrives(browser());
  const { page } = maker;
  await maker.visits('My rounds for another bottle');
  await page.getByLabel('Your rounds, in US terms').fill('6, 12, 18; 14 x');
  await page.getByText('“14 x” is not understood.', { exact: false }).waitFor();
  await page.getByLabel('Your rounds, in US terms').fill(ROUNDS);
  await page.getByText('Both bottles need a size across and a height.').waitFor();
  await page.getByLabel('Across').first().fill('70 mm');
  await page.getByLabel('High').first().fill('200 mm');
  await page.getByLabel('Across').nth(1).fill('88 mm');
  await page.getByLabel('High').nth(1).fill('250 mm');
  await page.getByRole('heading', { name: 'Your rounds there' }).waitFor();
  await page.getByText('Rnd 9: inc 6 times, evenly spread. (54 sts)').waitFor();
  await page.getByText('The base starts with 6 and adds 6 a round, as yours.').waitFor();
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);

  await page.reload();
  await page.getByText('Rnd 9: inc 6 times, evenly spread. (54 sts)').waitFor();
  await page.getByRole('button', { name: 'Make a plan of it' }).click();
  await page.getByRole('heading', { level: 1, name: 'Net carrier' }).waitFor();
  await page.getByText(/From your rounds:/).waitFor();
  await page.getByRole('checkbox', { name: /Round 9\b/ }).check();
  await maker.waitsUntilStored(/"roundsDone":9/);
  await page.reload();
  await page.getByText('9 of 30 done').waitFor();
  await page.getByRole('link', { name: 'Change them' }).click();
  await page.getByRole('heading', { level: 1, name: 'My rounds for another bottle' }).waitFor();
  await maker.leaves();
});

test('a kept plan gives its rounds, for several sizes side by side', async () => {
  const maker = await Maker.arrives(browser(), { viewport: LAPTOP });
  const { page } = maker;
  await maker.typesTape('230 mm', '210 mm');
  await maker.names('Elderflower');
  await maker.goesTo('Plan');
  await maker.waitsUntilStored(/"kind":"plan"/);
  await maker.visits('My rounds for another bottle');
  await page.getByLabel('Or take a plan you kept').selectOption({ label: 'Elderflower' });
  expect(await page.getByLabel('Your rounds, in US terms').inputValue()).toMatch(/^10, 20, 30.* dc; wall 1; /);
  await page.getByRole('button', { name: 'One more size' }).click();
  await page.getByLabel('Across').last().fill('95 mm');
  await page.getByLabel('High').last().fill('127 mm');
  await page.getByText('Sizes: S (L). One number stands for all of them.').waitFor();
  expect(await page.getByRole('button', { name: 'Make a plan of it' }).count()).toBe(2);
  await maker.leaves();
});
