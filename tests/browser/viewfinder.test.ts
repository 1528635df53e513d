import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { expect, inject, test } from 'vitest';
import { launchChromiumWithCamera } from '../support/chromium.ts';
import { Maker, testFile } from './maker.ts';

/** Clips of our own of a hand-held camera before a sample (tests/studies/make-clips.ts); beside each is what it shows. */
const clip = (name: string) => testFile(`clips/${name}.mjpeg`);
const truthOf = (name: string) => JSON.parse(readFileSync(testFile(`clips/${name}.json`), 'utf8'));

async function aims<T>(clipPath: string | null, act: (maker: Maker) => Promise<T>, isAllowed = true): Promise<T> {
  if (inject('noPage')) throw new Error(inject('noPage'));
  const browser: Browser = await launchChromiumWithCamera(clipPath);
  try {
    const maker = await Maker.arrives(browser, isAllowed ? { permissions: ['camera'] } : {});
    await maker.page.getByRole('button', { name: 'Take the photo' }).click();
    const done = await act(maker);
    await maker.leaves();
    return done;
  } finally {
    await browser.close();
  }
}

test('the picture takes itself and is measured like any other', async () => {
  const { maxDiameterMm, heightMm } = truthOf('tumbler-right');
  await aims(clip('tumbler-right'), async (maker) => {
    const { page } = maker;
    await page.locator('.viewfinder .viewfinder__sizes').waitFor();
    await page.locator('.viewfinder').waitFor({ state: 'detached' });
    await maker.waitsForSizes();
    const [widest, height] = await page.locator('.numbers .big-number').allInnerTexts();
    expect(Math.abs(Number(widest) / maxDiameterMm - 1)).toBeLessThan(0.05);
    expect(Math.abs(Number(height) / heightMm - 1)).toBeLessThan(0.05);
  });
});

test('a card out of the picture is asked for', async () => {
  await aims(clip('jar-tilted'), async ({ page }) => {
    const hint = page.locator('.viewfinder__hint');
    await hint.getByText(/whole card into the picture|all of it in the picture/).waitFor();
    await page.getByTestId('viewfinder-close').click();
    await page.locator('.viewfinder').waitFor({ state: 'detached' });
  });
});

test('too little light is said; the button works all the same', async () => {
  await aims(clip('tumbler-dark'), async (maker) => {
    const { page } = maker;
    await page.locator('.viewfinder__hint').getByText('More light, please.').waitFor();
    await page.getByText('Takes itself when it is good').click();
    await page.getByTestId('viewfinder-take').click();
    await page.locator('.viewfinder').waitFor({ state: 'detached' });
    await page.locator('.numbers, .refusal').first().waitFor();
  });
});

test('where the camera is not allowed the file picker stands in, said kindly', async () => {
  await aims(
    null,
    async ({ page }) => {
      await page.getByText('The camera is not allowed here.').waitFor();
      const chooser = page.waitForEvent('filechooser');
      await page.getByRole('button', { name: 'Take a photo another way' }).click();
      await chooser;
    },
    false,
  );
});
