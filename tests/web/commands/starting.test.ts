import { spawnSync } from 'node:child_process';
import { expect, it } from 'vitest';

it.each(['measure', 'plan', 'check-work', 'accuracy'])('%s starts as a script and explains itself', (name) => {
  const command = ['--import', 'tsx', `web/commands/${name}.ts`, '--help'];
  const { status, stdout, stderr } = spawnSync(process.execPath, command, { encoding: 'utf8' });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toMatch(new RegExp(`npm run --silent ${name} -- `));
  expect(stdout).toMatch(/Exit code: 0 /);
});
