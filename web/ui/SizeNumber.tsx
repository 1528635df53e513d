import { useSettings } from '../app/use-settings.ts';
import { lengthWords, type Measured } from '../text/estimate-text.ts';

interface SizeNumberProps {
  readonly name: string;
  readonly length: Measured;
  /** It is being measured again: what stands here is the former value. */
  readonly old?: boolean;
}

/** One size as the hero it is, with its unit and its ± small beneath. Inside a `<dl>` or alone. */
export function SizeNumber({ name, length, old = false }: SizeNumberProps) {
  const { value, spread, unit } = lengthWords(length, useSettings());
  return (
    <div className={old ? 'size-number size-number--old' : 'size-number'}>
      <span className="size-number__name">{name}</span>
      <span className="size-number__value">
        <span className="big-number">{value}</span> {unit}
      </span>
      <span className="size-number__spread">± {spread}</span>
    </div>
  );
}
