import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import * as v from 'valibot';
import { type Engine, type Measured, measureAndFit } from '../../vision/measure-photo.ts';
import { measureSameContainer } from '../../vision/measure-same-container.ts';
import type { Measurement } from '../../vision/measurement.ts';
import type { Photo } from '../../vision/picture/photo.ts';
import { type Hint, hintFor } from '../../vision/viewfinder/hint.ts';
import { BEGINNING, GOOD_ENOUGH, halfWidth, readiness, type Settling, settle } from '../../vision/viewfinder/settle.ts';
import { hasMoved, isDark, type Thumbnail } from '../../vision/viewfinder/thumbnail.ts';
import { EXIT, readArguments, runWhenStarted, type Terminal, UsageError } from './command-line.ts';
import { loadEngine } from './measure-file.ts';

const HELP = `Looks at a clip as the viewfinder does: what it sees, what it would say, when it would take the picture.

npm run --silent live -- CLIP [options]

CLIP is an MJPEG file (JPEG frames one after the other) or a folder of frames in the order of their names; CLIP.json
beside it, where there is one, says its framesPerSecond (6 otherwise), maxDiameterMm and heightMm. Frames that pass while
the engine is busy are not looked at.

  --wish PERCENT  the ± (half of the 95 % interval) at which a picture is good enough; ${100 * GOOD_ENOUGH} otherwise
  --json          one JSON object a look, and one for the whole clip
  --help          this text

Exit code: 0 the picture took itself, 1 it did not, 2 wrong call.
`;

const OPTIONS = { wish: { type: 'string' }, json: { type: 'boolean' }, help: { type: 'boolean' } } as const;

const USUAL_RATE = 6;
/** Frames of one container that are fitted together. */
const MOST_TOGETHER = 5;
const THUMBNAIL_LONG_SIDE_PX = 64;

const positive = v.pipe(v.number(), v.finite(), v.gtValue(0));
const ABOUT = v.object({
  framesPerSecond: v.optional(positive, USUAL_RATE),
  maxDiameterMm: v.optional(positive),
  heightMm: v.optional(positive),
});
type About = v.InferOutput<typeof ABOUT>;

interface Look {
  readonly frame: number;
  readonly ms: number;
  readonly measured: Measured;
  readonly hint: Hint | null;
}

export async function live(terminal: Terminal): Promise<number> {
  const { values, positionals } = readArguments(OPTIONS, terminal.args);
  if (values.help) {
    terminal.out(HELP);
    return EXIT.done;
  }
  const [clip, ...more] = positionals;
  if (!clip || more.length > 0) throw new UsageError('one clip, please');
  const wish = values.wish === undefined ? GOOD_ENOUGH : Number(values.wish) / 100;
  if (!(wish > 0 && wish < 1)) throw new UsageError(`--wish ${values.wish} is no share in percent`);
  const frames = await framesOf(clip);
  if (frames.length === 0) throw new UsageError('there are no JPEG frames in it');
  const about = await aboutClip(clip);
  const engine = await loadEngine();
  const tell = (line: object, words: string) => terminal.out(values.json ? `${JSON.stringify(line)}\n` : `${words}\n`);
  const { looks, shot } = await lookThrough(engine, frames, about.framesPerSecond, wish, (look) =>
    tell(lookLine(look), wordsOf(look)),
  );
  const summary = summaryOf(looks, shot, about);
  tell(summary, summaryWords(summary));
  return shot ? EXIT.done : EXIT.refused;
}

/** Looks one after the other; each begins with the frame that is there when the one before is done. */
async function lookThrough(
  engine: Engine,
  frames: readonly Buffer[],
  framesPerSecond: number,
  wish: number,
  onLook: (look: Look) => void,
): Promise<{ readonly looks: readonly Look[]; readonly shot: Look | null }> {
  const looks: Look[] = [];
  let settling: Settling = BEGINNING;
  for (let seconds = 0; ; ) {
    const frame = Math.floor(seconds * framesPerSecond);
    if (frame >= frames.length) return { looks, shot: null };
    const photo = await photoOf(frames[frame]);
    const start = performance.now();
    const measured = measureAndFit(engine, photo, { atAGlance: true }, () => {});
    const ms = performance.now() - start;
    const thumbnail = await thumbnailOf(frames[frame]);
    const isMoving = frame > 0 && hasMoved(await thumbnailOf(frames[frame - 1]), thumbnail);
    const hint = hintFor(measured.result, { ...photo, isMoving, isDark: isDark(thumbnail) });
    settling = settle(settling, measured.result, isMoving);
    const look = { frame, ms, measured, hint };
    looks.push(look);
    onLook(look);
    if (readiness(settling, hint, wish) >= 1) return { looks, shot: look };
    seconds += Math.max(ms / 1000, 1 / framesPerSecond);
  }
}

function measurementOf({ measured: { result } }: Look): Measurement | null {
  return result.outcome === 'measured' ? result.measurement : null;
}

