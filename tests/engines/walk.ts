import { type Engine, until } from './engine.ts';

/** What the walk takes hold of in the page; all of it is here, so that a changed page is mended in one place. */
const PAGE = {
  title: 'main h1',
  photo: '[data-testid="photo-file"]',
  keptFile: '[data-testid="kept-file"]',
  steps: { sizes: 'Sizes', plan: 'Plan' },
  menu: 'Menu',
  places: { kept: 'What I kept' },
  isKept: /Kept on this device as/,
  broughtIn: /One entry brought in/,
  plan: /Round 1\b/,
} as const;

/** A measured size as it is stored on the device, unrounded. */
export interface StoredSize {
  readonly value: number;
  readonly sd: number;
}

export interface StoredSizes {
  readonly maxDiameterMm: StoredSize;
  readonly heightMm: StoredSize;
}

export async function open(engine: Engine, url: string): Promise<void> {
  await engine.goTo(`${url}#photo`);
  await until(engine, `return document.querySelector('${PAGE.title}') !== null`);
}

/** Hands the page a photo and waits until other sizes are stored than those `before`. */
export async function measure(engine: Engine, photoPath: string, before?: StoredSizes): Promise<StoredSizes> {
  await until(engine, `return document.querySelector('${PAGE.photo}') !== null`);
  await engine.chooseFile(PAGE.photo, photoPath);
  return storedSizes(engine, before);
}

/** The sizes of the job in hand, as soon as they are stored. */
export function storedSizes(engine: Engine, before?: StoredSizes): Promise<StoredSizes> {
  return until<StoredSizes>(
    engine,
    `const database = await new Promise((resolve, reject) => {
      const request = indexedDB.open('roundwise');
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const rows = await new Promise((resolve) => {
      const request = database.transaction('session').objectStore('session').getAll();
      request.onsuccess = () => resolve(request.result);
    });
    database.close();
    const [latest] = rows.sort((a, b) => b.savedAt - a.savedAt);
    const found = latest?.state?.job?.result;
    if (found?.outcome !== 'measured') return null;
    const { maxDiameterMm, heightMm } = found.measurement;
    if (maxDiameterMm.value === ${before?.maxDiameterMm.value ?? null}) return null;
    return { maxDiameterMm, heightMm };`,
  );
}

/** Waits until the page has the container kept, which it does without being asked. */
export async function isKept(engine: Engine): Promise<void> {
  await press(engine, PAGE.steps.sizes);
  await reads(engine, PAGE.isKept);
}

export async function readPlan(engine: Engine): Promise<void> {
  await press(engine, PAGE.steps.plan);
  await reads(engine, PAGE.plan);
}

/** Brings in a file with things kept on another device. */
export async function bringIn(engine: Engine, path: string): Promise<void> {
  await press(engine, PAGE.menu);
  await press(engine, PAGE.places.kept);
  await until(engine, `return document.querySelector('${PAGE.keptFile}') !== null`);
  await engine.chooseFile(PAGE.keptFile, path);
  await reads(engine, PAGE.broughtIn);
}

/** Waits until the page is there without a network: its service worker has taken over. */
export async function isReadyForOffline(engine: Engine): Promise<void> {
  await until(engine, 'await navigator.serviceWorker.ready; return navigator.serviceWorker.controller !== null');
}

/** Presses the button of this name, folded away or not. */
async function press(engine: Engine, name: string): Promise<void> {
  await until(
    engine,
    `const named = (button) => (button.getAttribute('aria-label') ?? button.textContent).trim() === '${name}';
    const button = [...document.querySelectorAll('button:enabled')].find(named);
    button?.click();
    return button !== undefined`,
  );
}

async function reads(engine: Engine, words: RegExp): Promise<void> {
  await until(engine, `return ${words}.test(document.body.textContent)`);
}
