import { useText } from '../text/text.ts';
import { SceneDrawing } from './SceneDrawing.tsx';
import './guide.css';

/** The four ways to lay the card, best first. */
export function WaysToTakeIt() {
  const text = useText().guide;
  return (
    <ul className="ways">
      <li>
        <SceneDrawing name="standing" />
        <span>
          <strong>{text.best}:</strong> {text.ways.standing}
        </span>
      </li>
      <li>
        <SceneDrawing name="lying" />
        <span>
          <strong>{text.best}:</strong> {text.ways.lying}
        </span>
      </li>
      <li>
        <SceneDrawing name="front" />
        <span>
          <strong>{text.good}:</strong> {text.ways.front}
        </span>
      </li>
      <li>
        <SceneDrawing name="leaning" />
        <span>{text.ways.leaning}</span>
      </li>
    </ul>
  );
}
