import { isOwnPiece, type Plan } from '../../sizing/plan.ts';
import { useText } from '../text/text.ts';
import { checkpointsOnPaper } from './grouped-rounds.ts';
import { PlanDrawing } from './PlanDrawing.tsx';
import { useVoice } from './use-voice.ts';
import { type Fact, type Pattern, type PatternLine, type PatternPart, patternOf } from './words/pattern.ts';

interface PlanSheetProps {
  readonly title: string;
  readonly plan: Plan;
}

/** The pattern on paper: what is crocheted from on the first page, what is worth knowing on the next. Print only. */
export function PlanSheet({ title, plan }: PlanSheetProps) {
  const text = useText();
  const words = text.plan.pattern;
  const pattern = patternOf(title, plan, text, useVoice());
  const hasBody = plan.parts.some(({ name }) => name === 'mesh');
  return (
    <article className="sheet">
      <header className="sheet__head">
        <h1>{pattern.title}</h1>
        <PlanDrawing className="sheet__side" plan={plan} shows="side" />
        <Facts title={words.finishedSize} facts={pattern.size} />
        <Facts title={words.materials} facts={[...pattern.materials, pattern.gauge]} />
        <p className="sheet__small">
          <strong>{words.abbreviations}</strong> {pattern.terms} {pattern.abbreviations}.
        </p>
        <p className="sheet__small">
          <strong>{words.notesTitle}</strong> {pattern.notes.join(' ')}
        </p>
      </header>
      <div className="sheet__work">
        <div className="sheet__charts">
          <PlanDrawing className="sheet__chart" plan={plan} shows="base" />
          {hasBody && <PlanDrawing className="sheet__chart" plan={plan} shows="body" />}
        </div>
        {pattern.parts.map((part) => (
          <SheetPart key={part.name} part={part} />
        ))}
      </div>
      <div className="sheet__end">
        <div>
          <Sentences title={words.finishing} items={pattern.finishing} />
          <footer className="sheet__signed">
            <span>{words.madeBy}</span>
            <span>{words.madeOn}</span>
          </footer>
        </div>
        <div>
          <section className="sheet__cautions">
            <h2>{text.plan.cautionsTitle}</h2>
            <ul>
              {pattern.cautions
                .filter((caution) => caution !== pattern.rules)
                .map((caution) => (
                  <li key={caution}>{caution}</li>
                ))}
            </ul>
          </section>
        </div>
      </div>
      <SecondPage pattern={pattern} plan={plan} />
    </article>
  );
}

function Facts({ title, facts }: { readonly title: string; readonly facts: readonly Fact[] }) {
  return (
    <section>
      <h2>{title}</h2>
      <dl className="sheet__facts">
        {facts.map(({ name, text }) => (
          <div key={name}>
            <dt>{name}</dt> <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

function Sentences({ title, items }: { readonly title: string; readonly items: readonly string[] }) {
  return (
    <section>
      <h2>{title}</h2>
      <p>{items.join(' ')}</p>
    </section>
  );
}

function SheetPart({ part }: { readonly part: PatternPart }) {
  return (
    <section className="sheet__part">
      <h2>{part.title}</h2>
      {part.notes.length > 0 && !isOwnPiece(part.name) && <p className="sheet__notes">{part.notes.join(' ')}</p>}
      {part.lines.map((line) => (
        <SheetLine key={line.label} line={line} end={line === part.lines.at(-1) ? part.end : null} />
      ))}
    </section>
  );
}

function SheetLine({ line, end }: { readonly line: PatternLine; readonly end: string | null }) {
  return (
    <p className="sheet__line">
      <span className="sheet__boxes">
        {line.rounds.map(({ number }) => (
          <span key={number} className="sheet__box" />
        ))}
      </span>
      <strong>{line.label}:</strong> {line.work}
      {line.count && <span className="sheet__count"> ({unbroken(line.count)})</span>}.{' '}
      {line.notes.length > 0 && <em>{line.notes.join(' ')} </em>}
      {end}
    </p>
  );
}

/** "36 dc" stays on one line. */
function unbroken(text: string): string {
  return text
    .split('; ')
    .map((each) => each.replaceAll(' ', '\u00a0'))
    .join('; ');
}

function SecondPage({ pattern, plan }: { readonly pattern: Pattern; readonly plan: Plan }) {
  const words = useText().plan;
  const onPaper = new Set(checkpointsOnPaper(plan).map(({ afterRound }) => afterRound));
  const checks = pattern.checks.filter(({ afterRound }) => onPaper.has(afterRound));
  return (
    <section className="sheet__second">
      <h1>{words.pattern.secondPage}</h1>
      <h2>{words.fit.title}</h2>
      <p>
        <strong>{pattern.fit.headline}</strong> {pattern.fit.more} {pattern.fit.figures.join(' ')}
      </p>
      {pattern.warnings.map((warning) => (
        <p key={warning}>⚠ {warning}</p>
      ))}
      {checks.length > 0 && (
        <>
          <h2>{words.checksTitle}</h2>
          <table className="sheet__checks">
            <thead>
              <tr>
                {[words.after, words.expect, words.fineBetween, words.ifLess, words.ifMore].map((heading) => (
                  <th key={heading} scope="col">
                    {heading}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {checks.map(({ afterRound, label, expect, fine, ifLess, ifMore }) => (
                <tr key={afterRound}>
                  <th scope="row">{label}</th>
                  <td className="sheet__nowrap">{expect}</td>
                  <td className="sheet__nowrap">{fine}</td>
                  <td>{ifLess}</td>
                  <td>{ifMore}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
      <Sentences title={words.pattern.careTitle} items={pattern.care} />
      {pattern.load.length > 0 && <Sentences title={words.loadTitle} items={pattern.load} />}
      {pattern.rules && <p>{pattern.rules}</p>}
      {pattern.bases.length > 1 && (
        <section>
          <h2>{words.basesTitle}</h2>
          <ul>
            {pattern.bases.map((base) => (
              <li key={base}>{base}</li>
            ))}
          </ul>
        </section>
      )}
      <Facts title={words.yarnTitle} facts={pattern.needs} />
      <table className="sheet__needs">
        <tbody>
          {pattern.needsByPart.map(({ part, yarn, time }) => (
            <tr key={part}>
              <th scope="row">{part}</th>
              <td>{yarn}</td>
              <td>{time}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <aside className="sheet__label">
        <p className="sheet__small">{words.pattern.label.title}</p>
        <div>
          <h2>{pattern.title}</h2>
          {pattern.label.map((line) => (
            <p key={line}>{line}</p>
          ))}
          <p className="sheet__signed">
            <span>{words.pattern.madeBy}</span>
          </p>
        </div>
      </aside>
    </section>
  );
}
