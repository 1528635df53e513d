import type { Container } from '../../sizing/container.ts';
import type { Plan } from '../../sizing/plan.ts';
import type { Settings } from '../app/settings.ts';
import { colourWords } from '../carrier-view/carrier-words.ts';
import type { Order } from '../keep/records.ts';
import { moneyText } from '../plan/money-text.ts';
import { longLengthText, tapeText } from '../text/estimate-text.ts';
import { readersLocale } from '../text/readers-locale.ts';
import type { Text } from '../text/text.ts';

export interface Replied {
  readonly order: Order;
  readonly container: Container;
  /** Null where none can be made. */
  readonly plan: Plan | null;
  /** Of the yarn, `#rrggbb`. */
  readonly colour: string;
  readonly currency: string;
}

/** What is said to a customer about her photo, ready to paste: sizes, what can be made, price and day. */
export function replyText(
  { order, container, plan, colour, currency }: Replied,
  text: Text,
  wording: Pick<Settings, 'language' | 'units' | 'makerName'>,
): string {
  const words = text.orders.reply;
  const around = tapeText(Math.PI * container.maxDiameterMm.value, wording);
  return [
    words.hello(order.customer),
    words.sizes(around, tapeText(container.heightMm.value, wording)),
    isUnsure(container) && words.unsure(...girthLimits(container, wording)),
    plan && words.offer(pieceText(plan, colour, text, wording)),
    order.price !== null && words.price(moneyText(order.price, { currency }, wording)),
    order.due && words.due(dayText(order.due, wording.language)),
    plan && words.ask,
    wording.makerName.trim(),
  ]
    .filter(Boolean)
    .join('\n');
}

/** A girth this much more or less asks for a tape: a net gives about as much (common practice, no source). */
const UNSURE_MM = 10;

function isUnsure({ maxDiameterMm: { sd } }: Container): boolean {
  return 1.96 * Math.PI * sd > UNSURE_MM;
}

/** Rounded outwards, so that the whole 95 % interval lies between them. */
function girthLimits(
  { maxDiameterMm: { value, sd } }: Container,
  wording: Pick<Settings, 'language' | 'units'>,
): readonly [string, string] {
  return [
    tapeText(Math.PI * (value - 1.96 * sd), wording, Math.floor),
    tapeText(Math.PI * (value + 1.96 * sd), wording, Math.ceil),
  ];
}

/** "Net carrier, kelp, strap 120 cm". */
export function pieceText(
  plan: Plan,
  colour: string,
  { picture }: Text,
  wording: Pick<Settings, 'language' | 'units'>,
): string {
  const strap = plan.strap && picture.strap(longLengthText(plan.strap.lengthMm, wording));
  return [picture.kinds[plan.carrier], colourWords(colour, picture), strap].filter(Boolean).join(', ');
}

/** "Friday, 12 December". @param day  ISO 8601 */
export function dayText(day: string, language: Settings['language']): string {
  const format = new Intl.DateTimeFormat(readersLocale(language), {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    timeZone: 'UTC',
  });
  return format.format(new Date(`${day}T00:00:00Z`));
}
