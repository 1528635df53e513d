import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { baseChartSvg } from '../../sizing/draw/base-chart.ts';
import { bodyChartSvg } from '../../sizing/draw/body-chart.ts';
import type { Plan } from '../../sizing/plan.ts';
import { drawingWords } from '../plan/words/drawing-words.ts';
import type { Reader, Voice } from '../plan/words/voice.ts';
import type { Text } from '../text/text.ts';
import { bundled, launchDrawingChromium } from './in-chromium.ts';

const web = fileURLToPath(new URL('../', import.meta.url));

/** The paper: Letter where lengths are in inches, else A4. */
const PAPER = { in: 'Letter', cm: 'A4' } as const;

/** What web/plan/pattern-page.tsx puts on the window. */
interface PatternPage {
  readonly showPattern: (title: string, plan: Plan, reader: Reader) => void;
}

/** Prints the pattern as the page prints it, by a Chromium of this machine. */
export async function writePdf(path: string, title: string, plan: Plan, voice: Voice): Promise<void> {
  const code = await bundled('web/plan/pattern-page.tsx', 'patternPage');
  const browser = await launchDrawingChromium();
  try {
    const page = await browser.newPage();
    await page.setContent('<!doctype html><html lang="en"><body></body></html>');
    await page.addStyleTag({ content: await printStyles() });
    await page.addScriptTag({ content: code });
    await page.evaluate(
      async ({ title, plan, reader }) => {
        const { patternPage } = window as unknown as { patternPage: PatternPage };
        patternPage.showPattern(title, plan, reader);
        await Promise.all(
          ['700 20px "Bricolage Grotesque"', '400 12px "Atkinson Hyperlegible Next"'].map((font) =>
            document.fonts.load(font),
          ),
        );
      },
      { title, plan, reader: voice.reader },
    );
    await page.pdf({ path, format: PAPER[voice.reader.units], preferCSSPageSize: false });
  } finally {
    await browser.close();
  }
}

/** The page's own type and print sheet, without the rest of its looks. */
async function printStyles(): Promise<string> {
  const font = async (file: string) => (await readFile(`${web}ui/fonts/${file}`)).toString('base64');
  const face = (family: string, weights: string, base64: string) =>
    `@font-face { font-family: "${family}"; src: url(data:font/woff2;base64,${base64}) format("woff2"); font-weight: ${weights}; }`;
  return [
    face('Bricolage Grotesque', '500 800', await font('title.woff2')),
    face('Atkinson Hyperlegible Next', '400 700', await font('text.woff2')),
    ':root { --font-title: "Bricolage Grotesque", sans-serif; --font-text: "Atkinson Hyperlegible Next", sans-serif; }',
    'body, h1, h2, p, ul, dl { margin: 0; }',
    await readFile(`${web}plan/print.css`, 'utf8'),
  ].join('\n');
}

/** The chart of the base; that of net and band, where there is one, beside it as NAME-net.svg. */
export async function writeCharts(path: string, plan: Plan, text: Text, voice: Voice): Promise<string[]> {
  const words = drawingWords(text, voice);
  await writeFile(path, onItsOwn(baseChartSvg(plan, words)));
  if (plan.zones.length === 0) return [path];
  const beside = path.replace(/(\.svg)?$/i, '-net.svg');
  await writeFile(beside, onItsOwn(bodyChartSvg(plan, words)));
  return [path, beside];
}

/** In black, and as large as it is made: a unit is a millimetre. */
function onItsOwn(svg: string): string {
  const [, width, height] = /viewBox="[-\d.]+ [-\d.]+ ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
  return svg.replace('<svg ', `<svg width="${width}mm" height="${height}mm" color="#000" `);
}
