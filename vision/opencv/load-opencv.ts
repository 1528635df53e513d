import { type Cv, REQUIRED_FUNCTIONS } from './cv.ts';

let loading: Promise<{ readonly cv: Cv }> | null = null;

/**
 * Loads OpenCV once and hands the same instance to everybody; works in Node and in a module worker.
 * Wrapped in an object because older builds are thenables, which a bare promise would unwrap for ever.
 * @throws Error naming the function when the build lacks one that Roundwise needs.
 */
export function loadOpenCv(): Promise<{ readonly cv: Cv }> {
  loading ??= start();
  return loading;
}

async function start(): Promise<{ readonly cv: Cv }> {
  const { default: createModule } = await import('@opencvjs/web/lib/opencv_js.js');
  const cv = (await createModule()) as Cv;
  for (const name of REQUIRED_FUNCTIONS) {
    if (typeof cv[name] !== 'function') throw new Error(`This OpenCV build lacks ${name}.`);
  }
  return { cv };
}
