import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import sharp from 'sharp';
import type { Plugin } from 'vite';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config';
import { shippedLicences, shippedPackages } from './web/commands/shipped-licences.ts';
import { LICENCES_FILE } from './web/licences/licences.ts';

/**
 * The OpenCV package carries its WebAssembly as base64 inside JavaScript. This takes it out into a `.wasm` file of its
 * own, so that the browser streams, compiles and caches it apart from the code.
 */
function openCvAsWasmFile(): Plugin {
  const modulePath = /@opencvjs[\\/]web[\\/]lib[\\/]opencv_js\.js$/;
  const base64Wasm = /"data:application\/octet-stream;base64,([A-Za-z0-9+/=]+)"/;
  const readsEmbeddedWasm = 'async function instantiateAsync(binary,binaryFile,imports){';
  const streamsWasmFile =
    'const fetched=await fetch(binaryFile,{credentials:"same-origin"});' +
    'return WebAssembly.instantiateStreaming(fetched.clone(),imports)' +
    '.catch(async()=>WebAssembly.instantiate(await fetched.arrayBuffer(),imports));';
  const devPath = '/opencv.wasm';
  let serving = false;
  const wasmOf = (code: string): Uint8Array => Buffer.from(base64Wasm.exec(code)?.[1] ?? '', 'base64');
  return {
    name: 'opencv-as-wasm-file',
    configResolved(config) {
      serving = config.command === 'serve';
    },
    configureServer(server) {
      const source = new URL('./node_modules/@opencvjs/web/lib/opencv_js.js', import.meta.url);
      server.middlewares.use(devPath, (_request, response) => {
        response.setHeader('Content-Type', 'application/wasm');
        response.end(wasmOf(readFileSync(source, 'utf8')));
      });
    },
    transform(code, id) {
      if (!modulePath.test(id.split('?')[0])) return null;
      const url = serving
        ? JSON.stringify(devPath)
        : `import.meta.ROLLUP_FILE_URL_${this.emitFile({ type: 'asset', name: 'opencv.wasm', source: wasmOf(code) })}`;
      if (!code.includes(readsEmbeddedWasm)) this.error('This OpenCV package loads its WebAssembly in an unknown way.');
      const streaming = code.replace(readsEmbeddedWasm, (start) => start + streamsWasmFile);
      return { code: streaming.replace(base64Wasm, () => url), map: null };
    },
  };
}

/** Parts of ExifReader that read nothing Roundwise asks for: colour profiles, captions, editing history and the like. */
const UNREAD_METADATA = ['IPTC', 'XMP', 'ICC', 'MPF', 'PHOTOSHOP', 'THUMBNAIL', 'TIFF', 'JFIF', 'JXL', 'MAKER_NOTES'];

/** ExifReader's switches as constants, so that the parts that are off fall out of the bundle. */
function exifReaderInPart(): Plugin {
  return {
    name: 'exifreader-in-part',
    transform(code, id) {
      if (!/exifreader[\\/]src[\\/]/.test(id)) return null;
      const part = code.replace(/\bConstants\.USE_(\w+)/g, (_, name) => String(!UNREAD_METADATA.includes(name)));
      return { code: part, map: null };
    },
  };
}

