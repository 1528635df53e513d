import type { Settings } from '../app/settings.ts';
import { useSettings } from '../app/use-settings.ts';
import { rulerText } from '../text/estimate-text.ts';
import { type Text, useText } from '../text/text.ts';
import { numberToType } from '../ui/typed-number.ts';
import type { StallAnswer } from './answer.ts';
import { type FinishedCarrier, holdsAroundMm } from './finished-carrier.ts';

/** How a piece is spoken of: its name, what it holds, and what it is worth for a container. */
export function usePieceWords() {
  const text = useText();
  const wording = useSettings();
  const words: Text['stall'] = text.stall;
  return {
    name: ({ label, carrier }: { readonly label: string; readonly carrier: FinishedCarrier }) =>
      label || words.unnamed(text.plan.carriers[carrier.kind], rulerText(carrier.madeFor.widestMm, wording)),
    kind: ({ kind }: FinishedCarrier) => text.plan.carriers[kind],
    holds: (carrier: FinishedCarrier) => words.holds(tapeRange(holdsAroundMm(carrier), wording)),
    across: (carrier: FinishedCarrier) => {
      const [from, to] = holdsAroundMm(carrier);
      return words.across(tapeRange([from / Math.PI, to / Math.PI], wording));
    },
    verdict: ({ verdict, sits, fit, fitsAroundMm }: StallAnswer) => {
      if (verdict === 'fits') return words.verdict.fits[sits];
      if (verdict === 'nearly') return words.verdict.nearly[fit.risk];
      if (verdict !== 'measure-once') return words.verdict[verdict];
      return words.verdict['measure-once'](fitsAroundMm ? tapeRange(fitsAroundMm, wording) : '');
    },
  };
}

/** "22–24.5 cm": rounded inwards, to half a centimetre or a quarter of an inch, so that every size in it is held. */
export function tapeRange(
  [fromMm, toMm]: readonly [number, number],
  { units, language }: Pick<Settings, 'units' | 'language'>,
): string {
  const [stepMm, perMm, unit] = units === 'in' ? [25.4 / 4, 1 / 25.4, 'in'] : [5, 0.1, 'cm'];
  const from = Math.ceil(fromMm / stepMm) * stepMm;
  const to = Math.floor(toMm / stepMm) * stepMm;
  const text = (mm: number) => numberToType(mm * perMm, 2, language);
  return to > from
    ? `${text(from)}–${text(to)} ${unit}`
    : `${text(Math.round((fromMm + toMm) / 2 / stepMm) * stepMm)} ${unit}`;
}
