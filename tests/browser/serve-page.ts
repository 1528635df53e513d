import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { preview } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    pageUrl: string;
  }
}

const root = fileURLToPath(new URL('../../', import.meta.url));
/** A place of its own, so that a build or `npm start` beside the tests does not change the page under them. */
export const outDir = `${root}node_modules/.tmp/tested-page`;

/** Builds the page as a maker gets it, in a process that knows nothing of tests, and serves it for all browser tests. */
export default async function servePage(project: TestProject): Promise<() => Promise<void>> {
  buildPage(outDir);
  const { url, close } = await serveFolder(outDir);
  project.provide('pageUrl', url);
  return close;
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
