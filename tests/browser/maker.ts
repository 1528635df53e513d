import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject } from 'vitest';
import { launchChromium } from '../support/chromium.ts';

export const PHONE = { width: 390, height: 844 };
export const LAPTOP = { width: 1280, height: 800 };

/** Long enough for a machine that is ten times as busy as it should be. */
const PATIENT_MS = 5 * 60_000;

/** The Chromium that all test files share, or one of its own with another text size. */
export function startChromium(textPx?: number): () => Browser {
  let browser: Browser | null = null;
  beforeAll(async () => {
    if (inject('noPage')) throw new Error(inject('noPage'));
    browser = textPx ? await launchChromium(textPx) : await chromium.connect(inject('chromiumUrl'));
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

  readonly pageUrl: string;

  private constructor(context: BrowserContext, page: Page, pageUrl: string) {
    this.context = context;
    this.page = page;
    this.pageUrl = pageUrl;
  }

  /** She wants nothing to move by itself: without a graphics card, drawing that takes longer than measuring. */
  static async arrives(browser: Browser, options: BrowserContextOptions = {}): Promise<Maker> {
    const still = { viewport: PHONE, locale: 'en-GB', reducedMotion: 'reduce' } as const;
    return Maker.in(await browser.newContext({ ...still, ...options }));
  }

  /** Another tab of the same browser. */
  static async in(context: BrowserContext, pageUrl = inject('pageUrl')): Promise<Maker> {
    context.setDefaultTimeout(PATIENT_MS);
    const maker = new Maker(context, await context.newPage(), pageUrl);
    const { origin } = new URL(pageUrl);
    context.on('request', (request) => {
      const { protocol, origin: asked } = new URL(request.url());
      if (!['blob:', 'data:'].includes(protocol) && asked !== origin) maker.strayRequests.push(request.url());
    });
    maker.page.on('pageerror', (error) => maker.pageErrors.push(error.message));
    await maker.open();
    return maker;
  }

  async open(): Promise<void> {
    await this.page.goto(`${this.pageUrl}#photo`);
    await this.page.locator('main h1').waitFor();
  }

  /** Stands for camera and file picker alike. */
  async choosesPhoto(path: string): Promise<void> {
    await this.page.getByTestId('photo-file').setInputFiles(path);
  }

  async waitsForSizes(): Promise<void> {
    await this.page.locator('.numbers').waitFor();
    await this.page.locator('.check__busy').waitFor({ state: 'detached' });
  }

  async goesTo(step: 'Photo' | 'Sizes' | 'Plan'): Promise<void> {
    await this.page.locator('.shell__steps').getByRole('button', { name: step, exact: true }).click();
  }

  /** Around and height from a tape, on the sheet over the photo place. */
  async typesTape(around: string, height: string): Promise<void> {
    await this.page.getByRole('button', { name: 'My tape' }).click();
    const sheet = this.page.getByRole('dialog', { name: 'With a tape' });
    await sheet.getByLabel('Widest place').fill(around);
    await sheet.getByLabel(/^Height/).fill(height);
    await sheet.getByRole('button', { name: 'Take these sizes' }).click();
    await this.page.locator('.numbers').waitFor();
  }

  async closesSheet(): Promise<void> {
    await this.page.keyboard.press('Escape');
    await this.page.locator('dialog').waitFor({ state: 'detached' });
  }

  /** One of the lines that are folded on a screen or sheet. */
  async unfolds(line: string): Promise<void> {
    const summary = this.page.locator('details:not([open]) > summary').filter({ hasText: line });
    if ((await summary.count()) > 0) await summary.first().click();
  }

  /** The sheet over the plan, from wherever she is in the job. */
  async opensYarn(): Promise<void> {
    await this.goesTo('Plan');
    await this.page.getByRole('button', { name: 'Change' }).click();
    await this.page.getByRole('dialog', { name: 'Which yarn?' }).waitFor();
    await this.unfolds('My own gauge');
  }

  /** From photo to kept container. */
  async keepsContainer(photo: string, label: string): Promise<void> {
    await this.choosesPhoto(photo);
    await this.waitsForSizes();
    await this.names(label);
  }

  /** Names the job in hand, which is kept without being asked, and waits until the store has it under that name. */
  async names(label: string): Promise<void> {
    await this.unfolds('Name it');
    await this.page.getByLabel('Name', { exact: true }).fill(label);
    await this.page.getByText(`Kept on this device as “${label}”.`).waitFor();
  }

  async visits(place: string): Promise<void> {
    await this.page.getByRole('button', { name: 'Menu' }).click();
    await this.page.locator('.shell__places').getByRole('button', { name: place, exact: true }).click();
  }

  /** A length on the sizes screen, in mm. */
  async reads(size: 'Widest' | 'Base' | 'Height'): Promise<{ readonly mm: number; readonly plusMinusMm: number }> {
    const row = this.page.locator('.numbers > div').filter({ hasText: size === 'Widest' ? 'Across' : size });
    const [, mm, plusMinusMm] = /([\d.]+) mm± ([\d.]+) mm/.exec((await row.textContent()) ?? '') ?? [];
    return { mm: Number(mm), plusMinusMm: Number(plusMinusMm) };
  }

  /** Waits until something stored on this device says this: a job is written down a moment after its last change. */
  async waitsUntilStored(says: RegExp): Promise<void> {
    await expect.poll(() => this.storedText()).toMatch(says);
  }

  /** Waits until a kept container has its picture, which comes a while after its sizes: all that may be a card is covered in it first. */
  async waitsUntilPictured(): Promise<void> {
    await expect.poll(() => this.storedText()).toMatch(/"containerId":"[^"]+","blanked":\{/);
  }

  /** All that is in the page's database, as JSON; pictures left out. */
  private storedText(): Promise<string> {
    return this.page.evaluate(async () => {
      const database = await new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open('roundwise');
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
      const rows: unknown[] = [];
      for (const name of database.objectStoreNames) {
        const request = database.transaction(name).objectStore(name).getAll();
        rows.push(await new Promise((resolve) => request.addEventListener('success', () => resolve(request.result))));
      }
      database.close();
      return JSON.stringify(rows);
    });
  }

  async leaves(): Promise<void> {
    const { strayRequests, pageErrors } = this;
    await this.context.close();
    expect({ strayRequests, pageErrors }).toEqual({ strayRequests: [], pageErrors: [] });
  }
}
