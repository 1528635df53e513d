import { describe, expect, test } from 'vitest';
import { Maker, samplePhoto, startChromium } from './maker.ts';

const browser = startChromium();
const FLASK = samplePhoto('steel-flask-standing-on-white-desk');
const JAR = samplePhoto('jam-jar-standing-on-dark-desk');

/** What the store holds of one kind. */
function kept(maker: Maker, kind: 'container' | 'plan'): Promise<Record<string, unknown>[]> {
  return maker.page.evaluate(async (kind) => {
    const request = indexedDB.open('roundwise');
    await new Promise((resolve) => {
      request.onsuccess = resolve;
    });
    const all = request.result.transaction(kind).objectStore(kind).getAll();
    await new Promise((resolve) => {
      all.onsuccess = resolve;
    });
    request.result.close();
    return all.result;
  }, kind);
}

const labels = async (maker: Maker) => (await kept(maker, 'container')).map(({ label }) => label);
const ticks = async (maker: Maker) =>
  (await kept(maker, 'plan')).map(({ progress }) => (progress as { roundsDone: number } | null)?.roundsDone ?? 0);

test('a photo picked while another photo of the container before is still measured gets its own sizes', async () => {
  const alone = await Maker.arrives(browser());
  await alone.choosesPhoto(JAR);
  await alone.waitsForSizes();
  const jar = await alone.reads('Widest');
  await alone.leaves();

  const maker = await Maker.arrives(browser());
  await maker.choosesPhoto(FLASK);
  await maker.waitsForSizes();
  await maker.page.getByTestId('further-photo').setInputFiles([FLASK, FLASK]);
  await maker.goesTo('Photo');
  await maker.choosesPhoto(JAR);
  await maker.page.waitForFunction(() => location.hash === '#sizes');
  await maker.waitsForSizes();
  expect(await maker.reads('Widest')).toEqual(jar);
  await maker.leaves();
});

describe('there is no unkept job', () => {
  test('the tape, another photo and a kept thing take its place, and it is there with its ticks', async () => {
    const maker = await Maker.arrives(browser());
    await maker.typesTape('230', '180');
    await maker.names('first bottle');
    await maker.goesTo('Plan');
    await maker.page.getByRole('checkbox', { name: /round/i }).nth(2).check();
    await maker.goesTo('Photo');
    await maker.typesTape('250', '180');
    await maker.names('second bottle');
    await maker.visits('What I kept');
    await maker.page.getByRole('button', { name: 'Open: first bottle' }).first().click();
    await maker.page.locator('.numbers').waitFor();
    expect((await labels(maker)).sort()).toEqual(['first bottle', 'second bottle']);
    expect(await ticks(maker)).toContainEqual(3);
    await maker.leaves();
  });

  test('a container is deleted with its plan, and both come back with its ticks when that is undone', async () => {
    const maker = await Maker.arrives(browser());
    await maker.typesTape('230', '180');
    await maker.names('bottle');
    await maker.goesTo('Plan');
    const rounds = maker.page.getByRole('checkbox', { name: /round/i });
    await rounds.nth(2).check();
    await expect.poll(() => ticks(maker)).toEqual([3]);
    const [plan] = await kept(maker, 'plan');
    await maker.visits('What I kept');
    await maker.page.getByRole('button', { name: 'Delete: bottle' }).click();
    await maker.page.getByRole('button', { name: 'Delete it' }).click();
    await maker.page.getByRole('button', { name: 'Undo' }).waitFor();
    expect(await labels(maker)).toEqual([]);
    expect(await ticks(maker)).toEqual([]);
    await maker.page.getByRole('button', { name: 'Undo' }).click();
    await maker.page.getByRole('button', { name: 'Plan: bottle' }).click();
    await rounds.nth(2).waitFor();
    expect(await rounds.nth(2).isChecked()).toBe(true);
    await maker.leaves();

    // One whose container is gone, as an earlier version or a file may leave it, opens by itself and stays.
    const later = await Maker.arrives(browser());
    const file = { format: 'roundwise-kept', version: 1, savedAt: '', containers: [], gauges: [], carriers: [] };
    const buffer = Buffer.from(JSON.stringify({ ...file, plans: [plan], pictures: [] }));
    await later.visits('What I kept');
    await later.page.getByTestId('kept-file').setInputFiles({ name: 'k.json', mimeType: 'application/json', buffer });
    await later.page.getByRole('button', { name: 'Open: bottle' }).click();
    const theirs = later.page.getByRole('checkbox', { name: /round/i });
    await theirs.nth(2).waitFor();
    expect(await theirs.nth(2).isChecked()).toBe(true);
    await later.page.reload();
    await theirs.nth(2).waitFor();
    expect(await theirs.nth(2).isChecked()).toBe(true);
    await later.leaves();
  });
});

