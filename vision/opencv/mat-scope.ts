import './symbol-dispose.ts';

interface Deletable {
  delete(): void;
}

let liveObjects = 0;

/** OpenCV objects made under a scope and not yet freed: 0 between measurements (a test holds us to it). */
export function liveOpenCvObjects(): number {
  return liveObjects;
}

/**
 * Owns OpenCV objects, which nothing else frees. `using mats = new MatScope()` at the top of a function,
 * `mats.own(new cv.Mat())` where each object is made; the scope frees them in reverse order, also on throw.
 */
export class MatScope implements Disposable {
  readonly #owned: Deletable[] = [];

  own<T extends Deletable>(object: T): T {
    this.#owned.push(object);
    liveObjects += 1;
    return object;
  }

  [Symbol.dispose](): void {
    while (this.#owned.length > 0) {
      this.#owned.pop()?.delete();
      liveObjects -= 1;
    }
  }
}
