/** A map that holds no more than so many bytes: when room runs out, what was used longest ago goes first. */
export class BoundedMap<Value> {
  readonly #entries = new Map<string, Value>();
  readonly #maxBytes: number;
  readonly #bytesOf: (value: Value) => number;
  #bytes = 0;

  constructor(maxBytes: number, bytesOf: (value: Value) => number) {
    this.#maxBytes = maxBytes;
    this.#bytesOf = bytesOf;
  }

  get bytes(): number {
    return this.#bytes;
  }

  get(key: string): Value | undefined {
    const value = this.#entries.get(key);
    if (value === undefined) return undefined;
    this.#entries.delete(key);
    this.#entries.set(key, value);
    return value;
  }

  /** The newest stays whatever its size: somebody is about to use it. */
  set(key: string, value: Value): void {
    this.delete(key);
    this.#entries.set(key, value);
    this.#bytes += this.#bytesOf(value);
    for (const oldest of this.#entries.keys()) {
      if (this.#bytes <= this.#maxBytes || oldest === key) return;
      this.delete(oldest);
    }
  }

  delete(key: string): void {
    const value = this.#entries.get(key);
    if (value === undefined) return;
    this.#entries.delete(key);
    this.#bytes -= this.#bytesOf(value);
  }
}
