import * as v from 'valibot';
import { MATERIALS } from '../../sizing/container.ts';
import { FIRST_GAUGE_ENTRY, GaugeEntrySchema } from '../gauge/gauge-entry.ts';
import { choicesFrom, type PlanChoices, PlanProgressSchema } from '../plan/plan-progress.ts';
import { FinishedCarrierSchema } from '../stall/finished-carrier.ts';

/**
 * What the page keeps in the browser, and the one schema it is read by, from the store and from a file alike: whatever
 * passes can be shown and planned with. A plan is never stored: it is computed again from its container, gauge and
 * choices, so that it can never disagree with them.
 */

/** Our own inputs nest a handful of levels; what nests without end is not ours and would break whatever walks through it. */
const DEEPEST = 32;
const Json = v.pipe(
  v.record(v.string(), v.unknown()),
  v.check((value) => isShallow(value)),
);

/** Clocks of two devices differ; by a day they do not. */
const CLOCKS_DIFFER_MS = 24 * 3600_000;
/** Nothing that fits on a table beside a bank card is larger. */
const LARGEST_MM = 2000;
/** Pixels that a photo or a point beside it may lie from its corner: three long sides (measure-photo.ts) of the largest JPEG. */
const FARTHEST_PX = 3 * 65_535;

const Finite = v.pipe(v.number(), v.finite());
const between = (least: number, most: number) => v.pipe(Finite, v.minValue(least), v.maxValue(most));
const LengthMm = v.pipe(Finite, v.gtValue(0), v.maxValue(LARGEST_MM));
const Sd = v.pipe(Finite, v.minValue(0));
const Px = between(-FARTHEST_PX, FARTHEST_PX);
const SidePx = v.pipe(Finite, v.integer(), v.minValue(1), v.maxValue(65_535));

const Id = v.pipe(v.string(), v.regex(/^[a-z0-9-]{8,40}$/));
const Label = v.pipe(v.string(), v.maxLength(200));
const Instant = v.pipe(
  Finite,
  v.minValue(0),
  v.check((at) => at <= Date.now() + CLOCKS_DIFFER_MS),
);

/** `revision` counts the times a record was written; who writes says which revision it changes. Not in what earlier versions kept. */
const kept = {
  id: Id,
  label: Label,
  createdAt: Instant,
  changedAt: Instant,
  revision: v.optional(v.pipe(Finite, v.integer(), v.minValue(0)), 0),
};

function estimateOf(value: v.GenericSchema<number, number>) {
  return v.pipe(
    v.object({ value, sd: Sd, low95: Finite, high95: Finite }),
    v.check((estimate) => estimate.low95 <= estimate.high95),
  );
}
const Measure = estimateOf(LengthMm);
/** A place or a roundness: may be nothing, and by its uncertainty a little less. */
const Place = estimateOf(between(-LARGEST_MM, LARGEST_MM));
const Point = v.tuple([Px, Px]);
const Corners = v.tuple([Point, Point, Point, Point]);
const ProblemSchema = v.object({ code: v.string(), message: v.string() });

/** Measurement of vision/measurement.ts, as it is stored. */
export const MeasurementSchema = v.object({
  arrangement: v.picklist(['standing', 'lying', 'card-on-front', 'card-leaning']),
  card: v.object({ cornersPx: Corners, reference: v.string() }),
  baseDiameterMm: v.nullable(Measure),
  maxDiameterMm: Measure,
  heightMm: Measure,
  capacityMl: estimateOf(v.pipe(Finite, v.minValue(0))),
  profile: v.pipe(
    v.array(v.object({ zMm: between(-LARGEST_MM, LARGEST_MM), radiusMm: between(0, LARGEST_MM), sdMm: Sd })),
    v.minLength(2),
  ),
  features: v.object({
    baseEdgeRadiusMm: Place,
    shoulderZMm: v.nullable(Place),
    neckDiameterMm: v.nullable(Place),
    waistZMm: v.nullable(Place),
    wallTaperRad: estimateOf(Finite),
  }),
  focalLengthPx: estimateOf(v.pipe(Finite, v.gtValue(0))),
  outlinePx: v.array(Point),
  axisPx: v.tuple([Point, Point]),
  /** Missing in what was kept by earlier versions of the page. */
  view: v.optional(
    v.nullable(
      v.object({
        camera: v.object({ focalPx: Finite, centreXPx: Finite, centreYPx: Finite, k1: Finite }),
        cameraFromContainer: v.object({
          rotation: v.pipe(v.array(Finite), v.length(9)),
          translationMm: v.tuple([Finite, Finite, Finite]),
        }),
      }),
    ),
    null,
  ),
});

