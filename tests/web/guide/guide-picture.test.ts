import { expect, test } from 'vitest';
import { linesOf } from '../../../web/guide/guide-picture.ts';

test('words break into lines no longer than fits, and a word that is longer stands alone', () => {
  const fits = (line: string) => line.length <= 12;
  expect(linesOf('Lay the card flat on the Schreibtischplatte please', fits)).toEqual([
    'Lay the card',
    'flat on the',
    'Schreibtischplatte',
    'please',
  ]);
});
