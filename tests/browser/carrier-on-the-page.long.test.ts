import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchDrawingChromium } from '../../web/commands/in-chromium.ts';
import { LAPTOP, Maker, samplePhoto, startChromium } from './maker.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchDrawingChromium();
});
afterAll(() => browser?.close());

describe('on the page', () => {
  const plain = startChromium();

  it('is drawn on top of the plan, turned by keys, coloured by name, and says what it shows', async () => {
    const maker = await Maker.arrives(browser, { viewport: LAPTOP });
    await maker.choosesPhoto(samplePhoto('jar-standing-on-linen'));
    await maker.waitsForSizes();
    await maker.goesTo('Plan');
    const picture = maker.page.getByRole('slider', { name: /^Net carrier, \d+ cells around, kelp, strap/ });
    await picture.waitFor();
    await maker.page.getByText('By itself').click();
    await picture.locator('canvas').waitFor();
    await picture.focus();
    expect(await picture.getAttribute('aria-valuetext')).toBe('turned by 0°');
    await maker.page.keyboard.press('ArrowRight');
    await expect.poll(() => picture.getAttribute('aria-valuetext')).toBe('turned by 15°');
    await maker.page.getByLabel('moss', { exact: true }).check({ force: true });
    await maker.page.getByRole('slider', { name: /moss/ }).waitFor();
    expect(maker.pageErrors).toEqual([]);
    expect(maker.strayRequests).toEqual([]);
  });

  it('without WebGL one line says so, and the drawing from the side is there', async () => {
    const maker = await Maker.arrives(plain(), {});
    await maker.page.addInitScript(() => {
      HTMLCanvasElement.prototype.getContext = new Proxy(HTMLCanvasElement.prototype.getContext, {
        apply: (real, canvas, [kind, ...rest]) =>
          /webgl/.test(kind) ? null : Reflect.apply(real, canvas, [kind, ...rest]),
      });
    });
    await maker.page.reload();
    await maker.choosesPhoto(samplePhoto('jar-standing-on-linen'));
    await maker.waitsForSizes();
    await maker.goesTo('Plan');
    await maker.page.getByText('cannot draw the carrier in 3-D').waitFor();
    await maker.unfolds('How it is made');
    await maker.page.getByRole('img', { name: /^Side view to scale/ }).waitFor();
  });
});
