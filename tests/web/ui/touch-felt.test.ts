import { afterEach, expect, test, vi } from 'vitest';
import { tick } from '../../../web/ui/touch-felt.ts';

afterEach(() => vi.unstubAllGlobals());

function device(vibrate: unknown, lessMotion: boolean) {
  vi.stubGlobal('navigator', { vibrate });
  vi.stubGlobal('window', { matchMedia: () => ({ matches: lessMotion }) });
}

test('a tick is short, one, and felt where the device can', () => {
  const vibrate = vi.fn();
  device(vibrate, false);
  tick();
  expect(vibrate).toHaveBeenCalledExactlyOnceWith(expect.any(Number));
  expect(vibrate.mock.calls[0][0]).toBeLessThan(30);
});

test('a device that cannot does nothing', () => {
  device(undefined, false);
  expect(tick).not.toThrow();
});

test('who asked for less motion feels none', () => {
  const vibrate = vi.fn();
  device(vibrate, true);
  tick();
  expect(vibrate).not.toHaveBeenCalled();
});
