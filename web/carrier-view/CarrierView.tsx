import { lazy, Suspense, useId, useState } from 'react';
import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { useText } from '../text/text.ts';
import { Segments } from '../ui/Segments.tsx';
import { carrierWords } from './carrier-words.ts';
import type { CarrierPhoto } from './photo-look.ts';
import { YarnColours } from './YarnColours.tsx';
import './carrier-view.css';

export interface CarrierViewProps {
  /** What is drawn, stitch for stitch; its container is drawn with it. */
  readonly plan: Plan;
  /** The measured photo with its card covered, to see the carrier in; null when there is none. */
  readonly photo?: CarrierPhoto | null;
  /** `#rrggbb`. */
  readonly yarnColour: string;
  readonly onYarnColour: (colour: string) => void;
}

const CarrierCanvas = lazy(() => import('./CarrierCanvas.tsx'));
const CustomerPicture = lazy(() => import('./CustomerPicture.tsx'));

/**
 * The carrier as it will look: to turn, or in the maker's own photo, in her yarn's colour. Without WebGL one line says that
 * the drawing from the side, which is elsewhere on the page, has to do.
 */
export function CarrierView({ plan, photo = null, yarnColour, onYarnColour }: CarrierViewProps) {
  const words = useText().picture;
  const settings = useSettings();
  const id = useId();
  const canPhoto = Boolean(photo?.measurement.view);
  const [wanted, setWanted] = useState<'stage' | 'photo'>('photo');
  const place = canPhoto ? wanted : 'stage';
  const [share, setShare] = useState(100);
  const [seesThrough, setSeesThrough] = useState(false);
  const [canDraw, setCanDraw] = useState(true);
  if (!canDraw) return <p className="quiet small">{words.noPicture}</p>;
  return (
    <section className="carrier stack stack--tight" aria-label={words.title}>
      <Suspense
        fallback={
          <>
            <div className="carrier__frame">
              <div className="carrier__stage" />
            </div>
            <div className="carrier__hint" />
          </>
        }
      >
        <CarrierCanvas
          key={place}
          plan={plan}
          photo={place === 'photo' ? photo : null}
          colour={yarnColour}
          behind={seesThrough ? 0.6 : 0}
          shown={place === 'photo' ? share / 100 : 1}
          label={carrierWords(plan, yarnColour, words, settings)}
          onNoWebGl={() => setCanDraw(false)}
        />
      </Suspense>
      <YarnColours colour={yarnColour} onColour={onYarnColour} />
      {/* Below what is there at once: the photo comes when its card is covered. */}
      {canPhoto && (
        <Segments
          legend={words.place}
          options={['photo', 'stage']}
          value={place}
          name={(each) => words.places[each]}
          onChange={setWanted}
        />
      )}
      {place === 'photo' && (
        <>
          <div className="carrier__compare">
            <span aria-hidden="true">{words.before}</span>
            <input
              type="range"
              min={0}
              max={100}
              value={share}
              aria-label={words.compare}
              onChange={(event) => setShare(Number(event.target.value))}
            />
            <span aria-hidden="true">{words.with}</span>
          </div>
          <label className="choice" htmlFor={`${id}-through`}>
            <input
              id={`${id}-through`}
              type="checkbox"
              checked={seesThrough}
              onChange={(event) => setSeesThrough(event.target.checked)}
            />
            {words.seeThrough}
          </label>
        </>
      )}
      <Suspense>
        <CustomerPicture plan={plan} photo={place === 'photo' ? photo : null} colour={yarnColour} />
      </Suspense>
    </section>
  );
}
