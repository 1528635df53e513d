import type { CostPlan } from '../../sizing/plan.ts';
import type { Language } from '../app/settings.ts';
import { numberText } from '../text/estimate-text.ts';

/** "€12.50", "12,50 €" in German; without a sign just the number. */
export function moneyText(
  amount: number,
  { currency }: Pick<CostPlan, 'currency'>,
  { language }: { readonly language: Language },
): string {
  const number = numberText(amount, 2, language);
  if (currency === '') return number;
  if (language === 'de') return `${number} ${currency}`;
  return `${currency}${currency.length > 1 ? ' ' : ''}${number}`;
}