function lookLine(look: Look) {
  const measurement = measurementOf(look);
  const { result } = look.measured;
  return {
    frame: look.frame,
    ms: Math.round(look.ms),
    state: result.outcome === 'measured' ? 'measured' : result.reason.code,
    hint: look.hint,
    sizes: measurement && { maxDiameterMm: measurement.maxDiameterMm, heightMm: measurement.heightMm },
  };
}

function wordsOf(look: Look): string {
  const { state, sizes } = lookLine(look);
  const length = ({ value, low95, high95 }: { value: number; low95: number; high95: number }) =>
    `${value.toFixed(0)} ± ${((high95 - low95) / 2).toFixed(0)}`;
  const seen = sizes ? `${length(sizes.maxDiameterMm)} × ${length(sizes.heightMm)} mm` : state;
  return `frame ${look.frame}, ${Math.round(look.ms)} ms: ${seen}${look.hint ? `; ${look.hint}` : ''}`;
}

/** Errors of all believed looks fitted together, and of the picture that took itself alone. */
function summaryOf(looks: readonly Look[], shot: Look | null, { maxDiameterMm, heightMm }: About) {
  const seconds = looks.reduce((sum, { ms }) => sum + ms, 0) / 1000;
  const believed = looks.filter((look) => measurementOf(look) !== null).slice(-MOST_TOGETHER);
  const together = shot && measureSameContainer(believed.map(({ measured }) => measured));
  const single = shot && measurementOf(shot);
  const joint = together?.measurement ?? single;
  const errorOf = (measurement: Measurement | null | undefined) =>
    measurement && maxDiameterMm && heightMm
      ? {
          widest: 100 * (measurement.maxDiameterMm.value / maxDiameterMm - 1),
          height: 100 * (measurement.heightMm.value / heightMm - 1),
        }
      : null;
  return {
    looks: looks.length,
    looksPerSecond: looks.length / seconds,
    framesTracked: 0,
    autoShotAtFrame: shot?.frame ?? null,
    errorPct: errorOf(joint),
    singlePhotoErrorPct: errorOf(single),
    halfWidthPct: joint ? 100 * halfWidth([joint.maxDiameterMm, joint.heightMm]) : null,
    firstHints: looks.slice(0, 3).map(({ hint }) => hint),
  };
}

function summaryWords({ looks, looksPerSecond, autoShotAtFrame }: ReturnType<typeof summaryOf>): string {
  const end = autoShotAtFrame === null ? 'the picture did not take itself' : `taken at frame ${autoShotAtFrame}`;
  return `${looks} looks, ${looksPerSecond.toFixed(1)} a second; ${end}`;
}

async function framesOf(clip: string): Promise<Buffer[]> {
  const about = await stat(clip).catch(() => null);
  if (about?.isDirectory()) {
    const names = (await readdir(clip)).filter((name) => /\.(jpe?g|png)$/i.test(name)).sort();
    return Promise.all(names.map((name) => readFile(join(clip, name))));
  }
  if (!about?.isFile()) throw new UsageError(`${clip} is neither a clip nor a folder of frames`);
  return splitMotionJpeg(await readFile(clip));
}

const START = Buffer.from([0xff, 0xd8, 0xff]);
const END = Buffer.from([0xff, 0xd9]);

/** JPEG files that lie one after the other. Source of the markers: ITU-T T.81, table B.1. */
export function splitMotionJpeg(bytes: Buffer): Buffer[] {
  const frames: Buffer[] = [];
  for (let start = bytes.indexOf(START); start >= 0; ) {
    const end = bytes.indexOf(END, start);
    if (end < 0) break;
    frames.push(bytes.subarray(start, end + END.length));
    start = bytes.indexOf(START, end);
  }
  return frames;
}

async function aboutClip(clip: string): Promise<About> {
  const beside = `${clip.replace(/\.[a-z]+$/i, '')}.json`;
  const text = await readFile(beside, 'utf8').catch(() => '{}');
  const about = v.safeParse(v.pipe(v.string(), v.parseJson(), ABOUT), text);
  if (!about.success) throw new UsageError(`${beside} does not say what it should`);
  return about.output;
}

async function photoOf(frame: Buffer): Promise<Photo> {
  const { data, info } = await sharp(frame).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  const lens = { focal35Mm: null, looksCropped: false };
  return { widthPx: info.width, heightPx: info.height, rgba: new Uint8Array(data), lens };
}

async function thumbnailOf(frame: Buffer): Promise<Thumbnail> {
  const { data, info } = await sharp(frame)
    .resize(THUMBNAIL_LONG_SIDE_PX, THUMBNAIL_LONG_SIDE_PX, { fit: 'inside' })
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { widthPx: info.width, heightPx: info.height, rgba: new Uint8ClampedArray(data) };
}

runWhenStarted('live', import.meta.url, live);
