import { type ChildProcess, spawn } from 'node:child_process';
import { createServer } from 'node:net';
import type { Engine } from './engine.ts';

/** The name under which WebDriver hands over elements (W3C WebDriver, 12.1). */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';
const NO_TIME = { implicit: 0, pageLoad: 3_600_000, script: 3_600_000 };

/** WebKitGTK by W3C WebDriver, on a screen and a session bus of its own. */
export async function startWebKit(installed: { readonly driver: string; readonly browser: string }): Promise<Engine> {
  const port = await freePort();
  const screen = ['--auto-servernum', '--server-args=-screen 0 1280x1024x24'];
  const driver = spawn('dbus-run-session', ['--', 'xvfb-run', ...screen, installed.driver, `--port=${port}`], {
    stdio: 'ignore',
    detached: true,
    // A sandbox of its own needs namespaces, which a container seldom has.
    env: { ...process.env, WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1', LIBGL_ALWAYS_SOFTWARE: '1' },
  });
  const ask = async (method: string, path: string, body?: object): Promise<unknown> => {
    const answer = await fetch(`http://127.0.0.1:${port}${path}`, { method, body: body && JSON.stringify(body) });
    const { value } = (await answer.json()) as { value: { error?: string; message?: string } | null };
    if (!answer.ok) throw new Error(`${value?.error}: ${value?.message}`);
    return value;
  };
  await answering(driver, () => ask('GET', '/status'));
  const options = { binary: installed.browser, args: ['--automation'] };
  const capabilities = { alwaysMatch: { 'webkitgtk:browserOptions': options, timeouts: NO_TIME } };
  const session = (await ask('POST', '/session', { capabilities })) as {
    sessionId: string;
    capabilities: { browserName: string; browserVersion: string };
  };
  const at = `/session/${session.sessionId}`;
  return {
    version: `${session.capabilities.browserName} (WebKitGTK) ${session.capabilities.browserVersion}`,
    async goTo(url) {
      await ask('POST', `${at}/url`, { url });
    },
    async reload() {
      await ask('POST', `${at}/refresh`, {});
    },
    async run<T>(body: string) {
      const script = `const done = arguments[arguments.length - 1];
        (async () => { ${body} })().then((value) => done({ value }), (error) => done({ error: String(error) }));`;
      const result = await ask('POST', `${at}/execute/async`, { script, args: [] });
      const { value, error } = result as { value: T; error?: string };
      if (error) throw new Error(error);
      return value;
    },
    async chooseFile(selector, path) {
      const element = await ask('POST', `${at}/element`, { using: 'css selector', value: selector });
      const id = (element as Record<string, string>)[ELEMENT];
      await ask('POST', `${at}/element/${id}/value`, { text: path });
    },
    async close() {
      await ask('DELETE', at).catch(() => {});
      // The whole group: bus, screen, driver and browser.
      if (driver.pid) process.kill(-driver.pid);
    },
  };
}

async function answering(driver: ChildProcess, ask: () => Promise<unknown>): Promise<void> {
  for (;;) {
    if (driver.exitCode !== null) throw new Error(`The driver of WebKit ended with ${driver.exitCode}.`);
    const isReady = await ask().then(
      () => true,
      () => false,
    );
    if (isReady) return;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.on('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });
}
