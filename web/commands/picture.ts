import { writeFile } from 'node:fs/promises';
import sharp from 'sharp';
import { CARRIER_KINDS, type Choices, defaultChoices, MESH_KINDS, STRAP_STYLES } from '../../sizing/choices.ts';
import { type Container, containerFromTape, MATERIALS } from '../../sizing/container.ts';
import { defaultGauge } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { FABRIC_STITCHES } from '../../sizing/stitches.ts';
import type { Measurement } from '../../vision/measurement.ts';
import type { PhotoToDrawOn } from '../carrier-view/picture-page.ts';
import { USUAL_YARN, YARN_SHADES, type YarnShade } from '../carrier-view/yarn-colours.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import { refusalText } from '../plan/words/refusal-words.ts';
import { IN_ENGLISH, voiceOf } from '../plan/words/voice.ts';
import { en } from '../text/en/text.ts';
import { PAPER } from '../ui/palette.ts';
import { EXIT, numberOption, oneOf, readArguments, runCommand, UsageError } from './command-line.ts';
import { decodePhotoFile } from './decode-photo-file.ts';
import { GIVEN_OPTIONS, GIVEN_OPTIONS_HELP, givenOptions } from './given-options.ts';
import { bundled, launchDrawingChromium } from './in-chromium.ts';
import { fitFile } from './measure-file.ts';

const HELP = `Draws a carrier, stitch for stitch, on its container: in a measured photo, or on a plain stage.

npm run --silent picture -- PHOTO --out FILE.png [options]
npm run --silent picture -- --diameter MM --height MM --out FILE.png [options]

Container, without a photo
  --diameter MM  --height MM  --top-diameter MM  --shoulder MM
  --material M        ${MATERIALS.join(', ')} (default: clear)
What to find in the photo
${GIVEN_OPTIONS_HELP}
Carrier
  --carrier K         ${CARRIER_KINDS.join(', ')} (default net)      --mesh K   ${MESH_KINDS.join(', ')}
  --stitch S          ${FABRIC_STITCHES.join(', ')} in US terms (default dc)
  --strap K           ${STRAP_STYLES.join(', ')}
Picture
  --colour C          of the yarn: #rrggbb, or ${Object.keys(YARN_SHADES).join(', ')}
  --turn DEG          turned about its axis       --tilt DEG   seen from above (without a photo)
  --see-through       the far side shows through the container in the photo
  --width PX  --height-px PX   (without a photo; default 1200 x 1600)
  --out FILE.png      where it goes
  --help              this text

The card's face is covered in every picture. Needs a Chromium (CHROMIUM_PATH, or one installed).
Exit code: 0 drawn, 1 it could not be measured or planned, 2 wrong call.
`;

const text = { type: 'string' } as const;
const OPTIONS = {
  ...GIVEN_OPTIONS,
  diameter: text,
  height: text,
  'top-diameter': text,
  shoulder: text,
  material: text,
  carrier: text,
  mesh: text,
  stitch: text,
  strap: text,
  colour: text,
  turn: text,
  tilt: text,
  'see-through': { type: 'boolean' },
  width: text,
  'height-px': text,
  out: text,
  help: { type: 'boolean' },
} as const;

type Values = ReturnType<typeof readArguments<typeof OPTIONS>>['values'];

runCommand('picture', async () => {
  const { values, positionals } = readArguments(OPTIONS);
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  const { out } = values;
  if (!out) throw new UsageError('--out is missing: where the picture goes');
  if (positionals.length > 1) throw new UsageError(`one photo at a time, not also ${positionals[1]}`);
  const colour = colourOption(values.colour);
  const degrees = (name: 'turn' | 'tilt', from: number, to: number) => {
    const value = numberOption(name, values[name], from, to);
    return value === undefined ? {} : { [`${name}Rad`]: (value * Math.PI) / 180 };
  };
  const turn = { ...degrees('turn', -360, 360), ...degrees('tilt', -14, 83) };
  const sizePx = [
    numberOption('width', values.width, 64, 2048) ?? 1200,
    numberOption('height-px', values['height-px'], 64, 2048) ?? 1600,
  ] as const;

  const photo = positionals.length > 0 ? await measuredPhoto(values, positionals[0]) : null;
  if (photo && 'refused' in photo) return said(photo.refused);
  const result = planCarrier(
    photo ? measurementToContainer(photo.measurement) : tapedContainer(values),
    ...making(values),
  );
  if (result.outcome === 'refused') return said(refusalText(result.reason, en.planRefusals, voiceOf(IN_ENGLISH)));
  const page = photo ? { photo, options: { behind: values['see-through'] ? 0.6 : 0 } } : { sizePx, options: { turn } };
  const picture = await drawn(result.plan, colour, page);
  if (!picture) return said('this browser has no WebGL 2 to draw with');
  await writeFile(out, picture);
  return EXIT.done;
});

