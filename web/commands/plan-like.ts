import type { Choices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { PlanResult } from '../../sizing/plan.ts';
import { parseOwnPattern } from '../../sizing/regrade/own-pattern.ts';
import { type Disagreement, type OwnDesign, type RegradeNote, regrade } from '../../sizing/regrade/regrade.ts';
import { MOST_SIZES } from '../../sizing/regrade/size-set.ts';
import { notationText } from '../plan/words/regrade-words.ts';
import type { Voice } from '../plan/words/voice.ts';
import { regradeText } from '../regrade/regrade-text.ts';
import { UsageError } from './command-line.ts';
import { readRegularFile } from './regular-file.ts';

/** A maker's own rounds in a file, and the container they were made for. */
export interface Like {
  readonly file: string;
  readonly diameterMm: number;
  readonly heightMm: number;
  readonly shoulderMm?: number;
}

/** The design in the file; a wrong call where it cannot be read or makes no sense. */
export async function designLike(
  like: Like,
  gauge: Gauge | null,
  { voice }: { readonly voice: Voice },
): Promise<OwnDesign> {
  const file = await readRegularFile(like.file);
  if (typeof file === 'string') throw new UsageError(`--like ${like.file}: ${file}`);
  const parsed = parseOwnPattern(file.toString('utf8').trim());
  if (parsed.outcome === 'not-read') {
    throw new UsageError(`--like ${like.file}: ${notationText(parsed.error, regradeText(voice.reader.language))}`);
  }
  const madeFor = containerFromTape({
    diameterMm: like.diameterMm,
    heightMm: like.heightMm,
    shoulderZMm: like.shoulderMm,
  });
  return { pattern: parsed.pattern, madeFor, gauge };
}

export interface Made {
  readonly result: PlanResult;
  readonly notes: readonly RegradeNote[];
}

/** Her design for another container, or in words why her rounds cannot be what she says they are for. */
export function regradedFor(design: OwnDesign, container: Container, chosen: Choices): Made | Disagreement {
  const made = regrade(design, container, chosen);
  if (made.outcome === 'disagrees') return made.disagreement;
  if (made.outcome === 'refused') return { result: made, notes: [] };
  return { result: { outcome: 'planned', plan: made.plan }, notes: made.notes };
}

const SIZE = /^(\d+(?:[.,]\d+)?)\s*[x×]\s*(\d+(?:[.,]\d+)?)$/i;

/** "66x115,73x210": across and high in mm. */
export function containersOfSizes(sizes: string): Container[] {
  const listed = sizes.split(/[;\s]+|,(?=\s*\d+(?:\.\d+)?\s*[x×])/).filter(Boolean);
  if (listed.length < 2 || listed.length > MOST_SIZES) {
    throw new UsageError(`--sizes takes 2 to ${MOST_SIZES} sizes, such as 66x115,73x210`);
  }
  return listed.map((size) => {
    const [, across, high] = SIZE.exec(size.trim()) ?? [];
    if (!across) throw new UsageError(`--sizes: "${size}" is no size, such as 66x115`);
    return containerFromTape({ diameterMm: mm(across), heightMm: mm(high) });
  });
}

function mm(text: string): number {
  return Number(text.replace(',', '.'));
}
