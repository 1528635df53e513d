import type { Cv } from './cv.ts';

/** OpenCV throws the address of its exception as a number; this turns it into an Error with its message. */
export function cvError(cv: Cv, thrown: unknown): Error {
  if (thrown instanceof Error) return thrown;
  if (typeof thrown === 'number') return new Error(`OpenCV: ${cv.exceptionFromPtr(thrown).msg}`);
  return new Error(String(thrown));
}
