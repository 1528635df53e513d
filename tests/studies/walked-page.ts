import type { Page } from 'playwright-core';
import type { KnownPhoto } from './walker.ts';

/** A picture reduced to 8 × 8 grey values: enough to tell a handful of photos apart, card covered or not. */
export type Look = readonly number[];

/** What stands on the screen at one moment. */
export interface Seen {
  readonly widestMm: number | null;
  readonly look: Look | null;
}

export interface Stored {
  /** `name` is the photo whose picture is kept with it; `isSingle` when one photo and no tape says its sizes. */
  readonly containers: readonly {
    readonly name: string | null;
    readonly widestMm: number | null;
    readonly isSingle: boolean;
  }[];
  readonly plans: readonly { readonly id: string; readonly createdAt: number; readonly roundsDone: number }[];
  readonly pictures: readonly { readonly name: string; readonly coveredShare: number }[];
  /** Photos laid aside that can be read as they lie. */
  readonly bareSealed: number;
}

/** Numbers and picture as they stand together; looked at again while they change. */
export function lookAt(page: Page): Promise<Seen> {
  return page.evaluate(async () => {
    const read = () => ({
      numbers: document.querySelector('.numbers')?.textContent ?? null,
      href: document.querySelector('.photo-canvas image')?.getAttribute('href') ?? null,
    });
    for (let k = 0; k < 50; k += 1) {
      const before = read();
      const [, mm] = /Across[^\d]*([\d.]+) ?mm/.exec(before.numbers ?? '') ?? [];
      const picture = before.href
        ? await fetch(before.href).then(
            (answer) => answer.blob(),
            () => null,
          )
        : null;
      const bitmap =
        picture && (await createImageBitmap(picture, { imageOrientation: 'from-image' }).catch(() => null));
      const canvas = new OffscreenCanvas(8, 8);
      const drawing = canvas.getContext('2d');
      if (bitmap && drawing) {
        drawing.imageSmoothingQuality = 'high';
        drawing.drawImage(bitmap, 0, 0, 8, 8);
      }
      const pixels = bitmap && drawing?.getImageData(0, 0, 8, 8).data;
      const after = read();
      if (after.numbers !== before.numbers || after.href !== before.href) continue;
      const look = pixels
        ? Array.from({ length: 64 }, (_, i) => (pixels[4 * i] + pixels[4 * i + 1] + pixels[4 * i + 2]) / 3)
        : null;
      return { widestMm: mm ? Number(mm) : null, look };
    }
    return { widestMm: null, look: null };
  });
}

/** All that lies in the browser's storage, pictures told apart by their look. */
export function storedIn(page: Page, photos: readonly KnownPhoto[]): Promise<Stored> {
  const known = photos.map(({ name, card, look }) => ({ name, card, look }));
  return page.evaluate(async (known) => {
    type Row = Record<string, unknown>;
    const database = await new Promise<IDBDatabase>((resolve) => {
      const request = indexedDB.open('roundwise');
      request.onsuccess = () => resolve(request.result);
    });
    const rows = (kind: string) =>
      new Promise<Row[]>((resolve) => {
        const request = database.transaction(kind).objectStore(kind).getAll();
        request.onsuccess = () => resolve(request.result);
      });
    const [containers, plans, pictures, sessions] = await Promise.all(
      ['container', 'plan', 'picture', 'session'].map(rows),
    );
    database.close();

    const judged = async (blob: Blob) => {
      const bitmap = await createImageBitmap(blob);
      const small = new OffscreenCanvas(8, 8).getContext('2d');
      const full = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d');
      if (!small || !full) throw new Error('no canvas');
      small.imageSmoothingQuality = 'high';
      small.drawImage(bitmap, 0, 0, 8, 8);
      full.drawImage(bitmap, 0, 0);
      const { data } = small.getImageData(0, 0, 8, 8);
      const look = Array.from({ length: 64 }, (_, i) => (data[4 * i] + data[4 * i + 1] + data[4 * i + 2]) / 3);
      // Where they are most alike: covers over cards change the rest.
      const distance = (other: readonly number[]) =>
        other
          .map((value, i) => (value - look[i]) ** 2)
          .sort((x, y) => x - y)
          .slice(0, 0.7 * look.length)
          .reduce((sum, square) => sum + square, 0);
      const photo = known.reduce((a, b) => (distance(b.look) < distance(a.look) ? b : a));
      const all = full.getImageData(0, 0, bitmap.width, bitmap.height).data;
      const [a, b, c, d] = photo.card;
      const cover = [0xd7, 0xde, 0xdb];
      let covered = 0;
      for (let i = 0; i < 20; i += 1) {
        for (let j = 0; j < 20; j += 1) {
          const [u, w] = [(i + 0.5) / 20, (j + 0.5) / 20];
          const at = (axis: 0 | 1) =>
            (1 - w) * ((1 - u) * a[axis] + u * b[axis]) + w * ((1 - u) * d[axis] + u * c[axis]);
          const pixel = 4 * (Math.floor(at(1) * bitmap.height) * bitmap.width + Math.floor(at(0) * bitmap.width));
          if (cover.every((value, k) => Math.abs(all[pixel + k] - value) < 10)) covered += 1;
        }
      }
      return { name: photo.name, coveredShare: covered / 400 };
    };

    const judgedPictures = new Map<string, { name: string; coveredShare: number }>();
    for (const row of pictures) {
      if (row.blanked instanceof Blob) judgedPictures.set(String(row.containerId), await judged(row.blanked));
    }
    const inSessions = [];
    for (const row of sessions) if (row.blanked instanceof Blob) inSessions.push(await judged(row.blanked));
    let bareSealed = 0;
    for (const name of await caches.keys()) {
      if (!/photo/.test(name)) continue;
      const cache = await caches.open(name);
      for (const place of await cache.keys()) {
        // Gone again by now, when the page sealed or dropped it meanwhile.
        const bytes = new Uint8Array((await (await cache.match(place))?.arrayBuffer()) ?? []);
        if (bytes[0] === 0xff && bytes[1] === 0xd8) bareSealed += 1;
      }
    }
    return {
      containers: containers.map((row) => {
        const measurement = row.measurement as { maxDiameterMm: { value: number } } | null;
        const further = row.furtherPhotos as unknown[];
        return {
          name: judgedPictures.get(String(row.id))?.name ?? null,
          widestMm: measurement?.maxDiameterMm.value ?? null,
          isSingle: further.length === 0,
        };
      }),
      plans: plans.map((row) => ({
        id: String(row.id),
        createdAt: Number(row.createdAt),
        roundsDone: (row.progress as { roundsDone: number } | null)?.roundsDone ?? 0,
      })),
      pictures: [...judgedPictures.values(), ...inSessions],
      bareSealed,
    };
  }, known);
}
