import * as v from 'valibot';
import type { Container } from '../../sizing/container.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import { shown } from './command-line.ts';

const finite = v.pipe(v.number(), v.finite());
const estimate = v.object({ value: finite, sd: v.pipe(finite, v.minValue(0)), low95: finite, high95: finite });
const point = v.tuple([finite, finite]);

/** The part of a measured line that sizing needs; the whole line is described by measure-line.schema.json. */
const MEASURED_LINE = v.object({
  photo: v.string(),
  outcome: v.literal('measured'),
  arrangement: v.picklist(['standing', 'lying', 'card-on-front', 'card-leaning']),
  card: v.object({ cornersPx: v.tuple([point, point, point, point]), reference: v.string() }),
  baseDiameterMm: v.nullable(estimate),
  maxDiameterMm: estimate,
  heightMm: estimate,
  capacityMl: estimate,
  profile: v.pipe(v.array(v.object({ zMm: finite, radiusMm: finite, sdMm: finite })), v.maxLength(5000)),
  features: v.object({
    baseEdgeRadiusMm: estimate,
    shoulderZMm: v.nullable(estimate),
    neckDiameterMm: v.nullable(estimate),
    waistZMm: v.nullable(estimate),
    wallTaperRad: estimate,
  }),
  focalLengthPx: estimate,
  outlinePx: v.pipe(v.array(point), v.maxLength(100_000)),
});

const REFUSED_LINE = v.object({
  /** Missing when the call itself was wrong. */
  photo: v.optional(v.string()),
  outcome: v.literal('refused'),
  reason: v.object({ message: v.string() }),
});

/**
 * Containers from lines printed by `measure --json`; whatever is no usable line becomes a complaint in words.
 */
export function readMeasureLines(input: string): { containers: Container[]; complaints: string[] } {
  const containers: Container[] = [];
  const complaints: string[] = [];
  const lines = input.split('\n').filter((line) => line.trim() !== '');
  if (lines.length === 0) complaints.push('nothing to read; pipe in a line of measure --json');
  lines.forEach((line, k) => {
    const data = parseJson(line);
    const measured = v.safeParse(MEASURED_LINE, data);
    const refused = v.safeParse(REFUSED_LINE, data);
    if (measured.success) {
      const { outlinePx, ...output } = measured.output;
      containers.push(
        measurementToContainer({ ...output, outlinePx, axisPx: [outlinePx[0], outlinePx[0]], view: null }),
      );
    } else if (refused.success)
      complaints.push(
        `${shown(refused.output.photo ?? 'nothing')} was not measured: ${shown(refused.output.reason.message)}`,
      );
    else complaints.push(`line ${k + 1} is not a line of measure --json`);
  });
  return { containers, complaints };
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
