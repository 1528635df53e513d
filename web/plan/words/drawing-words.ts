import type { DrawingWords } from '../../../sizing/draw/drawing-words.ts';
import type { Text } from '../../text/text.ts';
import type { Voice } from './voice.ts';

/** The labels of a plan's drawings in the reader's words. */
export function drawingWords({ plan: words }: Text, voice: Voice): DrawingWords {
  return {
    hand: voice.reader.hand,
    stitch: voice.stitch,
    length: voice.length,
    increase: words.increase,
    ring: words.ring,
    start: words.startHere,
    baseTitle: words.chartTitle,
    baseDescription: (counts) => words.chartLabel(counts.length, counts.join(', ')),
    bodyTitle: words.bodyChartTitle,
    bodyDescription: words.bodyChartLabel,
    repeat: words.chartRepeat,
    sideTitle: words.drawingTitle,
    sideDescription: (widestMm, heightMm, coverMm) =>
      words.sideLabel(voice.length(widestMm), voice.length(heightMm), voice.length(coverMm)),
    around: (mm) => words.around(voice.length(mm)),
    strap: voice.tape,
  };
}
