import { useId } from 'react';
import { capacityMl, meridianOf } from '../../sizing/body/meridian.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { useSettings } from '../app/use-settings.ts';
import type { Tape } from '../keep/records.ts';
import { half95, lengthText, type Measured, shortLengthText, spreadText, volumeText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { countInWords, spreadInStitches } from './in-stitches.ts';
import { ProfileFigure } from './ProfileFigure.tsx';
import { sizedContainer } from './sized-container.ts';
import { TapeComparison } from './TapeComparison.tsx';
import './sizes.css';

interface SizesViewProps {
  /** Null for a container known from the tape alone. */
  readonly measurement: Measurement | null;
  readonly tape: Tape;
  readonly onTape: (tape: Tape) => void;
  /** Puts the ± into stitches. */
  readonly gauge: Gauge;
}

/** Step 3: how large it is, how sure that is, and what it means for the work. */
export function SizesView({ measurement, tape, onTape, gauge }: SizesViewProps) {
  const words = useText().sizes;
  const wording = useSettings();
  const container = sizedContainer(measurement, tape);
  if (!container) return null;
  const taped = tape.circumferenceMm !== null || tape.baseCircumferenceMm !== null || tape.heightMm !== null;
  const capacity = measurement && !taped ? measurement.capacityMl : capacityMl(container, meridianOf(container));
  const widest = withPhotoInterval(container.maxDiameterMm, measurement?.maxDiameterMm);
  const base = withPhotoInterval(container.baseDiameterMm, measurement?.baseDiameterMm);
  const height = withPhotoInterval(container.heightMm, measurement?.heightMm);
  return (
    <section className="sizes stack" aria-labelledby="sizes-title">
      <div>
        <h1 id="sizes-title">{words.title}</h1>
        <p className="quiet">{measurement ? (taped ? words.fromBoth : words.fromPhoto) : words.fromTape}</p>
      </div>
      <div className="panel sizes__main">
        <ProfileFigure container={container} />
        <dl className="sizes__list">
          <Size name={words.widest} value={lengthText(widest, wording)} big />
          <Size name={words.height} value={lengthText(height, wording)} big />
          <Size
            name={words.base}
            value={lengthText(base, wording)}
            hint={
              measurement && !measurement.baseDiameterMm && !tape.baseCircumferenceMm ? words.baseHidden : undefined
            }
          />
          <Size name={words.around} value={lengthText(around(widest), wording)} />
          <Size name={words.capacity} value={volumeText(capacity, wording)} hint={words.capacityHint} />
        </dl>
      </div>
      <Meaning widest={widest} height={height} gauge={gauge} />
      {measurement && <TapeComparison measurement={measurement} tape={tape} onTape={onTape} />}
    </section>
  );
}

/** The photo's own interval where it still is the photo's value; it may be lopsided. */
function withPhotoInterval(estimate: Measured, photo: Measured | null | undefined): Measured {
  return photo && photo.value === estimate.value && photo.sd === estimate.sd ? photo : estimate;
}

function around(across: Measured): Measured {
  return { value: Math.PI * across.value, sd: (Math.PI * half95(across)) / 1.96 };
}

interface SizeProps {
  readonly name: string;
  readonly value: string;
  readonly hint?: string;
  readonly big?: boolean;
}

function Size({ name, value, hint, big = false }: SizeProps) {
  return (
    <div className={big ? 'sizes__size sizes__size--big' : 'sizes__size'}>
      <dt>{name}</dt>
      <dd className="number">{value}</dd>
      {hint && <dd className="quiet small">{hint}</dd>}
    </div>
  );
}

function Meaning({ widest, height, gauge }: { widest: Measured; height: Measured; gauge: Gauge }) {
  const words = useText().sizes;
  const wording = useSettings();
  const titleId = useId();
  const { around: stitches, rounds, hand } = spreadInStitches(widest, height, gauge);
  return (
    <section className="panel stack stack--tight" aria-labelledby={titleId}>
      <h2 id={titleId}>{words.meaningTitle}</h2>
      <p>{words.meaning}</p>
      <ul className="sizes__meaning">
        <li>
          {words.aroundInStitches(
            spreadText(widest, wording),
            countInWords(stitches, words.stitches),
            shortLengthText(gauge.stitchWidthMm.value, wording),
          )}
        </li>
        <li>{words.heightInRounds(spreadText(height, wording), countInWords(rounds, words.rounds))}</li>
        <li>
          {words.handInStitches(countInWords(hand, words.stitches))}{' '}
          {stitches > hand ? words.sizeDecides : words.handDecides}
        </li>
      </ul>
    </section>
  );
}
