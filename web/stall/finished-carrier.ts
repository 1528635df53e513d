import * as v from 'valibot';
import { CARRIER_KINDS } from '../../sizing/choices.ts';
import type { Plan } from '../../sizing/plan.ts';

const Positive = v.pipe(v.number(), v.finite(), v.gtValue(0));

/** What a finished carrier is and which containers it takes; lengths in mm. */
export const FinishedCarrierSchema = v.object({
  kind: v.picklist(CARRIER_KINDS),
  /** The container it was made for. */
  madeFor: v.object({ baseDiameterMm: Positive, widestMm: Positive, heightMm: Positive }),
  /** Upper edge above the table; null for a mat. */
  coverHeightMm: v.nullable(Positive),
  /** Factors around: the smallest and the largest container it still takes, over the one it was made for. */
  holds: v.tuple([Positive, Positive]),
  /** How sure its size is: standard uncertainty as a share. */
  relativeSd: v.pipe(v.number(), v.finite(), v.minValue(0)),
  /** What a customer asks about; missing in what earlier versions kept. */
  colour: v.optional(v.nullable(v.pipe(v.string(), v.regex(/^#[0-9a-f]{6}$/i))), null),
  price: v.optional(v.nullable(Positive), null),
  strapMm: v.optional(v.nullable(Positive), null),
  /** For whom it is put aside; empty for nobody. */
  reservedFor: v.optional(v.pipe(v.string(), v.maxLength(200)), ''),
});
export type FinishedCarrier = v.InferOutput<typeof FinishedCarrierSchema>;

/** What a customer sees first. */
export type Offer = Pick<FinishedCarrier, 'colour' | 'price'>;
const NO_OFFER: Offer = { colour: null, price: null };

/** The piece a plan gives, for the stock. */
export function finishedCarrier(plan: Plan, { colour, price }: Offer = NO_OFFER): FinishedCarrier {
  const { container, gauge, fit } = plan;
  return {
    kind: plan.carrier,
    madeFor: {
      baseDiameterMm: container.baseDiameterMm.value,
      widestMm: container.maxDiameterMm.value,
      heightMm: container.heightMm.value,
    },
    coverHeightMm: plan.coverHeightMm?.value ?? null,
    holds: [fit.holds[0], fit.holds[1]],
    relativeSd: gauge.stitchWidthMm.sd / gauge.stitchWidthMm.value,
    colour,
    price,
    strapMm: plan.strap?.lengthMm ?? null,
    reservedFor: '',
  };
}

/** Girths at the widest place that it takes, in mm. */
export function holdsAroundMm({ madeFor, holds }: FinishedCarrier): readonly [number, number] {
  return [Math.PI * madeFor.widestMm * holds[0], Math.PI * madeFor.widestMm * holds[1]];
}
