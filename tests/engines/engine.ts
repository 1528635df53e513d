/** A browser engine with one page open, as far as the walk through three engines needs it. */
export interface Engine {
  /** Name and version as the engine states them. */
  readonly version: string;
  goTo(url: string): Promise<void>;
  reload(): Promise<void>;
  /** @param body  of an async function in the page. @returns what it returns, by way of JSON */
  run<T>(body: string): Promise<T>;
  chooseFile(selector: string, path: string): Promise<void>;
  close(): Promise<void>;
}

/** Waits, with no thought of time, until the body of a function in the page returns something true. */
export async function until<T>(engine: Engine, body: string): Promise<T> {
  for (;;) {
    // A page that is just being left answers with an error.
    const found = await engine.run<T | null>(body).catch(() => null);
    if (found) return found;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}
