import { fileURLToPath } from 'node:url';
import { type Browser, chromium } from 'playwright-core';
import { build } from 'vite';
import { findChromium } from '../../tests/support/ensure-chromium.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Draws with the processor alone where there is no graphics card, and opens no connection of its own. */
const DRAWING = [
  '--no-sandbox',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** No browser to draw or print with: the message says what to do. */
export class NoChromium extends Error {}

/** A headless Chromium with WebGL. */
export function launchDrawingChromium(): Promise<Browser> {
  const executablePath = findChromium();
  if (!executablePath) throw new NoChromium('No Chromium found: install it, or set CHROMIUM_PATH to one.');
  return chromium.launch({ executablePath, args: DRAWING });
}

/** One script that puts all exports of a module of ours on `window[name]`. */
export async function bundled(entry: string, name: string): Promise<string> {
  const output = await build({
    configFile: false,
    logLevel: 'error',
    root,
    define: { 'process.env.NODE_ENV': '"production"' },
    build: {
      write: false,
      minify: true,
      target: 'es2022',
      lib: { entry: `${root}${entry}`, formats: ['iife'], name },
    },
  });
  const [result] = Array.isArray(output) ? output : [output];
  if (!('output' in result)) throw new Error('The bundler watches instead of building.');
  return result.output.map((file) => (file.type === 'chunk' ? file.code : '')).join('\n');
}
