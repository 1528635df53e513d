import { capacityMl, meridianOf } from '../../sizing/body/meridian.ts';
import type { Container } from '../../sizing/container.ts';
import type { Gauge } from '../../sizing/gauge.ts';
import type { Measurement } from '../../vision/measurement.ts';
import { useSettings } from '../app/use-settings.ts';
import type { Tape } from '../keep/records.ts';
import { half95, lengthText, type Measured, spreadText, valueText, volumeText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { SizeNumber } from '../ui/SizeNumber.tsx';
import { countInWords, spreadInStitches } from './in-stitches.ts';
import { ProfileFigure } from './ProfileFigure.tsx';
import './sizes.css';

/** The sizes that are shown: photo and tape together, with the photo's own interval where no tape touched it. */
export interface ShownSizes {
  readonly widest: Measured;
  readonly base: Measured;
  readonly height: Measured;
}

export function shownSizes(container: Container, measurement: Measurement | null): ShownSizes {
  return {
    widest: withPhotoInterval(container.maxDiameterMm, measurement?.maxDiameterMm),
    base: withPhotoInterval(container.baseDiameterMm, measurement?.baseDiameterMm),
    height: withPhotoInterval(container.heightMm, measurement?.heightMm),
  };
}

interface MainSizesProps {
  readonly sizes: ShownSizes;
  /** It is being measured again. */
  readonly old: boolean;
}

/** The two numbers of a container, and the base as a third where it is another size. */
export function MainSizes({ sizes: { widest, base, height }, old }: MainSizesProps) {
  const words = useText().sizes;
  const tapers = Math.abs(widest.value - base.value) > half95(widest) + half95(base);
  return (
    <dl className="numbers" aria-live="polite" aria-busy={old}>
      <SizeNumber name={words.widest} length={widest} old={old} />
      <SizeNumber name={words.height} length={height} old={old} />
      {tapers && <SizeNumber name={words.checkNames.base} length={base} old={old} />}
    </dl>
  );
}

interface AllSizesProps {
  readonly container: Container;
  readonly sizes: ShownSizes;
  /** Null for a container known from the tape alone. */
  readonly measurement: Measurement | null;
  readonly tape: Tape;
}

/** Every size there is, beside a drawing to scale. */
export function AllSizes({ container, sizes: { widest, base, height }, measurement, tape }: AllSizesProps) {
  const words = useText().sizes;
  const wording = useSettings();
  const taped = tape.circumferenceMm !== null || tape.baseCircumferenceMm !== null || tape.heightMm !== null;
  const capacity = measurement && !taped ? measurement.capacityMl : capacityMl(container, meridianOf(container));
  const baseHidden = measurement && !measurement.baseDiameterMm && !tape.baseCircumferenceMm;
  return (
    <div className="sizes__main">
      <ProfileFigure container={container} />
      <dl className="sizes__list">
        <Size name={words.widest} value={lengthText(widest, wording)} />
        <Size name={words.height} value={lengthText(height, wording)} />
        <Size name={words.base} value={lengthText(base, wording)} hint={baseHidden ? words.baseHidden : undefined} />
        <Size name={words.around} value={lengthText(around(widest), wording)} />
        <Size name={words.capacity} value={volumeText(capacity, wording)} hint={words.capacityHint} />
      </dl>
    </div>
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
  readonly hint?: string | undefined;
}

function Size({ name, value, hint }: SizeProps) {
  return (
    <div className="sizes__size">
      <dt>{name}</dt>
      <dd className="number">{value}</dd>
      {hint && <dd className="quiet small">{hint}</dd>}
    </div>
  );
}

/** What the ± comes to in her own stitches. */
export function Meaning({ sizes: { widest, height }, gauge }: { readonly sizes: ShownSizes; readonly gauge: Gauge }) {
  const words = useText().sizes;
  const wording = useSettings();
  const { around: stitches, rounds, hand } = spreadInStitches(widest, height, gauge);
  return (
    <>
      <p>{words.meaning}</p>
      <ul className="sizes__meaning">
        <li>
          {words.aroundInStitches(
            spreadText(widest, wording),
            countInWords(stitches, words.stitches),
            valueText(gauge.stitchWidthMm, wording),
          )}
        </li>
        <li>{words.heightInRounds(spreadText(height, wording), countInWords(rounds, words.rounds))}</li>
        {stitches > hand && <li>{words.sizeDecides}</li>}
      </ul>
    </>
  );
}
