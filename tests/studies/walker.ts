import type { Browser, BrowserContext, Page } from 'playwright-core';
import type { SeededRandom } from '../support/seeded-random.ts';
import { type Look, lookAt, type Seen, type Stored, storedIn } from './walked-page.ts';

/** A photo whose container is known, and what the page says of it when nothing else is going on. */
export interface KnownPhoto {
  readonly name: string;
  readonly jpeg: Buffer;
  /** Corners of its card, as shares of width and height. */
  readonly card: readonly (readonly [number, number])[];
  readonly widestMm: number;
  /** What tells its picture from the others. */
  readonly look: Look;
}

interface Ground {
  readonly url: string;
  readonly photos: readonly KnownPhoto[];
  readonly random: SeededRandom;
}

export interface Said {
  readonly steps: number;
  readonly path: readonly string[];
  readonly judged: { readonly sizes: number; readonly ticks: number; readonly pictures: number };
  readonly mixedUp: readonly string[];
  readonly lost: readonly string[];
  readonly uncovered: readonly string[];
  readonly errors: readonly string[];
}

/** A tick as it was made: of which plan of which job, and how many rounds were done then. */
interface Tick {
  readonly planId: string;
  readonly createdAt: number;
  readonly roundsDone: number;
}

/** Machines are busy; nothing here measures time. */
const PATIENT_MS = 120_000;
const HASTY_MS = 20_000;
/** Sizes of one photo differ by less than this however it was measured; those of two containers by far more. */
const SAME_SIZE = 0.03;
/** Share of a card's grid that the cover must hide; the rest is JPEG noise at its edge. */
const COVERED = 0.98;

/** What the page reads off a photo in a browser of its own. */
export async function measuredAlone(
  browser: Browser,
  url: string,
  photo: Omit<KnownPhoto, 'widestMm' | 'look'>,
): Promise<KnownPhoto> {
  const context = await newContext(browser);
  const page = await context.newPage();
  await page.goto(`${url}#photo`);
  await page.getByTestId('photo-file').setInputFiles(fileOf(photo));
  await page.locator('.numbers').waitFor();
  await page.locator('.check__busy').waitFor({ state: 'detached' });
  const { widestMm, look } = await lookAt(page);
  await context.close();
  if (!widestMm || !look) throw new Error(`${photo.name} is not measured even alone`);
  return { ...photo, widestMm, look };
}

async function newContext(browser: Browser): Promise<BrowserContext> {
  const context = await browser.newContext({ locale: 'en-GB', viewport: { width: 390, height: 844 } });
  context.setDefaultTimeout(PATIENT_MS);
  // What runs these studies marks functions with their names, also those that are sent to the page.
  await context.addInitScript('globalThis.__name = (named) => named');
  return context;
}

/** Somebody who does at the page whatever comes to her mind. */
export class Walker {
  readonly #ground: Ground;
  readonly #context: BrowserContext;
  #page: Page;
  readonly #ticks: Tick[] = [];
  readonly #said = { mixedUp: [] as string[], lost: [] as string[], uncovered: [] as string[], errors: [] as string[] };
  readonly #path: string[] = [];
  /** How much there was to judge: a walk that shows and keeps nothing proves nothing. */
  readonly #judged = { sizes: 0, ticks: 0, pictures: 0 };

  private constructor(ground: Ground, context: BrowserContext, page: Page) {
    this.#ground = ground;
    this.#context = context;
    this.#page = page;
  }

  static async begins(browser: Browser, ground: Ground): Promise<Walker> {
    const context = await newContext(browser);
    const walker = new Walker(ground, context, await context.newPage());
    await walker.#arrives();
    return walker;
  }