test('what the page calls kept is what the store holds, not what it held before the last change', async () => {
  const maker = await Maker.arrives(browser());
  await maker.typesTape('230', '180');
  await maker.names('bottle');
  const kept = maker.page.getByText('Kept on this device as', { exact: false });
  expect(await kept.count()).toBe(1);
  // From here on the disk takes nothing more.
  await maker.page.evaluate(() => {
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  await maker.page.getByLabel('Name', { exact: true }).fill('another name');
  await maker.page.getByText('The device is full', { exact: false }).waitFor();
  expect(await kept.count()).toBe(0);
  expect(await labels(maker)).toEqual(['bottle']);
  await maker.leaves();
});

test('a tab that is reloaded with an older copy of a plan takes up the newer ticks', async () => {
  const first = await Maker.arrives(browser());
  await first.typesTape('230', '180');
  await first.names('bottle');
  await first.goesTo('Plan');
  const rounds = first.page.getByRole('checkbox', { name: /round/i });
  await rounds.nth(2).check();
  await expect.poll(() => ticks(first)).toEqual([3]);
  const second = await Maker.in(first.context);
  await second.visits('What I kept');
  await second.page.getByRole('button', { name: 'Plan: bottle' }).click();
  const theirs = second.page.getByRole('checkbox', { name: /round/i });
  await theirs.nth(7).check();
  await expect.poll(() => ticks(first)).toEqual([8]);
  // The first tab hears of it at once, and the reload writes nothing.
  await expect.poll(() => rounds.nth(7).isChecked()).toBe(true);
  await first.page.reload();
  await rounds.nth(7).waitFor();
  expect(await rounds.nth(7).isChecked()).toBe(true);
  expect(await ticks(first)).toEqual([8]);
  await first.leaves();
});

test('a worker that ends without a word is replaced, and the photo is measured after all', async () => {
  const maker = await Maker.arrives(browser());
  const begun = maker.page.waitForEvent('worker');
  await maker.choosesPhoto(FLASK);
  const worker = maker.page.workers()[0] ?? (await begun);
  await worker.evaluate(() => self.close()).catch(() => {});
  await maker.waitsForSizes();
  expect((await maker.reads('Widest')).mm).toBeGreaterThan(50);
  await maker.leaves();
});

test('a backup in which some entries are impossible brings in the rest and names them', async () => {
  const maker = await Maker.arrives(browser());
  await maker.visits('What I kept');
  const tape = { circumferenceMm: 230, baseCircumferenceMm: null, heightMm: 200 };
  const common = { kind: 'container', createdAt: 1, changedAt: 1, measurement: null, warnings: [], photo: null };
  const file = {
    format: 'roundwise-kept',
    version: 1,
    savedAt: '',
    containers: [
      { ...common, id: 'sound-0001', label: 'sound one', tape },
      { ...common, id: 'odd-000001', label: 'minus one', tape: { ...tape, heightMm: -73 } },
      { ...common, id: 'odd-000002', label: 'of the year 3000', tape, changedAt: 32_503_680_000_000 },
    ],
    gauges: [],
    plans: [],
    carriers: [],
    pictures: [],
  };
  const buffer = Buffer.from(JSON.stringify(file));
  await maker.page.getByTestId('kept-file').setInputFiles({ name: 'k.json', mimeType: 'application/json', buffer });
  await maker.page.getByText('One entry brought in.').waitFor();
  await maker.page.getByText('Container “minus one”: “tape.heightMm” is missing or wrong').waitFor();
  await maker.page.getByText('Container “of the year 3000”: “changedAt” is missing or wrong').waitFor();
  await maker.page.getByRole('button', { name: 'Open: sound one' }).waitFor();
  await maker.page.getByRole('button', { name: 'Undo' }).click();
  await maker.page.getByText('All is as it was before the file.').waitFor();
  expect(await labels(maker)).toEqual([]);
  await maker.leaves();
});
