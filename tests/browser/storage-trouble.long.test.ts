import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, inject, test } from 'vitest';
import { launchKeepingChromium } from '../support/chromium.ts';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
const PHOTO = 'tumbler-standing-on-dark-desk';

test('with storage blocked the job still works, and the maker is told that nothing is kept', async () => {
  const context = await browser().newContext({ locale: 'en-GB' });
  await context.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('blocked', 'SecurityError');
    };
  });
  const maker = await Maker.in(context);
  await maker.page.getByText('This browser keeps nothing for this page', { exact: false }).waitFor();
  await maker.choosesPhoto(samplePhoto(PHOTO));
  await maker.waitsForSizes();
  expect((await maker.reads('Widest')).mm).toBeGreaterThan(50);
  await maker.leaves();
});

test('with the disk full the maker is told that the last change was not kept', async () => {
  const context = await browser().newContext({ locale: 'en-GB' });
  await context.addInitScript(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  const maker = await Maker.in(context);
  await maker.choosesPhoto(samplePhoto(PHOTO));
  await maker.page.getByText('The device is full', { exact: false }).waitFor();
  expect(await maker.page.getByRole('alert').count()).toBe(1);
  await maker.leaves();
});

test('a tab killed in the middle of a save has kept the old or the new, whole', async () => {
  let maker = await Maker.arrives(browser());
  await maker.keepsContainer(samplePhoto(PHOTO), 'save 0');
  await maker.waitsUntilPictured();
  for (const [k, afterMs] of [0, 240, 250, 255, 262, 275, 400].entries()) {
    await maker.page.getByLabel('Name', { exact: true }).fill(`save ${k + 1}`);
    const crashed = maker.page.waitForEvent('crash');
    const devtools = await maker.context.newCDPSession(maker.page);
    await new Promise((resolve) => setTimeout(resolve, afterMs));
    // does not answer when the tab is gone
    devtools.send('Page.crash').catch(() => {});
    await crashed;

    maker = await Maker.in(maker.context);
    await maker.visits('What I kept');
    const open = maker.page.getByRole('button', { name: /^Open: save/ });
    await open.waitFor();
    expect(await open.count()).toBe(1);
    expect(await open.getAttribute('aria-label')).toMatch(new RegExp(`save (${k}|${k + 1})$`));
    await maker.page.locator('.kept__picture').waitFor();
    await open.click();
    await maker.page.locator('.numbers').waitFor();
    await maker.names(`save ${k + 1}`);
  }
  await maker.leaves();
});

test('with the quota used up the maker is told, and what was kept before is still there', async () => {
  const context = await browser().newContext({ locale: 'en-GB' });
  // without a service worker, whose copy of the page would use up the quota first
  await context.addInitScript(() => {
    ServiceWorkerContainer.prototype.register = () => Promise.reject(new Error('off'));
  });
  const { origin } = new URL(inject('pageUrl'));
  const devtools = await context.newCDPSession(await context.newPage());
  await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 3_000_000 });
  const maker = await Maker.in(context);
  await maker.keepsContainer(samplePhoto(PHOTO), 'kept while there was room');
  await maker.waitsUntilPictured();
  await maker.visits('What I kept');
  await bringsIn(
    maker,
    keptFile({ containers: [TAPED], pictures: [{ containerId: TAPED.id, jpegBase64: 'A'.repeat(6_000_000) }] }),
  );
  await maker.page.getByText('The device is full', { exact: false }).waitFor();
  await maker.page.reload();
  await maker.page.getByRole('button', { name: 'Open: kept while there was room' }).waitFor();
  await maker.page.locator('.kept__picture').waitFor();
  expect(await maker.page.getByRole('button', { name: /^Open: / }).count()).toBe(1);
  await maker.leaves();
});

