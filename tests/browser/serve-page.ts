import { build, preview } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    pageUrl: string;
  }
}

/** Builds the page as a maker gets it and serves it for all browser tests. */
export default async function servePage(project: TestProject): Promise<() => Promise<void>> {
  const configFile = new URL('../../vite.config.ts', import.meta.url).pathname;
  await build({ configFile, logLevel: 'error' });
  const server = await preview({ configFile, logLevel: 'error', preview: { port: 0, strictPort: false } });
  project.provide('pageUrl', server.resolvedUrls?.local[0] ?? '');
  return () => server.close();
}