/** Serves the sample photos and small pictures of them under `samples/`, and tells the page what there is. */
function samplePhotos(): Plugin {
  const folder = new URL('./sample-images/', import.meta.url);
  const photosIn = (part: string) =>
    readdirSync(new URL(part, folder))
      .filter((file) => file.endsWith('.jpg'))
      .map((file) => part + file.slice(0, -'.jpg'.length));
  const containers = photosIn('./').map((name) => name.slice('./'.length));
  const names = [...containers, ...photosIn('coin/'), ...photosIn('work/')];
  const truthOf = (path: string) => JSON.parse(readFileSync(new URL(`${path}.json`, folder), 'utf8'));
  const coinSamples = photosIn('coin/').map((path) => {
    const { id, round } = truthOf(path);
    return { name: id, reference: round.name };
  });
  const workSamples = photosIn('work/').map((path) => {
    const { id, piece, work, round } = truthOf(path);
    const counted = { rounds: work.rounds, stitches: work.stitches, rowsRun: work.rows_run ?? null };
    return { name: id, piece, ...counted, reference: round?.name ?? null };
  });
  const code = `export default ${JSON.stringify(containers)};\nexport const coinSamples = ${JSON.stringify(coinSamples)};\nexport const workSamples = ${JSON.stringify(workSamples)};`;
  const {
    name: exampleName,
    crop,
    width,
  } = JSON.parse(readFileSync(new URL('./web/photo/example.json', import.meta.url), 'utf8'));
  const photo = (name: string) => readFileSync(new URL(`${name}.jpg`, folder));
  const thumbnail = (name: string) => sharp(photo(name)).rotate().resize(240, 240).webp({ quality: 75 }).toBuffer();
  const example = () => sharp(photo(exampleName)).rotate().extract(crop).resize(width).webp({ quality: 70 }).toBuffer();
  return {
    name: 'sample-photos',
    resolveId: (id) => (id === 'virtual:samples' ? '\0virtual:samples' : null),
    load: (id) => (id === '\0virtual:samples' ? code : null),
    configureServer(server) {
      server.middlewares.use('/samples', async (request, response, next) => {
        if (request.url === '/example.webp') {
          response.setHeader('Content-Type', 'image/webp');
          return response.end(await example());
        }
        const [, name, kind] = /^\/((?:(?:work|coin)\/)?[\w-]+)\.(jpg|webp)/.exec(request.url ?? '') ?? [];
        if (!names.includes(name)) return next();
        response.setHeader('Content-Type', `image/${kind === 'jpg' ? 'jpeg' : 'webp'}`);
        response.end(kind === 'jpg' ? photo(name) : await thumbnail(name));
      });
    },
    async generateBundle() {
      this.emitFile({ type: 'asset', fileName: 'samples/example.webp', source: await example() });
      for (const name of names) {
        this.emitFile({ type: 'asset', fileName: `samples/${name}.jpg`, source: photo(name) });
        this.emitFile({ type: 'asset', fileName: `samples/${name}.webp`, source: await thumbnail(name) });
      }
    },
  };
}

const root = fileURLToPath(new URL('./', import.meta.url));

/** Writes the licences of all that is inside the page beside it. */
function licenceTexts(): Plugin {
  const source = () => JSON.stringify(shippedLicences(root));
  return {
    name: 'licence-texts',
    configureServer(server) {
      server.middlewares.use(`/${LICENCES_FILE}`, (_request, response) => {
        response.setHeader('Content-Type', 'application/json');
        response.end(source());
      });
    },
    generateBundle() {
      this.emitFile({ type: 'asset', fileName: LICENCES_FILE, source: source() });
    },
  };
}

/** Nothing goes into page or workers that the list of licences does not name. */
function onlyLicensedPackages(): Plugin {
  return {
    name: 'only-licensed-packages',
    apply: 'build',
    generateBundle() {
      const listed = shippedPackages(root);
      for (const id of this.getModuleIds()) {
        const [, name] = /.*node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(id) ?? [];
        if (name && !listed.includes(name))
          this.error(`${name} is shipped, but the list of licences does not name it.`);
      }
    },
  };
}

const ICON_SIZES_PX = [180, 192, 512];

/** Bitmap icons for home screens, drawn from icon.svg. */
function iconsFromSvg(): Plugin {
  return {
    name: 'icons-from-svg',
    apply: 'build',
    async generateBundle() {
      const svg = readFileSync(new URL('./web/public/icon.svg', import.meta.url));
      for (const size of ICON_SIZES_PX) {
        const source = await sharp(svg).resize(size, size).png().toBuffer();
        this.emitFile({ type: 'asset', fileName: `icon-${size}.png`, source });
      }
    },
  };
}

/**
 * The page may load from its own origin only: no inline scripts, no other hosts. Workers are bound by the headers of
 * their own file; OpenCV builds its bindings with generated functions there, so the page itself needs no such permit.
 */