  async walks(steps: number): Promise<Said> {
    const all = this.#steps();
    for (let k = 0; k < steps; k += 1) {
      const [name, step] = k === 0 ? all[1] : this.#ground.random.pick(all);
      this.#path.push(name);
      try {
        await step();
        await this.#looksRound(name);
      } catch (thrown) {
        this.#said.errors.push(`${this.#path.join(' ')}: ${String(thrown).split('\n')[0]}`);
        await this.#startsOver();
      }
    }
    await this.#context.close();
    return { steps, path: this.#path, judged: this.#judged, ...this.#said };
  }

  /** Each as often as it stands here is likely. */
  #steps(): readonly (readonly [string, () => Promise<void>])[] {
    const { random, photos } = this.#ground;
    return [
      ['pick', () => this.#picks(random.pick(photos))],
      [
        'pick-and-wait',
        async () => {
          await this.#picks(random.pick(photos));
          await this.#settles();
        },
      ],
      [
        'pick-two',
        async () => {
          await this.#picks(random.pick(photos));
          await this.#picks(random.pick(photos));
        },
      ],
      ['settle', () => this.#settles()],
      ['settle', () => this.#settles()],
      ['add', () => this.#addsPhoto()],
      ['add', () => this.#addsPhoto()],
      ['cancel', () => this.#cancels()],
      ['back', () => this.#goesBack()],
      ['reload', () => this.#reloads()],
      ['tab', () => this.#changesTab()],
      ['open', () => this.#opensKept()],
      ['open', () => this.#opensKept()],
      ['share', () => this.#shares(random.pick(photos))],
      ['tape', () => this.#typesTape()],
      ['tick', () => this.#ticksRound()],
      ['tick', () => this.#ticksRound()],
      ['tick', () => this.#ticksRound()],
      ['kill', () => this.#isKilled()],
      ['sizes', () => this.#goesTo('sizes')],
    ];
  }

  async #arrives(): Promise<void> {
    this.#page.on('pageerror', (error) => this.#said.errors.push(`${this.#path.join(' ')}: ${error.message}`));
    await this.#page.goto(`${this.#ground.url}#photo`);
    await this.#isReady();
  }

  async #isReady(): Promise<void> {
    await this.#page.locator('main h1').first().waitFor({ state: 'attached' });
  }

  async #startsOver(): Promise<void> {
    for (const page of this.#context.pages()) await page.close().catch(() => {});
    this.#page = await this.#context.newPage();
    await this.#arrives();
  }

  async #goesTo(screen: string): Promise<void> {
    await this.#page.evaluate((hash) => {
      location.hash = hash;
    }, screen);
    await this.#isReady();
  }

  async #picks(photo: KnownPhoto): Promise<void> {
    const files = this.#page.getByTestId('photo-file');
    await this.#onScreen('photo', () => files.setInputFiles(fileOf(photo), { timeout: HASTY_MS }));
  }

  /** A photo that opens meanwhile takes the page to itself; then she goes there once more. */
  async #onScreen(screen: string, does: () => Promise<void>): Promise<void> {
    for (let k = 0; ; k += 1) {
      await this.#goesTo(screen);
      try {
        return await does();
      } catch (thrown) {
        if (k === 5) throw thrown;
      }
    }
  }

  async #settles(): Promise<void> {
    await this.#page.waitForFunction(() => {
      const isOpening = document.querySelector('.photo-step [role=status]:not(:empty)') !== null;
      const isBusy = document.querySelector('.check__busy') !== null;
      const isAnswered =
        document.querySelector('.photo-canvas') === null || document.querySelector('.numbers, .note') !== null;
      return !isOpening && !isBusy && isAnswered;
    });
  }

  async #addsPhoto(): Promise<void> {
    await this.#goesTo('sizes');
    const input = this.#page.getByTestId('further-photo');
    if ((await input.count()) === 0) return;
    const { look } = await lookAt(this.#page);
    const same = look && this.#nearest(look);
    if (same) await input.setInputFiles(fileOf(same));
  }

  async #cancels(): Promise<void> {
    const stop = this.#page.locator('.check__busy button');
    if ((await stop.count()) > 0)
      await stop
        .first()
        .click({ timeout: 3000 })
        .catch(() => {});
  }

  async #goesBack(): Promise<void> {
    await this.#page.evaluate(() => {
      if (history.state?.inside) history.back();
    });
    await this.#isReady();
  }

  async #reloads(): Promise<void> {
    await this.#page.reload();
    await this.#isReady();
  }

  async #changesTab(): Promise<void> {
    const pages = this.#context.pages();
    if (pages.length > 2) {
      this.#page = this.#ground.random.pick(pages.filter((page) => page !== this.#page));
      return;
    }
    this.#page = await this.#context.newPage();
    await this.#arrives();
  }

  async #opensKept(): Promise<void> {
    const { containers, plans } = await storedIn(this.#page, this.#ground.photos);
    if (containers.length + plans.length === 0) return;
    const share = this.#ground.random.uniform();
    await this.#onScreen('kept', async () => {
      const all = this.#page.getByRole('button', { name: /^Open: / });
      await all.first().waitFor({ timeout: HASTY_MS });
      await all.nth(Math.floor(share * (await all.count()))).click({ timeout: HASTY_MS });
      await this.#page.waitForFunction(() => location.hash !== '#kept', null, { timeout: HASTY_MS });
    });
    await this.#isReady();
  }

