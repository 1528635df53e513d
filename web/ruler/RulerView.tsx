import { useMemo, useState } from 'react';
import { useSettings } from '../app/use-settings.ts';
import { CHECK_LENGTH_MM, CHECK_READING_SD_MM, checkedLengthNamed, printedFrame } from '../reference/printed-frame.ts';
import { valueText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { LengthField } from '../ui/NumberField.tsx';
import { Segments } from '../ui/Segments.tsx';
import { SvgDrawing } from '../ui/SvgDrawing.tsx';
import { PAPERS, type Paper, rulerPage } from './ruler-page.ts';
import './ruler.css';

interface RulerViewProps {
  /** What usually lies beside the container from now on; null for a bank card. */
  readonly onReference: (reference: string | null) => void;
}

/** A sheet to print when no card is at hand, and the one length on it that the maker measures afterwards. */
export function RulerView({ onReference }: RulerViewProps) {
  const words = useText().ruler;
  const settings = useSettings();
  const [paper, setPaper] = useState<Paper>(settings.units === 'in' ? 'Letter' : 'A4');
  const sheet = useMemo(() => rulerPage(paper, words.sheet), [paper, words.sheet]);
  return (
    <article className="ruler">
      <div className="stack no-print">
        <h1>{words.title}</h1>
        <p>{words.lead}</p>
        <Segments
          legend={words.paper}
          options={Object.keys(PAPERS) as Paper[]}
          value={paper}
          name={(each) => words.papers[each]}
          onChange={setPaper}
        />
        <ol className="ruler__steps">
          {[words.sheet.stepPrint, words.sheet.stepCheck, words.sheet.stepEnter, words.sheet.stepLay].map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
        <div>
          <button type="button" className="button button--main" onClick={() => window.print()}>
            {words.print}
          </button>
        </div>
        <CheckedLength onReference={onReference} />
      </div>
      <SvgDrawing className={`ruler__sheet ruler__sheet--${paper}`} svg={sheet} label={words.preview} />
    </article>
  );
}

function CheckedLength({ onReference }: RulerViewProps) {
  const words = useText().ruler;
  const settings = useSettings();
  const inUseMm = settings.reference === null ? null : checkedLengthNamed(settings.reference);
  const [checkedMm, setCheckedMm] = useState(inUseMm);
  const frame = checkedMm === null ? null : printedFrame(checkedMm);
  const say = (mm: number, sd: number) => valueText({ value: mm, sd }, settings);
  return (
    <section className="panel stack stack--tight" aria-labelledby="ruler-check">
      <h2 id="ruler-check">{words.checkTitle}</h2>
      <p>{words.checkLead}</p>
      <LengthField
        label={words.checked}
        value={checkedMm}
        onChange={setCheckedMm}
        min={CHECK_LENGTH_MM / 2}
        max={CHECK_LENGTH_MM * 2}
      />
      <div aria-live="polite">
        {frame && (
          <p>
            {words.corrected(
              say(frame.widthMm, frame.relativeSd * frame.widthMm),
              say(frame.heightMm, frame.relativeSd * frame.heightMm),
            )}
          </p>
        )}
        {checkedMm !== null && !frame && <Note kind="stop">{words.impossible}</Note>}
      </div>
      <div className="row">
        <button
          type="button"
          className="button"
          disabled={!frame || checkedMm === inUseMm}
          onClick={() => frame && onReference(frame.name)}
        >
          <Icon name="check" /> {words.use}
        </button>
        {inUseMm !== null && (
          <button type="button" className="button button--quiet" onClick={() => onReference(null)}>
            {words.useCard}
          </button>
        )}
      </div>
      <p role="status">{inUseMm !== null && words.inUse(say(inUseMm, CHECK_READING_SD_MM))}</p>
    </section>
  );
}
