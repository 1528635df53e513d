import { useEffect, useId, useState } from 'react';
import { LanguageChoice } from '../app/LanguageChoice.tsx';
import type { Language } from '../app/settings.ts';
import { useSettings } from '../app/use-settings.ts';
import type { CarrierPhoto } from '../carrier-view/photo-look.ts';
import { loadText, useText } from '../text/text.ts';
import { handOn } from '../ui/hand-on.ts';
import { Icon } from '../ui/Icon.tsx';
import { CopyButton } from './CopyButton.tsx';
import { pieceText, type Replied, replyText } from './reply.ts';

interface ReplyProps {
  readonly replied: Replied;
  /** The carrier is shown in it; by itself without one. */
  readonly photo: CarrierPhoto | null;
}

/** The answer to a customer, written for the maker: to look over, change, paste, or send with the picture. */
export function Reply({ replied, photo }: ReplyProps) {
  const text = useText();
  const words = text.orders.reply;
  const settings = useSettings();
  const id = useId();
  const [language, setLanguage] = useState<Language>(settings.language);
  const [hers, setHers] = useState(text);
  const [changed, setChanged] = useState<string | null>(null);
  const [said, setSaid] = useState('');
  useEffect(() => {
    void loadText(language).then(setHers);
  }, [language]);
  const wording = { ...settings, language };
  const written = replyText(replied, hers, wording);
  // What she changed holds until what it was made from changes.
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new text takes the place of the changed one
  useEffect(() => setChanged(null), [written]);
  const says = changed ?? written;
  const { plan, colour } = replied;
  const send = async () => {
    if (!plan) return;
    const { customerPicture } = await import('../carrier-view/customer-picture.ts');
    const picture = await customerPicture(plan, photo, colour, [pieceText(plan, colour, hers, wording)]);
    setSaid(picture ? '' : words.noPicture);
    if (picture) await handOn(new File([picture], `${words.fileName}.png`, { type: 'image/png' }), says);
  };
  return (
    <section className="stack stack--tight" aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>{words.title}</h2>
      <LanguageChoice legend={words.language} value={language} onChange={setLanguage} />
      <div className="field">
        <label htmlFor={`${id}-text`}>{words.text}</label>
        <textarea id={`${id}-text`} rows={8} value={says} onChange={(event) => setChanged(event.target.value)} />
      </div>
      <CopyButton text={says}>{words.copy}</CopyButton>
      {plan && (
        <div>
          <button type="button" className="button" onClick={() => void send()}>
            <Icon name="picture" /> {words.picture}
          </button>
          <p role="status">{said}</p>
        </div>
      )}
    </section>
  );
}
