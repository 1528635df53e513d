import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { preview } from 'vite';
import type { TestProject } from 'vitest/node';
import { serveChromium } from '../support/chromium.ts';
import { ensureChromium } from '../support/ensure-chromium.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    pageUrl: string;
    /** Where to connect to the Chromium that all test files share. */
    chromiumUrl: string;
    /** Why there is nothing to test; empty when there is. */
    noPage: string;
  }
}

const root = fileURLToPath(new URL('../../', import.meta.url));
/** A place of its own, so that a build or `npm start` beside the tests does not change the page under them. */
export const outDir = `${root}node_modules/.tmp/tested-page`;

/**
 * Builds the page as a maker gets it, in a process that knows nothing of tests, serves it and starts a Chromium, once
 * for all browser tests. What goes wrong here fails these, and lets others run.
 */
export default async function servePage(project: TestProject): Promise<(() => Promise<void>) | undefined> {
  try {
    ensureChromium();
    buildPage(outDir);
    const { url, close } = await serveFolder(outDir);
    const chromium = await serveChromium();
    project.provide('pageUrl', url);
    project.provide('chromiumUrl', chromium.wsEndpoint());
    project.provide('noPage', '');
    return async () => {
      await Promise.all([close(), chromium.close()]);
    };
  } catch (error) {
    project.provide('noPage', String(error));
  }
}

export function buildPage(outDir: string): void {
  const env = { ...process.env, NODE_ENV: 'production' };
  const build = ['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'error', '--outDir', outDir, '--emptyOutDir'];
  execFileSync(process.execPath, build, { cwd: root, env });
}

/** Serves a built page. */
export async function serveFolder(outDir: string): Promise<{ readonly url: string; close(): Promise<void> }> {
  const configFile = `${root}vite.config.ts`;
  const server = await preview({ configFile, logLevel: 'error', build: { outDir }, preview: { port: 0 } });
  return { url: server.resolvedUrls?.local[0] ?? '', close: () => server.close() };
}
