import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { accuracy as main } from '../../../web/commands/accuracy.ts';
import { runCommand } from '../../support/run-command.ts';

const SAMPLE = 'sample-images/tumbler-standing-on-dark-desk';
const accuracy = (args: readonly string[]) => runCommand('accuracy', main, args);

// All samples: accuracy-command.long.test.ts
describe('accuracy over a good photo, a broken one and a truth file that is none', () => {
  let folder = '';
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'roundwise-'));
    for (const name of ['good', 'broken', 'no-truth']) copyFileSync(`${SAMPLE}.json`, join(folder, `${name}.json`));
    for (const name of ['good', 'no-truth']) copyFileSync(`${SAMPLE}.jpg`, join(folder, `${name}.jpg`));
    writeFileSync(join(folder, 'broken.jpg'), readFileSync(`${SAMPLE}.jpg`).subarray(0, 900));
    writeFileSync(join(folder, 'no-truth.json'), 'null');
  });

  it('prints the report, and a contact sheet with a tile for each photo', async () => {
    const sheet = join(folder, 'sheet.jpeg');
    const { code, out } = await accuracy([folder, '--outline', 'truth', '--sheet', sheet, '--json']);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ photos: 2, measured: 1, refused: 1 });
    expect(await sharp(sheet).metadata()).toMatchObject({ format: 'jpeg', width: 4 * 480, height: 480 });
  });

  it('prints the report also when the sheet cannot be written, and says so in one sentence', async () => {
    const nowhere = join(folder, 'no-such-folder', 'sheet.jpg');
    const { code, out, err } = await accuracy([folder, '--outline', 'truth', '--sheet', nowhere]);
    expect(code).toBe(1);
    expect(out).toMatch(/^all: 2 photos, 1 measured, 1 refused/);
    expect(err).toBe(`accuracy: --sheet ${nowhere}: cannot be written there\n`);
  });
});

describe('accuracy', () => {
  it.each([
    [[], 'no folder given'],
    [['no-such-folder'], 'not a folder that can be read'],
    [['sample-images', '--augment', '--json'], '--augment and --json do not go together'],
    [['sample-images', '--turn', '90', '--resave', '1600'], '--turn and --resave do not go together'],
    [['sample-images', '--turn', '90', '--sheet', 's.jpg'], '--turn and --sheet do not go together'],
    [['sample-images', '--finding', '--json'], '--json and --finding do not go together'],
  ])('answers the wrong call %j with exit code 2 and what is wrong', async (args, words) => {
    const { code, err } = await accuracy(args);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });
});
