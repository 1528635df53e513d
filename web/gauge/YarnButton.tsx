import { useSettings } from '../app/use-settings.ts';
import { shortStitch } from '../plan/stitch-words.ts';
import { numberText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import type { GaugeEntry } from './gauge-entry.ts';

/** Yarn and hook in one line; a press opens the sheet that changes them. */
export function YarnButton({ entry, onPress }: { readonly entry: GaugeEntry; readonly onPress: () => void }) {
  const words = useText().gauge;
  return (
    <button type="button" className="yarn-button button button--wide" onClick={onPress}>
      <Icon name="yarn" />
      <span className="yarn-button__words">
        {entry.name || words.yarnNames[entry.category]}
        <GaugeSummary entry={entry} />
      </span>
      <span className="yarn-button__change">{words.change}</span>
    </button>
  );
}

/** Hook, stitch, and where the numbers come from. */
export function GaugeSummary({ entry }: { readonly entry: GaugeEntry }) {
  const words = useText().gauge;
  const { terms, language } = useSettings();
  const parts = [
    entry.hookMm === null ? '' : `${numberText(entry.hookMm, 1, language)} mm`,
    shortStitch(entry.stitch, terms),
    entry.source === 'guess' ? words.guessMark : words.measuredMark,
  ];
  return <span className="gauge__summary">{parts.filter(Boolean).join(' · ')}</span>;
}
