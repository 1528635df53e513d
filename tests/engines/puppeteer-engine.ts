import puppeteer, { type ElementHandle } from 'puppeteer-core';
import type { Engine } from './engine.ts';

/** Chromium by its own protocol, Firefox by WebDriver BiDi. */
export async function startWithPuppeteer(browser: 'chrome' | 'firefox', executablePath: string): Promise<Engine> {
  const args = browser === 'chrome' ? ['--no-sandbox', '--disable-gpu', '--disable-background-networking'] : [];
  const running = await puppeteer.launch({
    browser,
    executablePath,
    args,
    headless: true,
    timeout: 0,
    protocolTimeout: 0,
  });
  const page = await running.newPage();
  page.setDefaultTimeout(0);
  page.setDefaultNavigationTimeout(0);
  return {
    version: await running.version(),
    async goTo(url) {
      await page.goto(url);
    },
    async reload() {
      await page.reload();
    },
    run: <T>(body: string) => page.evaluate(`(async () => { ${body} })()`) as Promise<T>,
    async chooseFile(selector, path) {
      const input = (await page.waitForSelector(selector)) as ElementHandle<HTMLInputElement> | null;
      await input?.uploadFile(path);
    },
    close: () => running.close(),
  };
}
