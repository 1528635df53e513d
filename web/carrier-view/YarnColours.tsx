import { useId, useState } from 'react';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { ColourFromPhoto } from './ColourFromPhoto.tsx';
import { colourWords } from './carrier-words.ts';
import { YARN_SHADES, type YarnShade } from './yarn-colours.ts';

interface YarnColoursProps {
  readonly colour: string;
  readonly onColour: (colour: string) => void;
}

/** The stall's shades, any other colour, or the colour of yarn in a photo. */
export function YarnColours({ colour, onColour }: YarnColoursProps) {
  const words = useText().picture;
  const id = useId();
  const [photo, setPhoto] = useState<File | null>(null);
  return (
    <div className="stack stack--tight">
      <fieldset className="yarn-shades">
        <legend>
          {words.yarn}: {colourWords(colour, words)}
        </legend>
        {(Object.keys(YARN_SHADES) as YarnShade[]).map((shade) => (
          <label key={shade} title={words.shades[shade]} className="yarn-shades__one">
            <input
              type="radio"
              className="visually-hidden"
              name={id}
              checked={YARN_SHADES[shade] === colour}
              aria-label={words.shades[shade]}
              onChange={() => onColour(YARN_SHADES[shade])}
            />
            <span className="yarn-shades__ball" style={{ backgroundColor: YARN_SHADES[shade] }} aria-hidden="true" />
          </label>
        ))}
      </fieldset>
      <div className="row">
        <label className="button button--quiet yarn-own">
          <input type="color" value={colour} onChange={(event) => onColour(event.target.value)} />
          {words.own}
        </label>
        <label className="button button--quiet yarn-own">
          <Icon name="camera" />
          {words.fromPhoto}
          <input
            type="file"
            accept="image/*"
            className="visually-hidden"
            onChange={(event) => {
              setPhoto(event.target.files?.[0] ?? null);
              event.target.value = '';
            }}
          />
        </label>
      </div>
      {photo && <ColourFromPhoto photo={photo} onColour={onColour} onDone={() => setPhoto(null)} />}
    </div>
  );
}