export type { Tape } from './tape.ts';

const TapeMm = v.nullable(v.pipe(Finite, v.gtValue(0), v.maxValue(4 * LARGEST_MM)));
export const TapeSchema = v.object({ circumferenceMm: TapeMm, baseCircumferenceMm: TapeMm, heightMm: TapeMm });

/** A day as calendars write it (ISO 8601). */
const Day = v.pipe(v.string(), v.isoDate());

/** What a customer asked for. Its container, and the plan for it, are those of the record it stands in. */
export const OrderSchema = v.object({
  customer: Label,
  due: v.nullable(Day),
  price: v.nullable(v.pipe(Finite, v.gtValue(0))),
  paid: v.boolean(),
  doneAt: v.nullable(Instant),
});
export type Order = v.InferOutput<typeof OrderSchema>;

export const ContainerRecordSchema = v.object({
  ...kept,
  kind: v.literal('container'),
  /** Null for a container known from the tape alone. */
  measurement: v.nullable(MeasurementSchema),
  /** The same container in further photos. */
  furtherPhotos: v.optional(v.array(MeasurementSchema), []),
  /** The one shape that explains all the photos best, when it was found. */
  together: v.optional(v.nullable(MeasurementSchema), null),
  warnings: v.array(ProblemSchema),
  tape: TapeSchema,
  photo: v.nullable(
    v.object({
      widthPx: SidePx,
      heightPx: SidePx,
      lens: v.object({ focal35Mm: v.nullable(v.pipe(Finite, v.gtValue(0))), looksCropped: v.boolean() }),
    }),
  ),
  /** Every place in the photo where a card was ever found, guessed or placed. */
  cardPlaces: v.optional(v.array(Corners), []),
  /** Null for a container of her own. */
  order: v.optional(v.nullable(OrderSchema), null),
});
export type ContainerRecord = v.InferOutput<typeof ContainerRecordSchema>;

/** What the gauge screen edits; what was asked for later than it was kept is as at first. */
const Gauge = v.pipe(
  Json,
  v.transform((kept): unknown => ({ ...FIRST_GAUGE_ENTRY, ...kept })),
  GaugeEntrySchema,
);

export const GaugeRecordSchema = v.object({ ...kept, kind: v.literal('gauge'), gauge: Gauge });
export type GaugeRecord = v.InferOutput<typeof GaugeRecordSchema>;

/** Nothing said was once kept as an empty object. */
const Nothing = v.pipe(
  v.nullable(v.strictObject({})),
  v.transform(() => null),
);

const SizingEstimate = v.object({ value: between(0, LARGEST_MM), sd: Sd });
/** Container of sizing/container.ts. */
const SizingContainer = v.object({
  heightMm: SizingEstimate,
  maxDiameterMm: SizingEstimate,
  baseDiameterMm: SizingEstimate,
  profile: v.pipe(
    v.array(v.object({ zMm: between(-LARGEST_MM, LARGEST_MM), radiusMm: between(0, LARGEST_MM), sdMm: Sd })),
    v.minLength(2),
  ),
  baseEdgeRadiusMm: v.nullable(v.object({ value: between(-LARGEST_MM, LARGEST_MM), sd: Sd })),
  shoulderZMm: v.nullable(v.object({ value: between(-LARGEST_MM, LARGEST_MM), sd: Sd })),
  relativeScaleSd: v.exactOptional(Sd),
  emptyMassG: v.exactOptional(v.nullable(Sd)),
  material: v.exactOptional(v.nullable(v.picklist(MATERIALS))),
});

