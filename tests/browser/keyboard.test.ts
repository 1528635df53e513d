import { expect, test } from 'vitest';
import { LAPTOP, Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();

/** Tabs on until the thing in focus has this name; fails after a whole page of Tabs. */
async function tabTo(maker: Maker, name: RegExp): Promise<void> {
  for (let k = 0; k < 120; k += 1) {
    await maker.page.keyboard.press('Tab');
    const focused = await maker.page.evaluate(() => {
      const element = document.activeElement;
      if (!element || element === document.body) return '';
      return (element.getAttribute('aria-label') ?? element.textContent ?? '').trim();
    });
    if (name.test(focused)) return;
  }
  throw new Error(`Tab never reached ${name}`);
}

test('the whole job, handles included, can be done with the keyboard alone', async () => {
  const maker = await Maker.arrives(browser(), { viewport: LAPTOP });
  const { keyboard } = maker.page;
  // Asked for well before the key, so that Chromium hands the chooser over instead of opening it.
  const chosen = maker.page.waitForEvent('filechooser');
  await tabTo(maker, /^A photo I have/);
  await keyboard.press('Enter');
  await (await chosen).setFiles(samplePhoto('tumbler-standing-on-dark-desk'));
  await maker.waitsForSizes();

  await tabTo(maker, /Card corner, bottom right/);
  await keyboard.press('ArrowDown');
  await maker.waitsForSizes();
  await expect.poll(() => maker.page.getByRole('button', { name: 'Undo' }).isEnabled()).toBe(true);
  await tabTo(maker, /^Undo/);
  await keyboard.press('Enter');
  await expect.poll(() => maker.page.getByRole('button', { name: 'Undo' }).isEnabled()).toBe(false);
  await maker.waitsForSizes();

  await tabTo(maker, /^The plan for it/);
  await keyboard.press('Enter');
  // A screen that is still being fetched would let all those Tabs run by.
  await maker.page.locator('#plan-title').waitFor();
  await tabTo(maker, /Change$/);
  await keyboard.press('Space');
  await maker.page.getByRole('dialog', { name: 'Which yarn?' }).waitFor();
  await tabTo(maker, /^Make it with this yarn/);
  await keyboard.press('Enter');
  await maker.page.locator('dialog').waitFor({ state: 'detached' });
  await maker.leaves();
});
