import { type ReactNode, useEffect, useState } from 'react';
import { defaultSettings, LANGUAGES, type Language } from '../../app/settings.ts';
import { SettingsProvider } from '../../app/use-settings.ts';
import { en } from '../../text/en/text.ts';
import { loadText, TextProvider } from '../../text/text.ts';
import { Busy } from '../Busy.tsx';
import { Disc } from '../Disc.tsx';
import { EmptyRail, EmptyShelf, FullBasket, LayACard, StepBack, TiltALittle, UseATape } from '../drawings.tsx';
import { Fold } from '../Fold.tsx';
import { ICON_NAMES, Icon } from '../Icon.tsx';
import { Note } from '../Note.tsx';
import { Nothing } from '../Nothing.tsx';
import { LengthField, NumberField } from '../NumberField.tsx';
import { Segments } from '../Segments.tsx';
import { Sheet } from '../Sheet.tsx';
import { SizeNumber } from '../SizeNumber.tsx';
import './gallery.css';

const LOOKS = ['light', 'dark'] as const;

/** `/ui` in `npm run dev`: every part of the page in all its states, both looks and both languages. Not shipped. */
export function Gallery() {
  const [language, setLanguage] = useState<Language>('en');
  const [look, setLook] = useState<(typeof LOOKS)[number]>('light');
  const [text, setText] = useState(en);
  useEffect(() => {
    void loadText(language).then(setText);
    document.documentElement.lang = language;
  }, [language]);
  useEffect(() => {
    document.documentElement.dataset.theme = look;
  }, [look]);
  return (
    <TextProvider value={text}>
      <SettingsProvider value={defaultSettings(language)}>
        <main className="gallery">
          <h1>The parts of our pages</h1>
          <Segments
            legend="Language"
            options={LANGUAGES}
            value={language}
            name={(each) => each}
            onChange={setLanguage}
          />
          <Segments legend="Look" options={LOOKS} value={look} name={(each) => each} onChange={setLook} />
          <Parts text={text} />
        </main>
      </SettingsProvider>
    </TextProvider>
  );
}

