import { existsSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type AccuracyReport, scoreAll } from './accuracy-score.ts';
import { shown, UsageError } from './command-line.ts';
import { type Given, givenOptions } from './given-options.ts';
import { type MeasureJob, measureFiles } from './measure-files.ts';
import type { MeasureLine } from './measure-line.ts';
import { readTruth, type Truth, truthPath } from './truth.ts';

export interface ScoredFolders {
  readonly report: AccuracyReport;
  readonly lines: readonly MeasureLine[];
  readonly truths: readonly Truth[];
}

/** Measures every photo in the folders that has a truth file beside it and scores the errors. Progress on stderr. */
export async function scoreFolders(folders: readonly string[], given: Given): Promise<ScoredFolders> {
  const jobs: MeasureJob[] = [];
  const truths: Truth[] = [];
  for (const path of await photosIn(folders)) {
    const truth = await readTruth(path);
    if (!truth) {
      const beside = truthPath(path);
      if (existsSync(beside)) process.stderr.write(`${shown(beside)} is no truth file: its photo is left out\n`);
      continue;
    }
    truths.push(truth);
    jobs.push({ path, options: await givenOptions(given, path) });
  }
  let finished = 0;
  const lines = await measureFiles(jobs, (_, line) => {
    finished += 1;
    process.stderr.write(`${finished} of ${jobs.length}: ${shown(line.photo)}\n`);
  });
  return { report: scoreAll(lines, truths), lines, truths };
}

export async function photosIn(folders: readonly string[]): Promise<string[]> {
  const photos: string[] = [];
  for (const folder of folders) {
    let names: string[];
    try {
      names = await readdir(folder);
    } catch {
      throw new UsageError(`${folder}: not a folder that can be read`);
    }
    const pictures = names.filter((name) => /\.(jpe?g|png|webp|avif|hei[cf])$/i.test(name)).sort();
    photos.push(...pictures.map((name) => join(folder, name)));
  }
  return photos;
}
