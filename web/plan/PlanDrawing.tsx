import { baseChartSvg } from '../../sizing/draw/base-chart.ts';
import { bodyChartSvg } from '../../sizing/draw/body-chart.ts';
import { sideViewSvg } from '../../sizing/draw/side-view.ts';
import type { Plan } from '../../sizing/plan.ts';
import { useText } from '../text/text.ts';
import { SvgDrawing } from '../ui/SvgDrawing.tsx';
import { useVoice } from './use-voice.ts';
import { drawingWords } from './words/drawing-words.ts';

interface PlanDrawingProps {
  readonly plan: Plan;
  readonly shows: 'side' | 'base' | 'body';
  readonly className: string;
  /** The round in work: drawn in full ink, the others pale. */
  readonly litRound?: number;
}

/** The carrier on its container from the side, or its charts, with labels in the maker's words. */
export function PlanDrawing({ plan, shows, className, litRound }: PlanDrawingProps) {
  const words = drawingWords(useText(), useVoice());
  switch (shows) {
    case 'side': {
      const { container, coverHeightMm } = plan;
      const [widestMm, heightMm] = [container.maxDiameterMm.value, container.heightMm.value];
      const label = words.sideDescription(widestMm, heightMm, coverHeightMm?.value ?? 0);
      return <SvgDrawing className={className} svg={sideViewSvg(plan, words)} label={label} />;
    }
    case 'base': {
      const label = words.baseDescription(plan.parts[0].rounds.map((round) => round.stitches));
      return <SvgDrawing className={className} svg={baseChartSvg(plan, words, litRound)} label={label} />;
    }
    case 'body': {
      const label = words.bodyDescription(plan.zones[0]?.cells ?? 0);
      return <SvgDrawing className={className} svg={bodyChartSvg(plan, words, litRound)} label={label} />;
    }
  }
}