  async #shares(photo: KnownPhoto): Promise<void> {
    if (!(await this.#page.evaluate(() => navigator.serviceWorker?.controller != null))) return;
    await Promise.all([
      this.#page.waitForEvent('load'),
      this.#page.evaluate((data) => {
        const form = document.createElement('form');
        Object.assign(form, { method: 'post', enctype: 'multipart/form-data', action: './share' });
        const input = Object.assign(document.createElement('input'), { type: 'file', name: 'photo' });
        const transfer = new DataTransfer();
        const bytes = Uint8Array.from(atob(data), (character) => character.charCodeAt(0));
        transfer.items.add(new File([bytes], 'shared.jpg', { type: 'image/jpeg' }));
        input.files = transfer.files;
        form.append(input);
        document.body.append(form);
        form.submit();
      }, photo.jpeg.toString('base64')),
    ]);
    await this.#isReady();
  }

  async #typesTape(): Promise<void> {
    const around = String(this.#ground.random.whole(200, 300));
    await this.#onScreen('tape', async () => {
      const sheet = this.#page.getByRole('dialog');
      await sheet.getByLabel('Widest place').fill(around, { timeout: HASTY_MS });
      await sheet.getByLabel(/^Height/).fill('180', { timeout: HASTY_MS });
      await sheet.getByRole('button', { name: 'Take these sizes' }).click({ timeout: HASTY_MS });
    });
    await this.#isReady();
  }

  async #ticksRound(): Promise<void> {
    if (this.#ground.random.chance(0.7)) await this.#settles();
    await this.#goesTo('plan');
    if ((await this.#page.evaluate(() => document.querySelector('.numbers, .plan, [type=checkbox]'))) === null) return;
    const before = await this.#jobInHand();
    const rounds = this.#page.getByRole('checkbox', { name: /round/i });
    const isPlan = await rounds
      .first()
      .waitFor({ timeout: 5000 })
      .then(() => true)
      .catch(() => false);
    if (!isPlan) return;
    const open = this.#page.getByRole('checkbox', { name: /round/i, checked: false });
    const left = await open.count();
    if (left === 0) return;
    const ticked = await open
      .nth(Math.min(left - 1, this.#ground.random.whole(0, 2)))
      .check({ timeout: HASTY_MS })
      .then(() => true)
      .catch(() => false);
    if (!ticked) return;
    const done = before?.roundsDone ?? 0;
    for (let k = 0; k < 200; k += 1) {
      const now = await this.#jobInHand();
      if (now && now.roundsDone > done) {
        this.#ticks.push(now);
        return;
      }
      await this.#page.waitForTimeout(100);
    }
    this.#said.lost.push(`${this.#path.join(' ')}: a tick did not reach the store`);
  }

  #jobInHand(): Promise<Tick | null> {
    return this.#page.evaluate(async () => {
      const id = sessionStorage.getItem('roundwise-session');
      const database = await new Promise<IDBDatabase>((resolve) => {
        const request = indexedDB.open('roundwise');
        request.onsuccess = () => resolve(request.result);
      });
      const session = await new Promise<{ state?: { job?: Record<string, unknown> } } | undefined>((resolve) => {
        const request = database
          .transaction('session')
          .objectStore('session')
          .get(id ?? '');
        request.onsuccess = () => resolve(request.result);
      });
      database.close();
      const job = session?.state?.job as
        | { planId: string; createdAt: number; progress: { roundsDone: number } | null }
        | undefined;
      return job ? { planId: job.planId, createdAt: job.createdAt, roundsDone: job.progress?.roundsDone ?? 0 } : null;
    });
  }

  /** The tab dies without a word; another one comes. */
  async #isKilled(): Promise<void> {
    const crashed = this.#page.waitForEvent('crash');
    const devtools = await this.#context.newCDPSession(this.#page);
    devtools.send('Page.crash').catch(() => {});
    await crashed;
    await this.#page.close().catch(() => {});
    this.#page = await this.#context.newPage();
    await this.#arrives();
  }

  async #looksRound(step: string): Promise<void> {
    const at = this.#path.join(' ');
    this.#judges(await lookAt(this.#page), at);
    const stored = await storedIn(this.#page, this.#ground.photos);
    for (const { name, widestMm, isSingle } of stored.containers) {
      const photo = this.#ground.photos.find((each) => each.name === name);
      if (photo && widestMm !== null && isSingle && !isAbout(widestMm, photo.widestMm)) {
        this.#said.mixedUp.push(
          `${at}: kept ${widestMm.toFixed(1)} mm with the picture of ${name} (${photo.widestMm})`,
        );
      }
    }
    this.#countsTicks(stored, at);
    this.#judged.ticks += this.#ticks.length;
    this.#judged.pictures += stored.pictures.length;
    for (const { name, coveredShare } of stored.pictures) {
      if (coveredShare < COVERED) this.#said.uncovered.push(`${at}: ${name} covered to ${coveredShare.toFixed(2)}`);
    }
    if (stored.bareSealed > 0)
      this.#said.uncovered.push(`${at}: ${stored.bareSealed} photos lie unsealed after ${step}`);
  }

  #judges({ widestMm, look }: Seen, at: string): void {
    if (widestMm === null || look === null) return;
    this.#judged.sizes += 1;
    const photo = this.#nearest(look);
    if (!isAbout(widestMm, photo.widestMm)) {
      this.#said.mixedUp.push(`${at}: ${widestMm} mm shown with ${photo.name} (${photo.widestMm})`);
    }
  }

  #countsTicks({ plans }: Stored, at: string): void {
    for (const { planId, createdAt, roundsDone } of this.#ticks) {
      const holds = plans.some(
        (plan) => (plan.id === planId || plan.createdAt === createdAt) && plan.roundsDone >= roundsDone,
      );
      if (!holds) this.#said.lost.push(`${at}: ${roundsDone} rounds of plan ${planId} are not in the store`);
    }
  }

  #nearest(look: Look): KnownPhoto {
    const distance = (other: Look) => unlike(look, other);
    return this.#ground.photos.reduce((a, b) => (distance(b.look) < distance(a.look) ? b : a));
  }
}

/** Mean square difference where two pictures are most alike: covers over cards change the rest. */
function unlike(a: Look, b: Look): number {
  const squares = a.map((value, k) => (value - b[k]) ** 2).sort((x, y) => x - y);
  return squares.slice(0, 0.7 * squares.length).reduce((sum, square) => sum + square, 0);
}

function isAbout(mm: number, otherMm: number): boolean {
  return Math.abs(mm / otherMm - 1) < SAME_SIZE;
}

function fileOf({ jpeg }: { readonly jpeg: Buffer }) {
  return { name: 'photo.jpg', mimeType: 'image/jpeg', buffer: jpeg };
}
