import { useText } from '../text/text.ts';
import { FrontDrawing, LeaningDrawing, LyingDrawing, StandingDrawing } from './drawings.tsx';
import './guide.css';

/** The four ways to lay the card, best first. */
export function WaysToTakeIt() {
  const text = useText().guide;
  return (
    <ul className="ways">
      <li>
        <StandingDrawing />
        <span>
          <strong>{text.best}:</strong> {text.ways.standing}
        </span>
      </li>
      <li>
        <LyingDrawing />
        <span>
          <strong>{text.best}:</strong> {text.ways.lying}
        </span>
      </li>
      <li>
        <FrontDrawing />
        <span>
          <strong>{text.good}:</strong> {text.ways.front}
        </span>
      </li>
      <li>
        <LeaningDrawing />
        <span>{text.ways.leaning}</span>
      </li>
    </ul>
  );
}
