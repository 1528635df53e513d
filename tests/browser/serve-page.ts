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

/** Builds the page as a maker gets it, in a process that knows nothing of tests, and serves it for all browser tests. */
export default async function servePage(project: TestProject): Promise<() => Promise<void>> {
  const env = { ...process.env, NODE_ENV: 'production' };
  execFileSync(process.execPath, ['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'error'], { cwd: root, env });
  const configFile = `${root}vite.config.ts`;
  const server = await preview({ configFile, logLevel: 'error', preview: { port: 0, strictPort: false } });
  project.provide('pageUrl', server.resolvedUrls?.local[0] ?? '');
  return () => server.close();
}
