import * as v from 'valibot';

/**
 * What the page keeps in the browser. A plan is never stored: it is computed again from its container, gauge and
 * choices, so that it can never disagree with them. Sizing's own inputs travel as plain JSON (`v.record`): the sizing
 * engine checks every value when it plans, and says which one is wrong.
 */
const Json = v.pipe(
  v.record(v.string(), v.unknown()),
  v.check((value) => isShallow(value)),
);
/** Our own inputs nest a handful of levels; what nests without end is not ours and would break whatever walks through it. */
const DEEPEST = 32;

const Id = v.pipe(v.string(), v.regex(/^[a-z0-9-]{8,40}$/));
const Label = v.pipe(v.string(), v.maxLength(200));
const Instant = v.pipe(v.number(), v.finite());

const kept = { id: Id, label: Label, createdAt: Instant, changedAt: Instant };

const Finite = v.pipe(v.number(), v.finite());
export const EstimateSchema = v.object({ value: Finite, sd: Finite, low95: Finite, high95: Finite });
const Point = v.tuple([Finite, Finite]);
const ProblemSchema = v.object({ code: v.string(), message: v.string() });

/** Measurement of vision/measurement.ts, as it is stored. */
export const MeasurementSchema = v.object({
  arrangement: v.picklist(['standing', 'lying', 'card-on-front', 'card-leaning']),
  card: v.object({ cornersPx: v.tuple([Point, Point, Point, Point]), reference: v.string() }),
  baseDiameterMm: v.nullable(EstimateSchema),
  maxDiameterMm: EstimateSchema,
  heightMm: EstimateSchema,
  capacityMl: EstimateSchema,
  profile: v.array(v.object({ zMm: Finite, radiusMm: Finite, sdMm: Finite })),
  features: v.object({
    baseEdgeRadiusMm: EstimateSchema,
    shoulderZMm: v.nullable(EstimateSchema),
    neckDiameterMm: v.nullable(EstimateSchema),
    waistZMm: v.nullable(EstimateSchema),
    wallTaperRad: EstimateSchema,
  }),
  focalLengthPx: EstimateSchema,
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

/** What a tape at the table says, in mm; null where it was not used. */
export const TapeSchema = v.object({
  circumferenceMm: v.nullable(Finite),
  baseCircumferenceMm: v.nullable(Finite),
  heightMm: v.nullable(Finite),
});
export type Tape = v.InferOutput<typeof TapeSchema>;
export const NO_TAPE: Tape = { circumferenceMm: null, baseCircumferenceMm: null, heightMm: null };

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
      widthPx: Finite,
      heightPx: Finite,
      lens: v.object({ focal35Mm: v.nullable(Finite), looksCropped: v.boolean() }),
    }),
  ),
});
export type ContainerRecord = v.InferOutput<typeof ContainerRecordSchema>;

export const GaugeRecordSchema = v.object({
  ...kept,
  kind: v.literal('gauge'),
  /** Gauge and yarn as the gauge screen edits them. */
  gauge: Json,
});
export type GaugeRecord = v.InferOutput<typeof GaugeRecordSchema>;

export const PlanRecordSchema = v.object({
  ...kept,
  kind: v.literal('plan'),
  containerId: v.nullable(Id),
  /** Sizing inputs of the container at the time of planning. */
  container: Json,
  gauge: Json,
  choices: Json,
  /** Rounds ticked off and checkpoints entered. */
  progress: Json,
});
export type PlanRecord = v.InferOutput<typeof PlanRecordSchema>;

export const CarrierRecordSchema = v.object({
  ...kept,
  kind: v.literal('carrier'),
  /** What the finished piece is and which containers it takes, as the stock screen edits it. */
  carrier: Json,
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

export const SCHEMA_OF = {
  container: ContainerRecordSchema,
  gauge: GaugeRecordSchema,
  plan: PlanRecordSchema,
  carrier: CarrierRecordSchema,
} satisfies { readonly [K in Kind]: v.GenericSchema<unknown, RecordOf[K]> };

function isShallow(value: unknown, depth = 0): boolean {
  if (typeof value !== 'object' || value === null) return true;
  return depth < DEEPEST && Object.values(value).every((inner) => isShallow(inner, depth + 1));
}

/** A fresh record's common fields. */
export function newRecord<K extends Kind>(kind: K, label: string, now = Date.now()) {
  return { id: crypto.randomUUID(), kind, label, createdAt: now, changedAt: now };
}

/** Records whose label holds every word typed, newest change first. */
export function searchRecords<R extends AnyRecord>(records: readonly R[], query: string): R[] {
  const words = query.toLocaleLowerCase().split(/\s+/).filter(Boolean);
  return records
    .filter((record) => words.every((word) => record.label.toLocaleLowerCase().includes(word)))
    .sort((a, b) => b.changedAt - a.changedAt);
}
