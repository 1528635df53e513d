import { expect, test } from 'vitest';
import { drawingLabel } from '../../../web/plan/drawing-label.ts';

test('labels of a drawing are German for a German reader', () => {
  const german = { language: 'de', terms: 'de' } as const;
  expect(['dc', 'sl st', 'increase', '27.8 cm', '3'].map((label) => drawingLabel(label, german, 'Zunahme'))).toEqual([
    'Stb',
    'Km',
    'Zunahme',
    '27,8 cm',
    '3',
  ]);
});

test('labels of a drawing stay as they are for an English reader', () => {
  const english = { language: 'en', terms: 'uk' } as const;
  expect(['dc', '27.8 cm', 'increase'].map((label) => drawingLabel(label, english, 'increase'))).toEqual([
    'dc',
    '27.8 cm',
    'increase',
  ]);
});
