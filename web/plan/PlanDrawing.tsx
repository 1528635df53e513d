import { useCallback } from 'react';
import { baseChartSvg } from '../../sizing/base/base-chart.ts';
import { sideViewSvg } from '../../sizing/draw/side-view.ts';
import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { shortLengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { SvgDrawing } from '../ui/SvgDrawing.tsx';
import { drawingLabel } from './drawing-label.ts';

interface PlanDrawingProps {
  readonly plan: Plan;
  readonly shows: 'side' | 'base';
  readonly className: string;
}

/** The carrier on its container from the side, or its base from above, with labels in the maker's words. */
export function PlanDrawing({ plan, shows, className }: PlanDrawingProps) {
  const words = useText().plan;
  const settings = useSettings();
  const { terms, units, language } = settings;
  const style = { terms: terms === 'uk' ? 'uk' : 'us', units } as const;
  const sayLabel = useCallback(
    (label: string) => drawingLabel(label, { terms, language }, words.increase),
    [terms, language, words.increase],
  );
  if (shows === 'side') {
    const { container, coverHeightMm } = plan;
    const label = words.sideLabel(
      shortLengthText(container.maxDiameterMm.value, settings),
      shortLengthText(container.heightMm.value, settings),
      shortLengthText(coverHeightMm?.value ?? 0, settings),
    );
    return <SvgDrawing className={className} svg={sideViewSvg(plan, style)} label={label} sayLabel={sayLabel} />;
  }
  const counts = plan.parts[0].rounds.map((round) => round.stitches);
  const label = words.chartLabel(counts.length, counts.join(', '));
  return <SvgDrawing className={className} svg={baseChartSvg(plan, style)} label={label} sayLabel={sayLabel} />;
}
