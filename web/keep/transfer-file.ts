import * as v from 'valibot';
import type { PictureRecord } from './database.ts';
import { type AnyRecord, type Kind, readRecord } from './records.ts';

/** Version of the file written today. Older files are brought forward by UPGRADES; newer ones are refused. */
export const FILE_VERSION = 2;
const FORMAT = 'roundwise-kept';

/** Step k brings the content of a file of version k + 1 to version k + 2. Steps are added at the end, never changed. */
const UPGRADES: readonly ((file: Record<string, unknown>) => Record<string, unknown>)[] = [
  // Records without revisions, gauge and choices that may be missing: the records' own schema reads these.
  (file) => ({ ...file, version: 2 }),
];

const PictureSchema = v.object({
  containerId: v.string(),
  /** JPEG with every card covered; originals never leave the device. */
  jpegBase64: v.pipe(v.string(), v.maxLength(8_000_000), v.check(isBase64)),
});

/** The frame alone: every entry is read on its own, so that a damaged one does not shut out the others. */
const FileSchema = v.object({
  format: v.literal(FORMAT),
  version: v.literal(FILE_VERSION),
  savedAt: v.string(),
  containers: v.array(v.unknown()),
  gauges: v.array(v.unknown()),
  plans: v.array(v.unknown()),
  carriers: v.array(v.unknown()),
  pictures: v.array(v.unknown()),
});

const LISTS = { container: 'containers', gauge: 'gauges', plan: 'plans', carrier: 'carriers' } as const;

/** All a maker keeps, except original photos. */
export interface Kept {
  readonly records: readonly AnyRecord[];
  readonly pictures: readonly PictureRecord[];
}

/** An entry that is not used, by as much of its name as can be read. */
export interface LeftOut {
  readonly kind: Kind | 'picture';
  /** Its label, or the place in its list, counted from 1. */
  readonly label: string;
  /** What is missing or wrong in it. */
  readonly path: string;
}

export type ReadProblem =
  | { readonly reason: 'not-json' | 'not-ours' | 'newer' }
  | { readonly reason: 'invalid'; readonly path: string };
export type ReadResult =
  | ({ readonly ok: true; readonly leftOut: readonly LeftOut[] } & Kept)
  | ({ readonly ok: false } & ReadProblem);

/** One JSON text with everything; only covered pictures go into it. */
export async function writeTransferFile({ records, pictures }: Kept, now = new Date()): Promise<string> {
  const of = <K extends AnyRecord['kind']>(kind: K) => records.filter((record) => record.kind === kind);
  const covered: v.InferOutput<typeof PictureSchema>[] = [];
  for (const { containerId, blanked: picture } of pictures) {
    if (picture) covered.push({ containerId, jpegBase64: base64Of(new Uint8Array(await picture.arrayBuffer())) });
  }
  return JSON.stringify({
    format: FORMAT,
    version: FILE_VERSION,
    savedAt: now.toISOString(),
    containers: of('container'),
    gauges: of('gauge'),
    plans: of('plan'),
    carriers: of('carrier'),
    pictures: covered,
  });
}

/** Reads and checks such a text, whatever its version: what can be used of it, and by name what cannot. */
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
  if (!Number.isInteger(file.version) || file.version < 1) return { ok: false, reason: 'invalid', path: 'version' };
  const current = UPGRADES.slice(file.version - 1).reduce((content, upgrade) => upgrade(content), file);
  const checked = v.safeParse(FileSchema, current);
  if (!checked.success) return { ok: false, reason: 'invalid', path: v.getDotPath(checked.issues[0]) ?? 'file' };
  return entriesOf(checked.output);
}

function entriesOf(file: v.InferOutput<typeof FileSchema>): ReadResult {
  const records: AnyRecord[] = [];
  const pictures: PictureRecord[] = [];
  const leftOut: LeftOut[] = [];
  for (const kind of ['container', 'gauge', 'plan', 'carrier'] as const) {
    for (const [k, entry] of file[LISTS[kind]].entries()) {
      const read = readRecord(kind, entry);
      if (read.ok) records.push(read.record);
      else leftOut.push({ kind, label: labelOf(entry) || `${k + 1}`, path: read.path });
    }
  }
  const labels = new Map(records.map(({ id, label }) => [id, label]));
  for (const [k, entry] of file.pictures.entries()) {
    const read = v.safeParse(PictureSchema, entry);
    if (read.success) {
      const blanked = new Blob([bytesOf(read.output.jpegBase64)], { type: 'image/jpeg' });
      pictures.push({ containerId: read.output.containerId, blanked, original: null });
    } else {
      const of = isObject(entry) && typeof entry.containerId === 'string' ? labels.get(entry.containerId) : undefined;
      leftOut.push({ kind: 'picture', label: of || `${k + 1}`, path: v.getDotPath(read.issues[0]) ?? '' });
    }
  }
  return { ok: true, records, pictures, leftOut };
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

function labelOf(entry: unknown): string {
  return isObject(entry) && typeof entry.label === 'string' ? entry.label.slice(0, 200) : '';
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
