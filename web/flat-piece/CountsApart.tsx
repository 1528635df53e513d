import type { Estimate } from '../../sizing/estimate.ts';
import { useSettings } from '../app/use-settings.ts';
import { lengthText } from '../text/estimate-text.ts';
import { type Text, useText } from '../text/text.ts';
import { Note } from '../ui/Note.tsx';

interface CountsApartProps {
  readonly what: keyof Text['work']['apart']['what'];
  readonly seen: Estimate;
  readonly believed: Estimate;
  readonly sure: boolean;
  readonly onSure: (sure: boolean) => void;
}

/** The piece does not go with what was typed before: were these the counts of this piece? */
export function CountsApart({ what, seen, believed, sure, onSure }: CountsApartProps) {
  const words = useText().work.apart;
  const wording = useSettings();
  return (
    <Note kind="warn">
      <p>{words.says(words.what[what], lengthText(seen, wording), lengthText(believed, wording))}</p>
      <label className="work__sure">
        <input type="checkbox" checked={sure} onChange={(event) => onSure(event.target.checked)} />
        {words.sure}
      </label>
    </Note>
  );
}
