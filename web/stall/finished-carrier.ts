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
});
export type FinishedCarrier = v.InferOutput<typeof FinishedCarrierSchema>;

/** The piece a plan gives, for the stock. */
export function finishedCarrier(plan: Plan): FinishedCarrier {
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
  };
}

export function finishedCarrierFrom(kept: unknown): FinishedCarrier | null {
  return v.is(FinishedCarrierSchema, kept) ? kept : null;
}
