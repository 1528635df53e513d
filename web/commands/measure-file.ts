import { readFile } from 'node:fs/promises';
import { type Engine, type Measured, measureAndFit } from '../../vision/measure-photo.ts';
import { type MeasureResult, type Problem, problem } from '../../vision/measurement.ts';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { cvError } from '../../vision/opencv/cv-error.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import { ID1_CARD } from '../../vision/reference/reference.ts';
import { shown } from './command-line.ts';
import { openPhotoFile } from './decode-photo-file.ts';
import type { MeasureJob } from './measure-files.ts';
import { type MeasureLine, measureLine } from './measure-line.ts';

const weightsFile = new URL('../../vision/network/outline-model.onnx', import.meta.url);
let loading: Promise<Engine> | null = null;

export async function loadEngine(): Promise<Engine> {
  const { cv } = await loadOpenCv();
  return { cv, outlineModel: loadOutlineModel(cv, await readFile(weightsFile)) };
}

/** Measures one photo file; whatever goes wrong becomes a refused line. */
export async function measureFile(job: MeasureJob): Promise<MeasureLine> {
  return (await fitFile(job)).line;
}

/** The line of one photo file and the fit behind it. */
export async function fitFile({
  path,
  options,
}: MeasureJob): Promise<{ readonly line: MeasureLine; readonly measured: Measured }> {
  loading ??= loadEngine();
  const engine = await loading;
  const start = performance.now();
  const opened = await openPhotoFile(path);
  let measured: Measured;
  try {
    measured = opened.ok
      ? measureAndFit(engine, opened.photo, options, () => {})
      : { result: refused(opened.reason), fit: null };
  } catch (error) {
    process.stderr.write(`${shown(path)}: ${shown(cvError(engine.cv, error).message)}\n`);
    measured = { result: refused(problem('fit-failed')), fit: null };
  }
  const reference = (options.reference ?? ID1_CARD).name;
  return { line: measureLine(path, measured.result, reference, performance.now() - start), measured };
}

function refused(reason: Problem): MeasureResult {
  return { outcome: 'refused', reason, found: { cornersPx: null, outlinePx: null }, warnings: [] };
}
