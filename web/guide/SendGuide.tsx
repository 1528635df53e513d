import { useEffect, useId, useState } from 'react';
import { LanguageChoice } from '../app/LanguageChoice.tsx';
import type { Language, Settings } from '../app/settings.ts';
import { loadText, useText } from '../text/text.ts';
import { canHandOn, handOn } from '../ui/hand-on.ts';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { guidePicture } from './guide-picture.ts';

interface SendGuideProps {
  readonly settings: Settings;
  readonly onSettings: (settings: Settings) => void;
}

interface Made {
  readonly file: File;
  readonly url: string;
  /** Goes with it. */
  readonly says: string;
}

/** The guide for a customer: one picture in her language, seen here as it is sent. */
export function SendGuide({ settings, onSettings }: SendGuideProps) {
  const text = useText();
  const words = text.guide.send;
  const id = useId();
  const { makerName, answerTo } = settings;
  const [language, setLanguage] = useState<Language>(settings.language);
  const [made, setMade] = useState<Made | 'making' | 'failed'>('making');
  useEffect(() => {
    let current = true;
    let url = '';
    const make = async () => {
      const { guide } = await loadText(language);
      const picture = await guidePicture(guide, { name: makerName.trim(), answerTo: answerTo.trim() });
      if (!current) return;
      if (!picture) return setMade('failed');
      url = URL.createObjectURL(picture);
      const file = new File([picture], `${guide.send.fileName}.png`, { type: 'image/png' });
      setMade({ file, url, says: guide.send.withIt });
    };
    make().catch(() => current && setMade('failed'));
    return () => {
      current = false;
      if (url) URL.revokeObjectURL(url);
    };
  }, [language, makerName, answerTo]);
  const ready = typeof made === 'object' ? made : null;
  return (
    <section className="panel stack no-print" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>{words.title}</h2>
      <p className="quiet">{words.lead}</p>
      <LanguageChoice legend={words.language} value={language} onChange={setLanguage} />
      <div className="field">
        <label htmlFor={`${id}-name`}>{words.name}</label>
        <input
          id={`${id}-name`}
          value={makerName}
          maxLength={60}
          autoComplete="name"
          onChange={(event) => onSettings({ ...settings, makerName: event.target.value })}
        />
      </div>
      <div className="field">
        <label htmlFor={`${id}-answer`}>{words.answerTo}</label>
        <input
          id={`${id}-answer`}
          value={answerTo}
          maxLength={100}
          aria-describedby={`${id}-hint`}
          onChange={(event) => onSettings({ ...settings, answerTo: event.target.value })}
        />
        <span className="hint" id={`${id}-hint`}>
          {words.answerHint}
        </span>
      </div>
      <div>
        <button
          type="button"
          className="button button--main"
          disabled={!ready}
          onClick={() => ready && void handOn(ready.file, ready.says)}
        >
          <Icon name="picture" /> {ready && !canHandOn(ready.file) ? words.save : words.share}
        </button>
      </div>
      {made === 'failed' && <Note kind="stop">{words.failed}</Note>}
      {ready && <img className="guide__picture" src={ready.url} alt={words.preview} />}
    </section>
  );
}