function contentSecurityPolicy(): Plugin {
  const policy = [
    "default-src 'none'",
    "script-src 'self'",
    "worker-src 'self'",
    "style-src 'self'",
    "img-src 'self' blob: data:",
    "font-src 'self'",
    "connect-src 'self' blob:",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
  ].join('; ');
  return {
    name: 'content-security-policy',
    apply: 'build',
    transformIndexHtml: () => [
      { tag: 'meta', attrs: { 'http-equiv': 'Content-Security-Policy', content: policy }, injectTo: 'head-prepend' },
    ],
  };
}

/** Installable, works offline after the first visit, takes photos that other apps share. */
function installable() {
  return VitePWA({
    strategies: 'injectManifest',
    srcDir: 'engine/worker',
    filename: 'service-worker.ts',
    injectRegister: false,
    injectManifest: {
      rollupFormat: 'iife',
      globPatterns: ['**/*.{html,js,css,json,wasm,svg,png,webp,jpg,webmanifest,onnx,bin,woff2}'],
      // OpenCV is 8.4 MB before compression.
      maximumFileSizeToCacheInBytes: 12e6,
    },
    manifest: {
      name: 'Roundwise',
      short_name: 'Roundwise',
      description: 'From a photo of a bottle to a crochet carrier that fits',
      start_url: './',
      scope: './',
      display: 'standalone',
      background_color: '#f6f1e7',
      theme_color: '#0f5b53',
      icons: [
        { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
        { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
        { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
      ],
      share_target: {
        action: './share',
        method: 'POST',
        enctype: 'multipart/form-data',
        params: { files: [{ name: 'photo', accept: ['image/*'] }] },
      },
    },
  });
}

const LONG_TESTS = 'tests/**/*.long.test.ts';
const BROWSER_TESTS = 'tests/browser/**';
const ENGINE_TESTS = 'tests/engines/*.test.ts';
/** Nothing here takes minutes, but a machine may be ten times as busy as the one it was written on. */
const PATIENT_MS = 10 * 60_000;
const patience = { testTimeout: PATIENT_MS, hookTimeout: PATIENT_MS, expect: { poll: { timeout: PATIENT_MS / 2 } } };

/** `*.long.test.ts` are proofs that `npm test` leaves out and `npm run test:long` runs. */
function unitTests(name: 'unit' | 'unit-long'): TestProjectInlineConfiguration {
  const long = name === 'unit-long';
  const include = long ? [LONG_TESTS] : ['tests/**/*.test.ts', 'tests/**/*.test.tsx'];
  const exclude = [BROWSER_TESTS, ENGINE_TESTS, ...(long ? [] : [LONG_TESTS])];
  // Short tests share their worker, so that OpenCV is compiled once for all of them.
  return { extends: true, test: { name, include, exclude, isolate: long, ...patience } };
}

function browserTests(name: 'browser' | 'browser-long'): TestProjectInlineConfiguration {
  const long = name === 'browser-long';
  const include = [`${BROWSER_TESTS}/*${long ? '.long' : ''}.test.ts`];
  const exclude = long ? [] : [LONG_TESTS];
  const globalSetup = ['tests/browser/serve-page.ts'];
  return { extends: true, test: { name, include, exclude, globalSetup, ...patience } };
}

export default defineConfig({
  root: fileURLToPath(new URL('./web', import.meta.url)),
  base: './',
  publicDir: 'public',
  plugins: [
    react(),
    openCvAsWasmFile(),
    samplePhotos(),
    iconsFromSvg(),
    licenceTexts(),
    onlyLicensedPackages(),
    contentSecurityPolicy(),
    installable(),
  ],
  worker: { format: 'es', plugins: () => [openCvAsWasmFile(), exifReaderInPart(), onlyLicensedPackages()] },
  optimizeDeps: { exclude: ['@opencvjs/web'] },
  build: { outDir: '../dist', emptyOutDir: true, target: 'es2022' },
  test: {
    root: '.',
    projects: [
      unitTests('unit'),
      unitTests('unit-long'),
      browserTests('browser'),
      browserTests('browser-long'),
      { extends: true, test: { name: 'engines', include: [ENGINE_TESTS], ...patience } },
    ],
    // Left alone, one core of two would stand idle.
    maxWorkers: '100%',
    reporters: ['default', './tests/support/slowest-tests.ts'],
  },
});
