import { expect, test } from 'vitest';
import { BoundedMap } from '../../../web/engine/worker/bounded-map.ts';

const map = () => new BoundedMap<string>(10, (text) => text.length);

test('what was used longest ago goes first when room runs out', () => {
  const held = map();
  held.set('a', '1234');
  held.set('b', '1234');
  held.get('a');
  held.set('c', '1234');
  expect(['a', 'b', 'c'].map((key) => held.get(key))).toEqual(['1234', undefined, '1234']);
  expect(held.bytes).toBe(8);
});

test('the newest stays, however large', () => {
  const held = map();
  held.set('a', '1234');
  held.set('b', '12345678901234');
  expect(held.get('a')).toBeUndefined();
  expect(held.get('b')).toBe('12345678901234');
});

test('what is set anew counts once', () => {
  const held = map();
  held.set('a', '1234');
  held.set('a', '12');
  expect(held.bytes).toBe(2);
});