describe('a damaged database', () => {
  test('shows what is sound, counts what is not, and leaves a damaged job out', async () => {
    const maker = await Maker.arrives(browser());
    await maker.keepsContainer(samplePhoto(PHOTO), 'sound one');
    await maker.waitsUntilStored(/"screen":"sizes".*"outcome":"measured"/);
    await maker.page.evaluate(async () => {
      const request = indexedDB.open('roundwise');
      await new Promise((resolve) => {
        request.onsuccess = resolve;
      });
      const transaction = request.result.transaction(['container', 'session'], 'readwrite');
      transaction.objectStore('container').put({ id: 'damaged-00001', kind: 'container', label: 7, measurement: {} });
      const session = transaction.objectStore('session');
      session.getAll().onsuccess = (event) => {
        for (const row of (event.target as IDBRequest).result) {
          session.put({ ...row, state: { ...row.state, job: { ...row.state.job, result: { outcome: 'measured' } } } });
        }
      };
      await new Promise((resolve) => {
        transaction.oncomplete = resolve;
      });
      request.result.close();
    });
    const later = await Maker.in(await withoutSaving(maker));
    await later.page.getByText('The job you were on is damaged', { exact: false }).waitFor();
    await later.visits('What I kept');
    await later.page.getByRole('button', { name: 'Open: sound one' }).waitFor();
    await later.page.getByText('One entry is damaged', { exact: false }).waitFor();
    await later.leaves();
  });

  test('that the browser had to empty is told, and the page goes on with an empty one', async () => {
    const profile = await mkdtemp(join(tmpdir(), 'roundwise-profile-'));
    try {
      const before = await Maker.in(await launchKeepingChromium(profile));
      await before.keepsContainer(samplePhoto(PHOTO), 'lost with the disk');
      await before.leaves();
      const folder = join(profile, 'Default', 'IndexedDB');
      for (const file of await readdir(folder, { recursive: true })) {
        if (/\.(log|ldb)$|MANIFEST/.test(file)) await writeFile(join(folder, file), Buffer.alloc(4096, 0x5a));
      }
      const after = await Maker.in(await launchKeepingChromium(profile));
      await after.page.getByText('The browser found its storage damaged and emptied it', { exact: false }).waitFor();
      await after.keepsContainer(samplePhoto(PHOTO), 'kept after that');
      await after.visits('What I kept');
      await after.page.getByRole('button', { name: 'Open: kept after that' }).waitFor();
      await after.leaves();
    } finally {
      await rm(profile, { recursive: true, force: true });
    }
  });

  test('of a newer Roundwise is left alone, and the maker is told', async () => {
    const maker = await Maker.arrives(browser());
    await maker.keepsContainer(samplePhoto(PHOTO), 'from before');
    await maker.page.evaluate(() => {
      const request = indexedDB.open('roundwise', 99);
      return new Promise((resolve) => {
        request.onsuccess = resolve;
      });
    });
    const later = await Maker.in(await withoutSaving(maker));
    await later.page.getByText('perhaps by a newer Roundwise', { exact: false }).waitFor();
    await later.leaves();
  });
});

test('a hostile file is refused in words, or what of it is damaged is left out, and what is kept stays', async () => {
  const maker = await Maker.arrives(browser());
  await maker.keepsContainer(samplePhoto(PHOTO), 'mine');
  await maker.visits('What I kept');
  const kept = maker.page.getByRole('button', { name: 'Open: mine' });
  const gauge = (inner: string) =>
    keptFile({ gauges: ['X'] }).replace(
      '"X"',
      `{"id":"aaaaaaaa","kind":"gauge","label":"g","createdAt":1,"changedAt":1,"gauge":${inner}}`,
    );
  const tenMegabytes = 'x'.repeat(10_000_000);
  const refused: readonly (readonly [string, RegExp])[] = [
    [tenMegabytes, /cannot be read as JSON/],
    [JSON.stringify(tenMegabytes), /not a Roundwise file/],
    [keptFile({ savedAt: 1, more: tenMegabytes }), /damaged: “savedAt”/],
    [keptFile({ version: 0 }), /damaged: “version”/],
    [keptFile({ version: 99 }), /newer Roundwise/],
    [gauge(`{"deep":${'['.repeat(1_000_000)}${']'.repeat(1_000_000)}}`), /Gauge “g”: “gauge” is missing or wrong/],
    [keptFile({ gauges: Array.from({ length: 100_000 }, () => ({})) }), /100000 entries of the file are damaged/],
    [keptFile({ __proto__: { containers: 1 }, containers: { length: 1e9 } }), /damaged: “containers”/],
  ];
  for (const [content, says] of refused) {
    await bringsIn(maker, content);
    await maker.page.getByText(says).waitFor();
    await kept.waitFor();
  }
  await bringsIn(maker, gauge('{"__proto__":{"owned":1},"constructor":{"prototype":{"owned":1}}}'));
  await maker.page.getByText('One entry brought in.').waitFor();
  expect(await maker.page.evaluate(() => ({}) as { owned?: number }).then(({ owned }) => owned)).toBeUndefined();
  await maker.page.reload();
  await kept.waitFor();
  await maker.leaves();
});

const TAPED = {
  id: 'brought-in-0001',
  kind: 'container',
  label: 'brought in',
  createdAt: 1,
  changedAt: 1,
  measurement: null,
  warnings: [],
  tape: { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 },
  photo: null,
};

/** A file of things kept, with this in it. */
function keptFile(content: object): string {
  const nothing = { containers: [], gauges: [], plans: [], carriers: [], pictures: [] };
  return JSON.stringify({ format: 'roundwise-kept', version: 1, savedAt: '', ...nothing, ...content });
}

async function bringsIn({ page }: Maker, content: string): Promise<void> {
  const file = { name: 'kept.json', mimeType: 'application/json', buffer: Buffer.from(content) };
  await page.getByTestId('kept-file').setInputFiles(file);
}

/** Kills the maker's tab, so that it cannot write once more as it closes. */
async function withoutSaving({ context, page }: Maker) {
  const crashed = page.waitForEvent('crash');
  const devtools = await context.newCDPSession(page);
  devtools.send('Page.crash').catch(() => {});
  await crashed;
  return context;
}
