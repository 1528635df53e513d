import { ID1_CARD } from '../../vision/reference/reference.ts';
import { CHECK_LENGTH_MM } from '../reference/printed-frame.ts';
import type { Text } from '../text/text.ts';

export const PAPERS = {
  // ISO 216; ANSI/ASME Y14.1 (from memory)
  A4: { widthMm: 210, heightMm: 297 },
  Letter: { widthMm: 215.9, heightMm: 279.4 },
} as const;
export type Paper = keyof typeof PAPERS;

const MARGIN_MM = 20;
const CARD_TOP_MM = 62;
const CHECK_TOP_MM = 158;
const STEP_LINE_MM = 7;

/**
 * A page to print when no card is at hand: a dark frame the size of an ID-1 card, a check line, and what to do. Printers
 * rescale, so the check line must be measured and its length given to `printedFrame`.
 * @returns an SVG document in mm, the size of the paper
 */
export function rulerPage(paper: Paper, words: Text['ruler']['sheet']): string {
  const { widthMm, heightMm } = PAPERS[paper];
  const cardLeft = (widthMm - ID1_CARD.widthMm) / 2;
  const checkLeft = (widthMm - CHECK_LENGTH_MM) / 2;
  const steps = [words.stepPrint, words.stepCheck, words.stepEnter, words.stepLay];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${widthMm}mm" height="${heightMm}mm" viewBox="0 0 ${widthMm} ${heightMm}" font-family="sans-serif">`,
    `<title>${escaped(words.title)}</title>`,
    `<rect width="${widthMm}" height="${heightMm}" fill="#fff"/>`,
    `<text x="${MARGIN_MM}" y="28" font-size="7" font-weight="bold">${escaped(words.title)}</text>`,
    `<text x="${MARGIN_MM}" y="38" font-size="4">${escaped(words.purpose)}</text>`,
    `<rect x="${cardLeft}" y="${CARD_TOP_MM}" width="${ID1_CARD.widthMm}" height="${ID1_CARD.heightMm}" rx="${ID1_CARD.cornerRadiusMm}" fill="#1d3b4f"/>`,
    `<text x="${widthMm / 2}" y="${CARD_TOP_MM + ID1_CARD.heightMm + 8}" font-size="4" text-anchor="middle">${escaped(words.frame)}</text>`,
    checkLine(checkLeft),
    `<text x="${widthMm / 2}" y="${CHECK_TOP_MM + 18}" font-size="4" text-anchor="middle">${escaped(words.line)}</text>`,
    ...steps.map(
      (step, i) =>
        `<text x="${MARGIN_MM}" y="${CHECK_TOP_MM + 36 + i * STEP_LINE_MM}" font-size="4">${i + 1}. ${escaped(step)}</text>`,
    ),
    '</svg>',
  ].join('\n');
}

/** Ticks every 5 mm, longer every 10, with end stops that a ruler can be laid against. */
function checkLine(leftMm: number): string {
  const ticks: string[] = [];
  for (let at = 0; at <= CHECK_LENGTH_MM; at += 5) {
    const length = at === 0 || at === CHECK_LENGTH_MM ? 9 : at % 10 === 0 ? 6 : 3;
    ticks.push(`M${leftMm + at} ${CHECK_TOP_MM}v${length}`);
  }
  const numbers = [0, 50, 100, 150].map(
    (at) => `<text x="${leftMm + at}" y="${CHECK_TOP_MM - 2}" font-size="3.5" text-anchor="middle">${at}</text>`,
  );
  return `<path d="M${leftMm} ${CHECK_TOP_MM}h${CHECK_LENGTH_MM}${ticks.join('')}" stroke="#000" stroke-width="0.25" fill="none"/>${numbers.join('')}`;
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
