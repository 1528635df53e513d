import { fileURLToPath } from 'node:url';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject } from 'vitest';
import { launchChromium } from '../support/chromium.ts';

export const PHONE = { width: 390, height: 844 };
export const LAPTOP = { width: 1280, height: 800 };

/** One Chromium for a test file. */
export function startChromium(textPx?: number): () => Browser {
  let browser: Browser | null = null;
  beforeAll(async () => {
    browser = await launchChromium(textPx);
  });
  afterAll(() => browser?.close());
  return () => browser as Browser;
}

export function samplePhoto(name: string): string {
  return fileURLToPath(new URL(`../../sample-images/${name}.jpg`, import.meta.url));
}

export function testFile(name: string): string {
  return fileURLToPath(new URL(`./files/${name}`, import.meta.url));
}

/** A maker at the page: what she does, in her words. Any request that leaves the origin fails the test. */
export class Maker {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly strayRequests: string[] = [];
  readonly pageErrors: string[] = [];

  private constructor(context: BrowserContext, page: Page) {
    this.context = context;
    this.page = page;
  }

  static async arrives(browser: Browser, options: BrowserContextOptions = {}): Promise<Maker> {
    const context = await browser.newContext({ viewport: PHONE, locale: 'en-GB', ...options });
    return Maker.in(context);
  }

  /** Another tab of the same browser. */
  static async in(context: BrowserContext): Promise<Maker> {
    const maker = new Maker(context, await context.newPage());
    const origin = new URL(inject('pageUrl')).origin;
    context.on('request', (request) => {
      const { protocol, origin: asked } = new URL(request.url());
      if (!['blob:', 'data:'].includes(protocol) && asked !== origin) maker.strayRequests.push(request.url());
    });
    maker.page.on('pageerror', (error) => maker.pageErrors.push(error.message));
    await maker.open();
    return maker;
  }

  async open(): Promise<void> {
    await this.page.goto(`${inject('pageUrl')}#photo`);
    await this.page.locator('main h1').waitFor();
  }

  /** Stands for camera and file picker alike. */
  async choosesPhoto(path: string): Promise<void> {
    await this.page.getByTestId('photo-file').setInputFiles(path);
  }

  async waitsForSizes(): Promise<void> {
    await this.page.locator('.check__sizes').waitFor({ timeout: 25_000 });
    await this.page.locator('.check__busy').waitFor({ state: 'detached', timeout: 25_000 });
  }

  async goesTo(step: string): Promise<void> {
    await this.page.locator('.shell__steps').getByRole('button', { name: step, exact: true }).click();
  }

  /** From photo to kept container. */
  async keepsContainer(photo: string, label: string): Promise<void> {
    await this.choosesPhoto(photo);
    await this.waitsForSizes();
    await this.goesTo('Sizes');
    await this.page.getByLabel('Label').fill(label);
    await this.page.getByRole('button', { name: 'Keep this container' }).click();
    await this.page.getByText('Kept on this device.').waitFor();
  }

  async visits(place: string): Promise<void> {
    await this.page.locator('.shell__places').getByRole('button', { name: place, exact: true }).click();
  }

  /** A length on the check screen, in mm. */
  async reads(size: 'Widest' | 'Base' | 'Height'): Promise<{ readonly mm: number; readonly plusMinusMm: number }> {
    const row = this.page.locator('.check__sizes > div').filter({ hasText: size });
    const [, mm, plusMinusMm] = /([\d.]+) ± ([\d.]+) mm/.exec((await row.textContent()) ?? '') ?? [];
    return { mm: Number(mm), plusMinusMm: Number(plusMinusMm) };
  }

  async leaves(): Promise<void> {
    const { strayRequests, pageErrors } = this;
    await this.context.close();
    expect({ strayRequests, pageErrors }).toEqual({ strayRequests: [], pageErrors: [] });
  }
}