function Parts({ text }: { readonly text: typeof en }) {
  const [sheet, setSheet] = useState(false);
  const [lengthMm, setLengthMm] = useState<number | null>(229);
  const [count, setCount] = useState<number | null>(null);
  const [chosen, setChosen] = useState<'around' | 'across'>('around');
  const { shell, photo, sizes } = text;
  return (
    <>
      <Part name="Type">
        <h1>{photo.title}</h1>
        <h2>{sizes.meaningTitle}</h2>
        <h3>{shell.settings.language}</h3>
        <p>{photo.lead}</p>
        <p className="quiet small">{photo.privacy}</p>
        <a href="#link">{photo.wholeGuide}</a>
      </Part>
      <Part name="Numbers">
        <dl className="numbers">
          <SizeNumber name={sizes.widest} length={{ value: 73.4, sd: 0.45 }} />
          <SizeNumber name={sizes.height} length={{ value: 210.2, sd: 1.02 }} />
          <SizeNumber name={sizes.height} length={{ value: 210.2, sd: 1.02 }} old />
        </dl>
      </Part>
      <Part name="Colours">
        <ul className="gallery__colours">
          {[
            'paper',
            'card',
            'mist',
            'ink',
            'soft',
            'kelp',
            'kelp-mist',
            'buoy',
            'buoy-mist',
            'water',
            'rope',
            'thread',
          ].map((colour) => (
            <li key={colour}>
              <span style={{ background: `var(--${colour})` }} />
              {colour}
            </li>
          ))}
        </ul>
      </Part>
      <Part name="Buttons">
        <button type="button" className="button button--main button--wide">
          {photo.take}
        </button>
        <div className="row">
          <button type="button" className="button">
            <Icon name="picture" /> {photo.choose}
          </button>
          <button type="button" className="button" aria-pressed="true">
            {sizes.entry.around}
          </button>
          <button type="button" className="button button--quiet">
            {photo.tapeInstead}
          </button>
          <button type="button" className="button button--danger">
            {text.keep.removeYes}
          </button>
          <button type="button" className="button" disabled>
            {shell.undo}
          </button>
          <button type="button" className="button button--icon" aria-label={shell.close}>
            <Icon name="close" />
          </button>
        </div>
      </Part>
      <Part name="Chips">
        <div className="row">
          <span className="chip">{sizes.checkNames.base}</span>
          <span className="chip chip--sure">
            <Icon name="check" size={20} /> {sizes.verdicts.agree}
          </span>
          <span className="chip chip--doubt">
            <Icon name="warn" size={20} /> {text.check.warningsTitle}
          </span>
        </div>
      </Part>
      <Part name="Notes">
        <Note kind="info">{photo.dropHere}</Note>
        <Note kind="warn" title={text.check.warningsTitle}>
          {photo.further.disagree}
        </Note>
        <Note kind="stop">{photo.trouble['not-a-photo']}</Note>
      </Part>
      <Part name="Fields">
        <Segments
          legend={sizes.entry.how}
          options={['around', 'across'] as const}
          value={chosen}
          name={(each) => sizes.entry[each]}
          onChange={setChosen}
        />
        <LengthField
          label={sizes.entry.widest}
          value={lengthMm}
          onChange={setLengthMm}
          min={47}
          max={1257}
          metric="cm"
        />
        <NumberField label={text.gauge.stitches} value={count} onChange={setCount} min={1} max={500} digits={0} />
        <label className="choice">
          <input type="checkbox" /> {shell.settings.keepOriginal}
        </label>
      </Part>
      <Part name="Folds">
        <Fold title={sizes.tapeTitle} icon="tape">
          <p>{sizes.tapeLead}</p>
        </Fold>
        <Fold title={sizes.meaningTitle} icon="guide">
          <p>{sizes.meaning}</p>
        </Fold>
      </Part>
      <Part name="A card">
        <div className="panel">
          <p>{photo.cardHint}</p>
        </div>
      </Part>
      <Part name="Time and steps">
        <div className="row">
          {[0, 1, 2, 3, 4].map((worked) => (
            <Disc key={worked} worked={worked} size={40} />
          ))}
        </div>
        <Busy done={2}>{photo.stages.outline}</Busy>
      </Part>
      <Part name="Nothing here yet">
        <Nothing drawing={<EmptyRail />} says={text.stall.empty}>
          <button type="button" className="button">
            {text.photo.take}
          </button>
        </Nothing>
        <Nothing drawing={<EmptyShelf />} says={text.keep.nothing} />
        <Nothing drawing={<FullBasket />} says={text.keep.trouble.full} />
      </Part>
      <Part name="Refusals">
        <Nothing drawing={<LayACard />} says={text.problems['no-card']} />
        <Nothing drawing={<StepBack />} says={text.problems['container-cut-off']} />
        <Nothing drawing={<TiltALittle />} says={text.problems['card-too-oblique']} />
        <Nothing drawing={<UseATape />} says={text.problems['not-round']} />
      </Part>
      <Part name="Icons">
        <ul className="gallery__icons">
          {ICON_NAMES.map((name) => (
            <li key={name}>
              <Icon name={name} />
              <span className="small">{name}</span>
            </li>
          ))}
        </ul>
      </Part>
      <Part name="A sheet">
        <div>
          <button type="button" className="button" onClick={() => setSheet(true)}>
            {sizes.entry.title}
          </button>
        </div>
        {sheet && (
          <Sheet
            title={sizes.entry.title}
            onClose={() => setSheet(false)}
            foot={
              <button type="button" className="button button--main button--wide" onClick={() => setSheet(false)}>
                {sizes.entry.use}
              </button>
            }
          >
            <p>{sizes.entry.lead}</p>
          </Sheet>
        )}
      </Part>
    </>
  );
}

function Part({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <section className="stack stack--tight" aria-label={name} data-part={name}>
      <h2>{name}</h2>
      {children}
    </section>
  );
}
