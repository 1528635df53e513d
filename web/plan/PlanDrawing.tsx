import { baseChartSvg } from '../../sizing/base/base-chart.ts';
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
}

/** The carrier on its container from the side, or its base from above, with labels in the maker's words. */
export function PlanDrawing({ plan, shows, className }: PlanDrawingProps) {
  const words = drawingWords(useText(), useVoice());
  if (shows === 'side') {
    const { container, coverHeightMm } = plan;
    const label = words.sideDescription(
      container.maxDiameterMm.value,
      container.heightMm.value,
      coverHeightMm?.value ?? 0,
    );
    return <SvgDrawing className={className} svg={sideViewSvg(plan, words)} label={label} />;
  }
  const label = words.baseDescription(plan.parts[0].rounds.map((round) => round.stitches));
  return <SvgDrawing className={className} svg={baseChartSvg(plan, words)} label={label} />;
}
