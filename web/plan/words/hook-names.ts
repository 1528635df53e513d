import type { TermSet } from '../../app/settings.ts';

/** Hook sizes by mm, US letters and old UK numbers: published conversion tables; letters vary by maker, mm decide. */
const HOOKS: readonly (readonly [mm: number, us: string, uk: string])[] = [
  [2, '0', '14'],
  [2.25, 'B-1', '13'],
  [2.75, 'C-2', '12'],
  [3.25, 'D-3', '10'],
  [3.5, 'E-4', '9'],
  [3.75, 'F-5', ''],
  [4, 'G-6', '8'],
  [4.5, '7', '7'],
  [5, 'H-8', '6'],
  [5.5, 'I-9', '5'],
  [6, 'J-10', '4'],
  [6.5, 'K-10½', '3'],
  [8, 'L-11', '0'],
  [9, 'M/N-13', '00'],
  [10, 'N/P-15', '000'],
  [15, 'P/Q', ''],
];

/** "US G-6" or "old UK 8"; empty where the tables have none, and in German, where mm are used alone. */
export function hookNames(hookMm: number, terms: TermSet): string {
  const hook = HOOKS.find(([mm]) => Math.abs(mm - hookMm) < 0.01);
  if (!hook || terms === 'de') return '';
  const [, us, uk] = hook;
  if (terms === 'us') return `US ${us}`;
  return uk === '' ? '' : `old UK ${uk}`;
}
