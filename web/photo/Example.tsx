import { useSettings } from '../app/use-settings.ts';
import { lengthText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import example from './example.json';
import './example.css';

/** The name of the sample it shows. */
export const EXAMPLE = example.name;

/**
 * What the page does, in one picture that moves once: photo, drawing, sizes, carrier. Everything on it was measured by
 * the engine (`npm run example`). A tap opens the sample itself.
 */
export function Example({ onOpen }: { readonly onOpen: () => void }) {
  const text = useText().photo;
  const wording = useSettings();
  const { width, height } = example;
  return (
    <button type="button" className="example" onClick={onOpen}>
      <img src="./samples/example.webp" alt={text.exampleAlt} width={width} height={height} fetchPriority="high" />
      <svg
        className="example__drawing"
        viewBox={`0 0 ${width} ${height}`}
        preserveAspectRatio="xMidYMid slice"
        aria-hidden="true"
      >
        <path className="example__card" pathLength="1" d={example.card} />
        <path className="example__casing" pathLength="1" d={example.outline} />
        <path className="example__outline" pathLength="1" d={example.outline} />
        <g className="example__yarn">
          <path pathLength="1" d={example.wall} />
          <path className="example__net" pathLength="1" d={example.net} />
          <path pathLength="1" d={example.band} />
          <path pathLength="1" d={example.strap} />
        </g>
      </svg>
      <span className="example__sizes">
        <span>{text.exampleWide(lengthText(example.widest, wording))}</span>
        <span>{text.exampleHigh(lengthText(example.high, wording))}</span>
      </span>
      <span className="chip example__open">
        {text.openExample} <Icon name="arrow" size={20} />
      </span>
    </button>
  );
}
