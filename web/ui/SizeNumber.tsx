import { useSettings } from '../app/use-settings.ts';
import { lengthWords, type Measured } from '../text/estimate-text.ts';

interface SizeNumberProps {
  readonly name: string;
  readonly length: Measured;
  /** It is being measured again: what stands here is the former value. */
  readonly old?: boolean;
}

/** One size as the hero it is, with its unit and its ± small beneath. Belongs into a `<dl>`. */
export function SizeNumber({ name, length, old = false }: SizeNumberProps) {
  const { value, spread, unit } = lengthWords(length, useSettings());
  return (
    <div className={old ? 'size-number size-number--old' : 'size-number'}>
      <dt className="size-number__name">{name}</dt>
      <dd className="size-number__value">
        <span className="big-number">{value}</span> {unit}
      </dd>
      <dd className="size-number__spread">± {spread}</dd>
    </div>
  );
}
