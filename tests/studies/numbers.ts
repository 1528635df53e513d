/**
 * Lists the tuned numbers of the vision code, named and inline, and what bears each out: a test, a fitting script or a
 * published source that its comment names. `npm run study:numbers [-- --json]`; exits 1 when one has none.
 */
import { readdir, readFile } from 'node:fs/promises';
import { EXIT, readArguments, runCommand } from '../../web/commands/command-line.ts';
import { tunedNumbers } from './tuned-numbers.ts';

/** Standards with their clauses, the list of parameters and the door to OpenCV hold no choices. */
const NO_CHOICES = [
  'opencv/',
  'network/training/',
  'reference/reference.ts',
  'reference/round-reference.ts',
  'estimate.ts',
  'container/parameters.ts',
  'geometry/camera-ray.ts',
];

runCommand('study:numbers', async () => {
  const { values } = readArguments({ json: { type: 'boolean' } });
  const files = (await readdir('vision', { recursive: true }))
    .filter((name) => name.endsWith('.ts') && !NO_CHOICES.some((skipped) => name.startsWith(skipped)))
    .sort();
  const numbers = (
    await Promise.all(
      files.map(async (name) => tunedNumbers(`vision/${name}`, await readFile(`vision/${name}`, 'utf8'))),
    )
  ).flat();
  const count = (kind: 'named' | 'inline') => numbers.filter((number) => number.kind === kind).length;
  const bare = numbers.filter(({ evidence }) => evidence === null);
  const uncommented = numbers.filter(({ reason }) => reason === null).length;
  const summary = {
    named: count('named'),
    inline: count('inline'),
    total: numbers.length,
    withoutReason: bare.length,
    withoutComment: uncommented,
  };
  if (values.json) process.stdout.write(`${JSON.stringify({ ...summary, numbers })}\n`);
  else {
    for (const { file, line, text, evidence } of numbers)
      process.stdout.write(`${`${file}:${line}`.padEnd(48)} ${text.padEnd(44)} ${evidence ?? '-'}\n`);
    process.stdout.write(`${JSON.stringify(summary)}\n`);
  }
  return bare.length > 0 ? EXIT.refused : EXIT.done;
});
