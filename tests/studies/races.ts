/** Random walks of the built page, looking for photos, jobs and ticks that get mixed up or lost: `npm run study:races`. */
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { EXIT, numberOption, readArguments, runCommand } from '../../web/commands/command-line.ts';
import { buildPage, serveFolder } from '../browser/serve-page.ts';
import { launchChromium } from '../support/chromium.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { sampleTruth } from '../support/truth.ts';
import { type KnownPhoto, measuredAlone, Walker } from './walker.ts';

const HELP = `Seeded random walks of the built page in Chromium over photos of known truth: pick, add a photo, cancel, back,
reload, second tab, open kept, share, tape, tick, kill. After every step what is shown must belong to the photo on screen,
every tick ever made must be in the store, and every stored picture must have its card covered.

npm run --silent study:races -- [--walks 200] [--steps 20] [--seed N] [--built FOLDER] [--json]

--built  walk a page that was built into this folder before
`;
/** Small enough to be measured in a second or two, large enough for the card to span 100 px. */
const LONG_SIDE_PX = 1000;
const PHOTOS = [
  'tumbler-standing-on-dark-desk',
  'jam-jar-standing-on-dark-desk',
  'steel-flask-standing-on-white-desk',
  'jar-standing-on-linen',
];

runCommand('study:races', async () => {
  const { values } = readArguments({
    walks: { type: 'string' },
    steps: { type: 'string' },
    seed: { type: 'string' },
    built: { type: 'string' },
    json: { type: 'boolean' },
    help: { type: 'boolean' },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  const walks = numberOption('walks', values.walks, 1, 1e5) ?? 200;
  const steps = numberOption('steps', values.steps, 1, 1000) ?? 20;
  const seed = numberOption('seed', values.seed, 0, 1e9) ?? 1;
  const outDir = values.built ?? fileURLToPath(new URL('../../node_modules/.tmp/walked-page', import.meta.url));
  if (!values.built) buildPage(outDir);
  const { url, close } = await serveFolder(outDir);
  const browser = await launchChromium();
  const found = { walks: 0, steps: 0, mixedUp: 0, lost: 0, uncovered: 0, errors: 0 };
  try {
    const photos: KnownPhoto[] = [];
    for (const name of PHOTOS) photos.push(await measuredAlone(browser, url, await smallPhoto(name)));
    if (!values.json) {
      process.stdout.write(`alone: ${photos.map(({ name, widestMm }) => `${name} ${widestMm} mm`).join(', ')}\n`);
    }
    for (let k = 0; k < walks; k += 1) {
      const walker = await Walker.begins(browser, { url, photos, random: seededRandom(seed + k) });
      const said = await walker.walks(steps);
      found.walks += 1;
      found.steps += said.steps;
      for (const kind of ['mixedUp', 'lost', 'uncovered', 'errors'] as const) {
        found[kind] += said[kind].length;
        for (const what of said[kind]) process.stderr.write(`walk ${seed + k}: ${kind}: ${what}\n`);
      }
      if (!values.json)
        process.stdout.write(`walk ${seed + k}: ${said.path.join(' ')} ${JSON.stringify(said.judged)}\n`);
    }
  } finally {
    await browser.close();
    await close();
  }
  process.stdout.write(`${JSON.stringify(found)}\n`);
  return found.mixedUp + found.lost + found.uncovered + found.errors === 0 ? EXIT.done : EXIT.refused;
});

async function smallPhoto(name: string): Promise<Omit<KnownPhoto, 'widestMm' | 'look'>> {
  const { cornersPx } = await sampleTruth(name);
  const photo = sharp(fileURLToPath(new URL(`../../sample-images/${name}.jpg`, import.meta.url)));
  const { width = 1, height = 1 } = await photo.metadata();
  const jpeg = await photo
    .resize({ width: LONG_SIDE_PX, height: LONG_SIDE_PX, fit: 'inside' })
    .keepExif()
    .jpeg({ quality: 90 })
    .toBuffer();
  return { name, jpeg, card: cornersPx.map(([x, y]) => [x / width, y / height] as const) };
}
