/** Why no plan could be made. `out-of-range` names the field, its value and what is allowed. */
export interface Refusal {
  readonly code: 'out-of-range' | 'inconsistent' | 'too-coarse';
  /** Dotted name of the input, e.g. `gauge.stitchWidthMm`. */
  readonly field: string;
  readonly value: number | string | null;
  readonly allowed: string | null;
  /** One sentence in a maker's words, with the way out. */
  readonly message: string;
}

/** Thrown inside the engine only; `planCarrier` and `replan` turn it into a result. */
export class RefusedInput extends Error {
  readonly refusal: Refusal;

  constructor(refusal: Refusal) {
    super(refusal.message);
    this.refusal = refusal;
  }
}

export function requireInRange(field: string, value: number, min: number, max: number, unit: string): void {
  if (Number.isFinite(value) && value >= min && value <= max) return;
  const allowed = `${min} to ${max}${unit === '' ? '' : ` ${unit}`}`;
  throw new RefusedInput({
    code: 'out-of-range',
    field,
    value,
    allowed,
    message: `${field} is ${value}${unit === '' ? '' : ` ${unit}`}; allowed is ${allowed}.`,
  });
}

export function requireWhole(field: string, value: number, min: number, max: number): void {
  if (Number.isInteger(value) && value >= min && value <= max) return;
  const allowed = `a whole number from ${min} to ${max}`;
  throw new RefusedInput({
    code: 'out-of-range',
    field,
    value,
    allowed,
    message: `${field} is ${value}; allowed is ${allowed}.`,
  });
}

export function requireOneOf(field: string, value: string, options: readonly string[]): void {
  if (options.includes(value)) return;
  const allowed = options.join(', ');
  throw new RefusedInput({
    code: 'out-of-range',
    field,
    value,
    allowed,
    message: `${field} is "${value}"; allowed is one of ${allowed}.`,
  });
}

export function refuseInconsistent(field: string, value: number | string | null, message: string): never {
  throw new RefusedInput({ code: 'inconsistent', field, value, allowed: null, message });
}

export function refuseTooCoarse(field: string, value: number, message: string): never {
  throw new RefusedInput({ code: 'too-coarse', field, value, allowed: null, message });
}
