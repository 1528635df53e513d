import { expect, test } from 'vitest';
import { checkContainer } from '../../../sizing/container.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { measurementToContainer } from '../../../web/engine/measurement-to-container.ts';
import { measuredResult } from '../../support/measured-result.ts';

const { measurement } = measuredResult;

test('a measurement becomes a container that sizing accepts, value and sd unchanged', () => {
  const container = measurementToContainer(measurement);
  expect(() => checkContainer(container)).not.toThrow();
  expect(container.maxDiameterMm).toEqual({ value: 72, sd: 0.25 });
  expect(container.shoulderZMm).toEqual({ value: 110, sd: 2 });
  expect(container.relativeScaleSd).toBe(ID1_CARD.relativeSd);
});

test('a profile from any order rises from the table up', () => {
  const container = measurementToContainer({ ...measurement, profile: [...measurement.profile].reverse() });
  expect(container.profile.map((point) => point.zMm)).toEqual([0, 70, 140]);
});

test('a base nobody saw is as wide as the lowest part seen, and much less certain', () => {
  const container = measurementToContainer({ ...measurement, baseDiameterMm: null });
  expect(container.baseDiameterMm.value).toBe(70);
  expect(container.baseDiameterMm.sd).toBeGreaterThan(3);
  expect(() => checkContainer(container)).not.toThrow();
});