export const PlanRecordSchema = v.object({
  ...kept,
  kind: v.literal('plan'),
  containerId: v.nullable(Id),
  /** Sizing inputs of the container at the time of planning: a plan opens from these when the container is gone. */
  container: v.pipe(Json, SizingContainer),
  gauge: v.union([Nothing, Gauge]),
  choices: v.union([
    Nothing,
    v.pipe(
      Json,
      v.transform((kept): PlanChoices => choicesFrom(kept)),
    ),
  ]),
  /** Rounds ticked off and checkpoints entered. */
  progress: v.union([Nothing, v.pipe(Json, PlanProgressSchema)]),
});
export type PlanRecord = v.InferOutput<typeof PlanRecordSchema>;

export const CarrierRecordSchema = v.object({
  ...kept,
  kind: v.literal('carrier'),
  /** What the finished piece is and which containers it takes. */
  carrier: v.pipe(Json, FinishedCarrierSchema),
  planId: v.nullable(Id),
  soldAt: v.nullable(Instant),
});
export type CarrierRecord = v.InferOutput<typeof CarrierRecordSchema>;

export const KINDS = ['container', 'gauge', 'plan', 'carrier'] as const;
export type Kind = (typeof KINDS)[number];
export interface RecordOf {
  container: ContainerRecord;
  gauge: GaugeRecord;
  plan: PlanRecord;
  carrier: CarrierRecord;
}
export type AnyRecord = RecordOf[Kind];

const SCHEMA_OF = {
  container: ContainerRecordSchema,
  gauge: GaugeRecordSchema,
  plan: PlanRecordSchema,
  carrier: CarrierRecordSchema,
} as const;

export type ReadRecord<K extends Kind> =
  | { readonly ok: true; readonly record: RecordOf[K] }
  /** Where it is wrong, with dots; empty for what is no record at all. */
  | { readonly ok: false; readonly path: string };

/** A record as it comes from the store or from a file. */
export function readRecord<K extends Kind>(kind: K, stored: unknown): ReadRecord<K> {
  const read = v.safeParse(SCHEMA_OF[kind], stored);
  if (read.success) return { ok: true, record: read.output as RecordOf[K] };
  return { ok: false, path: v.getDotPath(read.issues[0]) ?? '' };
}

/** True when two records hold the same, whenever and however often they were written. */
export function holdTheSame(a: AnyRecord, b: AnyRecord): boolean {
  const content = (record: AnyRecord) => {
    const read = readRecord(record.kind, record);
    return JSON.stringify({ ...(read.ok ? read.record : record), createdAt: 0, changedAt: 0, revision: 0 });
  };
  return content(a) === content(b);
}

function isShallow(value: unknown, depth = 0): boolean {
  if (typeof value !== 'object' || value === null) return true;
  return depth < DEEPEST && Object.values(value).every((inner) => isShallow(inner, depth + 1));
}

/** A fresh record's common fields. */
export function newRecord<K extends Kind>(kind: K, label: string, now = Date.now()) {
  return { id: crypto.randomUUID(), kind, label, createdAt: now, changedAt: now, revision: 0 };
}

/** Records whose label holds every word typed, newest change first. */
export function searchRecords<R extends AnyRecord>(records: readonly R[], query: string): R[] {
  const words = query.toLocaleLowerCase().split(/\s+/).filter(Boolean);
  return records
    .filter((record) => words.every((word) => record.label.toLocaleLowerCase().includes(word)))
    .sort((a, b) => b.changedAt - a.changedAt);
}
