import { useId, useState } from 'react';
import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { handOn } from '../ui/hand-on.ts';
import { carrierWords } from './carrier-words.ts';
import { customerPicture } from './customer-picture.ts';
import type { CarrierPhoto } from './photo-look.ts';

interface CustomerPictureProps {
  readonly plan: Plan;
  readonly photo: CarrierPhoto | null;
  readonly colour: string;
}

/** One picture to hand on: this is how it will look. */
export default function CustomerPicture({ plan, photo, colour }: CustomerPictureProps) {
  const words = useText().picture;
  const settings = useSettings();
  const id = useId();
  const [name, setName] = useState('');
  const [price, setPrice] = useState('');
  const [said, setSaid] = useState('');
  const make = async () => {
    const lines = [name || words.kinds[plan.carrier], carrierWords(plan, colour, words, settings), price].filter(
      Boolean,
    );
    const picture = await customerPicture(plan, photo, colour, lines);
    if (!picture) return setSaid(words.notMade);
    await handOn(new File([picture], `${words.fileName}.png`, { type: 'image/png' }));
    setSaid(words.made);
  };
  return (
    <Fold title={words.share} icon="picture">
      <div className="field">
        <label htmlFor={`${id}-name`}>{words.shareName}</label>
        <input id={`${id}-name`} value={name} maxLength={60} onChange={(event) => setName(event.target.value)} />
      </div>
      <div className="field">
        <label htmlFor={`${id}-price`}>{words.sharePrice}</label>
        <input id={`${id}-price`} value={price} maxLength={30} onChange={(event) => setPrice(event.target.value)} />
      </div>
      <button type="button" className="button" onClick={() => void make()}>
        {words.make}
      </button>
      <p role="status">{said}</p>
    </Fold>
  );
}
