import { readFileSync } from 'node:fs';
import react from '@vitejs/plugin-react';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

/**
 * The OpenCV package carries its WebAssembly as base64 inside JavaScript. This takes it out into a `.wasm` file of its
 * own, so that the browser streams, compiles and caches it apart from the code.
 */
function openCvAsWasmFile(): Plugin {
  const modulePath = /@opencvjs[\\/]web[\\/]lib[\\/]opencv_js\.js$/;
  const base64Wasm = /"data:application\/octet-stream;base64,([A-Za-z0-9+/=]+)"/;
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
      return { code: code.replace(base64Wasm, () => url), map: null };
    },
  };
}

export default defineConfig({
  root: 'web',
  base: './',
  publicDir: 'public',
  plugins: [react(), openCvAsWasmFile()],
  worker: { format: 'es', plugins: () => [openCvAsWasmFile()] },
  optimizeDeps: { exclude: ['@opencvjs/web'] },
  build: { outDir: '../dist', emptyOutDir: true, target: 'es2022' },
  test: {
    root: '.',
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          environment: 'node',
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/browser/**'],
          testTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          environment: 'node',
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
