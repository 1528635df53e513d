import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';

// The command line has no worker and decodes with the same code.
test('no page file imports the worker’s internals: web/engine speaks for them', () => {
  const files = readdirSync('web', { recursive: true, encoding: 'utf8' }).filter(
    (file) => /\.tsx?$/.test(file) && !file.startsWith('engine/') && !file.startsWith('commands/'),
  );
  expect(files.length).toBeGreaterThan(100);
  const reaching = files.filter((file) => /from '[^']*engine\/worker\//.test(readFileSync(`web/${file}`, 'utf8')));
  expect(reaching).toEqual([]);
});
