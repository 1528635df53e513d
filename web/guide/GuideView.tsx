import type { Settings } from '../app/settings.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { SceneDrawing } from './SceneDrawing.tsx';
import { SendGuide } from './SendGuide.tsx';
import { WaysToTakeIt } from './WaysToTakeIt.tsx';
import './guide.css';

interface GuideViewProps {
  readonly settings: Settings;
  readonly onSettings: (settings: Settings) => void;
  readonly onPhoto: () => void;
  /** To the frame that is printed when no card is at hand. */
  readonly onRuler: () => void;
}

/** How to take the photo: to read, to print, and as one picture to send to a customer. */
export function GuideView({ settings, onSettings, onPhoto, onRuler }: GuideViewProps) {
  const words = useText();
  const text = words.guide;
  return (
    <article className="guide stack">
      <h1>{text.title}</h1>
      <p>{text.lead}</p>
      <ol className="guide__steps">
        {text.steps.map((step) => (
          <li key={step}>{step}</li>
        ))}
      </ol>
      <WaysToTakeIt />
      <h2>{text.mistakesTitle}</h2>
      <ul className="ways ways--mistakes">
        {(['cut', 'flat', 'glare', 'hidden'] as const).map((mistake) => (
          <li key={mistake}>
            <SceneDrawing name={mistake} />
            <span>{text.mistakes[mistake]}</span>
          </li>
        ))}
      </ul>
      <p>
        {text.sameColour} {text.privacy}
      </p>
      <div className="row no-print">
        <button type="button" className="button" onClick={onPhoto}>
          <Icon name="camera" /> {text.toPhoto}
        </button>
        <button type="button" className="button" onClick={() => window.print()}>
          {text.print}
        </button>
        <button type="button" className="button" onClick={onRuler}>
          {words.reference.toRuler}
        </button>
      </div>
      <SendGuide settings={settings} onSettings={onSettings} />
    </article>
  );
}
