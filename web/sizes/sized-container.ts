import type { Container } from '../../sizing/container.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import type { Tape } from '../keep/records.ts';
import { containerFromTapeAlone, withTape } from './tape-check.ts';

/** The container a job is about: from the photo, the tape or both; null while neither says enough. */
export function sizedContainer(measurement: Measurement | null, tape: Tape): Container | null {
  return measurement ? withTape(measurementToContainer(measurement), tape) : containerFromTapeAlone(tape);
}
