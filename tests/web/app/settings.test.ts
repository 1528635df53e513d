import { describe, expect, test } from 'vitest';
import { defaultSettings, settingsFrom } from '../../../web/app/settings.ts';

describe('first settings', () => {
  test.each([
    ['en-US', { language: 'en', terms: 'us', units: 'in' }],
    ['en-GB', { language: 'en', terms: 'uk', units: 'cm' }],
    ['en', { language: 'en', terms: 'us', units: 'cm' }],
    ['de-AT', { language: 'de', terms: 'de', units: 'cm' }],
    ['fr-CA', { language: 'en', terms: 'us', units: 'cm' }],
  ])('follow the browser language %s', (browserLanguage, expected) => {
    expect(defaultSettings(browserLanguage)).toMatchObject(expected);
  });

  test('never keep original photos', () => {
    expect(defaultSettings('en-US').keepOriginalPhoto).toBe(false);
  });
});

describe('stored settings', () => {
  test('win over the browser language', () => {
    expect(settingsFrom({ units: 'in' }, 'de-DE')).toMatchObject({ units: 'in', language: 'de' });
  });

  test.each([null, 7, 'x', { units: 'furlong' }])(
    'that make no sense (%j) fall back to the first settings',
    (stored) => {
      expect(settingsFrom(stored, 'en-GB')).toEqual(defaultSettings('en-GB'));
    },
  );
});