type PageCall =
  | { readonly photo: PhotoToDrawOn; readonly options: { readonly behind: number } }
  | { readonly sizePx: readonly [number, number]; readonly options: { readonly turn: object } };

/** Draws in a browser of its own, which is closed again whatever happens. */
async function drawn(plan: Plan, colour: string, call: PageCall): Promise<Buffer | null> {
  const code = await bundled('web/carrier-view/picture-page.ts', 'picturePage');
  const browser = await launchDrawingChromium();
  try {
    const page = await browser.newPage();
    await page.setContent('<!doctype html>');
    await page.addScriptTag({ content: code });
    const url = await page.evaluate(
      ({ plan, colour, call }) => {
        const { stageText, photoText } = (
          window as unknown as { picturePage: typeof import('../carrier-view/picture-page.ts') }
        ).picturePage;
        return 'photo' in call
          ? photoText(plan, call.photo, colour, call.options)
          : stageText(plan, colour, call.sizePx, { ...call.options, background: PAPER });
      },
      { plan, colour, call },
    );
    return url ? Buffer.from(url.slice(url.indexOf(',') + 1), 'base64') : null;
  } finally {
    await browser.close();
  }
}

async function measuredPhoto(values: Values, path: string): Promise<PhotoToDrawOn | { readonly refused: string }> {
  const { measured } = await fitFile({ path, options: await givenOptions(values, path) });
  if (measured.result.outcome === 'refused') return { refused: measured.result.reason.message };
  const decoded = await decodePhotoFile(path);
  if (!decoded) return { refused: 'the photo could not be read again' };
  const { rgba, widthPx, heightPx } = decoded;
  const raw = { width: widthPx, height: heightPx, channels: 4 } as const;
  const jpeg = await sharp(rgba, { raw }).removeAlpha().jpeg({ quality: 92 }).toBuffer();
  const measurement: Measurement = measured.result.measurement;
  return { base64: jpeg.toString('base64'), widthPx, heightPx, measurement };
}

function tapedContainer(values: Values): Container {
  const diameterMm = numberOption('diameter', values.diameter, 0, 1e4);
  const heightMm = numberOption('height', values.height, 0, 1e4);
  if (diameterMm === undefined || heightMm === undefined) {
    throw new UsageError('give a photo, or --diameter and --height in mm');
  }
  const topDiameterMm = numberOption('top-diameter', values['top-diameter'], 0, 1e4);
  const shoulderZMm = numberOption('shoulder', values.shoulder, 0, 1e4);
  const material = oneOf('material', values.material, MATERIALS) ?? null;
  return { ...containerFromTape({ diameterMm, heightMm, topDiameterMm, shoulderZMm }), material };
}

function making(values: Values): [ReturnType<typeof defaultGauge>, Choices] {
  const usual = defaultChoices(oneOf('carrier', values.carrier, CARRIER_KINDS));
  const kind = oneOf('mesh', values.mesh, MESH_KINDS) ?? usual.mesh.kind;
  const style = oneOf('strap', values.strap, STRAP_STYLES) ?? usual.strap.style;
  return [
    defaultGauge(oneOf('stitch', values.stitch, FABRIC_STITCHES)),
    { ...usual, mesh: { ...usual.mesh, kind }, strap: { ...usual.strap, style } },
  ];
}

function colourOption(typed: string | undefined): string {
  if (typed === undefined) return USUAL_YARN;
  if (/^#[0-9a-f]{6}$/i.test(typed)) return typed.toLowerCase();
  const shade = oneOf('colour', typed, Object.keys(YARN_SHADES) as YarnShade[]);
  return shade ? YARN_SHADES[shade] : USUAL_YARN;
}

function said(why: string): number {
  process.stderr.write(`picture: ${why}\n`);
  return EXIT.refused;
}
