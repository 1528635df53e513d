import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { shippedLicences, shippedPackages } from '../../../web/commands/shipped-licences.ts';

/** What the shipped network has learnt from. */
const LEARNT_FROM = '@pmndrs/assets';
/** Permissive ones, the public domain, two that ask for no more than their text beside unmodified files of their own, and the one for typefaces. */
const ALLOWED = [
  '0BSD',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'ISC',
  'MIT',
  'MPL-2.0',
  'LGPL-3.0',
  'OFL-1.1',
  'CC0-1.0',
];
/** A sentence that each of these licences begins with or cannot do without. */
const SAYS: Readonly<Record<string, RegExp>> = {
  'Apache-2.0': /Apache License\s+Version 2\.0/,
  'CC0-1.0': /CC0 1\.0 Universal/,
  ISC: /Permission to use, copy, modify, and\/or distribute/,
  MIT: /Permission is hereby granted, free of charge/,
  'MPL-2.0': /Mozilla Public License,? [Vv]ersion 2\.0/,
  'OFL-1.1': /SIL Open Font License, Version 1\.1/,
  'LGPL-3.0': /GNU LESSER GENERAL PUBLIC LICENSE/,
};

const root = fileURLToPath(new URL('../../../', import.meta.url));
const { parts, texts } = shippedLicences(root);

describe('the list of software inside the page', () => {
  test('names every shipped package, those that others bring along too', () => {
    const named = parts.map(({ name }) => name);
    expect(named).toEqual(['Roundwise', ...shippedPackages(root), LEARNT_FROM]);
    expect(named).toEqual(expect.arrayContaining(['@opencvjs/web', 'libheif-js', 'scheduler', 'workbox-core']));
  });

  test.each(parts.map(({ name, licence, textIndexes }) => [name, licence, textIndexes] as const))(
    '%s has an allowed licence (%s) and its text',
    (_name, licence, textIndexes) => {
      expect(ALLOWED).toContain(licence);
      expect(texts[textIndexes[0]]).toMatch(SAYS[licence]);
    },
  );

  test('has the GPL beside the LGPL, which is made of both', () => {
    const heif = parts.find(({ name }) => name === 'libheif-js');
    expect(texts[heif?.textIndexes[1] ?? -1]).toMatch(/GNU GENERAL PUBLIC LICENSE\s+Version 3/);
  });
});
