export const NO_CHROMIUM: string;
export function findChromium(): string | null;
export function ensureChromium(): string | null;
