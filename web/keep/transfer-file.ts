import * as v from 'valibot';
import type { PictureRecord } from './database.ts';
import {
  type AnyRecord,
  CarrierRecordSchema,
  ContainerRecordSchema,
  GaugeRecordSchema,
  PlanRecordSchema,
} from './records.ts';

/** Version of the file written today. Older files are brought forward by UPGRADES; newer ones are refused. */
export const FILE_VERSION = 1;
const FORMAT = 'roundwise-kept';

/** Step k brings the content of a file of version k + 1 to version k + 2. Steps are added at the end, never changed. */
const UPGRADES: readonly ((file: Record<string, unknown>) => Record<string, unknown>)[] = [];

const PictureSchema = v.object({
  containerId: v.string(),
  /** JPEG with the card's face blanked; originals never leave the device. */
  jpegBase64: v.pipe(v.string(), v.maxLength(8_000_000), v.check(isBase64)),
});

const FileSchema = v.object({
  format: v.literal(FORMAT),
  version: v.literal(FILE_VERSION),
  savedAt: v.string(),
  containers: v.array(ContainerRecordSchema),
  gauges: v.array(GaugeRecordSchema),
  plans: v.array(PlanRecordSchema),
  carriers: v.array(CarrierRecordSchema),
  pictures: v.array(PictureSchema),
});

/** All a maker keeps, except original photos. */
export interface Kept {
  readonly records: readonly AnyRecord[];
  readonly pictures: readonly PictureRecord[];
}

export type ReadProblem =
  | { readonly reason: 'not-json' | 'not-ours' | 'newer' }
  | { readonly reason: 'invalid'; readonly path: string };
export type ReadResult = ({ readonly ok: true } & Kept) | ({ readonly ok: false } & ReadProblem);

/** One JSON text with everything; only blanked pictures go into it. */
export async function writeTransferFile({ records, pictures }: Kept, now = new Date()): Promise<string> {
  const of = <K extends AnyRecord['kind']>(kind: K) => records.filter((record) => record.kind === kind);
  const blanked: v.InferOutput<typeof PictureSchema>[] = [];
  for (const { containerId, blanked: picture } of pictures) {
    if (picture) blanked.push({ containerId, jpegBase64: base64Of(new Uint8Array(await picture.arrayBuffer())) });
  }
  return JSON.stringify({
    format: FORMAT,
    version: FILE_VERSION,
    savedAt: now.toISOString(),
    containers: of('container'),
    gauges: of('gauge'),
    plans: of('plan'),
    carriers: of('carrier'),
    pictures: blanked,
  });
}

/** Reads and checks such a text, whatever its version. Nothing of a file that fails is used. */
export function readTransferFile(json: string): ReadResult {
  let file: unknown;
  try {
    file = JSON.parse(json);
  } catch {
    return { ok: false, reason: 'not-json' };
  }
  if (!isObject(file) || file.format !== FORMAT || typeof file.version !== 'number') {
    return { ok: false, reason: 'not-ours' };
  }
  if (file.version > FILE_VERSION) return { ok: false, reason: 'newer' };
  const current = UPGRADES.slice(file.version - 1).reduce((content, upgrade) => upgrade(content), file);
  const checked = v.safeParse(FileSchema, current);
  if (!checked.success) return { ok: false, reason: 'invalid', path: v.getDotPath(checked.issues[0]) ?? 'file' };
  const { containers, gauges, plans, carriers, pictures } = checked.output;
  return {
    ok: true,
    records: [...containers, ...gauges, ...plans, ...carriers],
    pictures: pictures.map(({ containerId, jpegBase64 }) => ({
      containerId,
      blanked: new Blob([bytesOf(jpegBase64)], { type: 'image/jpeg' }),
      original: null,
    })),
  };
}

/** By decoding: an expression over megabytes overflows the stack. */
function isBase64(text: string): boolean {
  try {
    atob(text);
    return true;
  } catch {
    return false;
  }
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function base64Of(bytes: Uint8Array): string {
  let binary = '';
  for (let at = 0; at < bytes.length; at += 0x8000) binary += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(binary);
}

function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  const binary = atob(base64);
  return Uint8Array.from({ length: binary.length }, (_, i) => binary.charCodeAt(i));
}
