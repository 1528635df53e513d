import { PROBLEMS } from '../../../vision/measurement.ts';

/** The engine's own sentences; other languages say the same by code. */
export const problems: Readonly<Record<keyof typeof PROBLEMS, string>> = PROBLEMS;
