import { describe, expect, test } from 'vitest';
import { de } from '../../../web/text/de/text.ts';
import { en } from '../../../web/text/en/text.ts';

/** Every sentence with its place, functions called with their own parameter count of stand-ins. */
function sentences(node: unknown, path = ''): [string, string][] {
  if (typeof node === 'string') return [[path, node]];
  if (typeof node === 'function') return [];
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([key, value]) => sentences(value, path === '' ? key : `${path}.${key}`));
}

describe('the German page', () => {
  const german = new Map(sentences(de));

  test('has every sentence of the English one and no other', () => {
    const english = sentences(en).map(([path]) => path);
    expect([...german.keys()].sort()).toEqual(english.sort());
  });

  test('leaves no sentence empty', () => {
    for (const [path, sentence] of german) expect(sentence.trim(), path).not.toBe('');
  });

  test('translates every problem the engine knows', () => {
    for (const [code, sentence] of Object.entries(en.problems)) {
      expect(de.problems[code as keyof typeof de.problems], code).not.toBe(sentence);
    }
  });
});
