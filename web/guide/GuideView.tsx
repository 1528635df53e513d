import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';
import { CutDrawing, FlatDrawing, GlareDrawing, HiddenDrawing } from './drawings.tsx';
import { WaysToTakeIt } from './WaysToTakeIt.tsx';
import './guide.css';

interface GuideViewProps {
  readonly onPhoto: () => void;
  /** To the frame that is printed when no card is at hand. */
  readonly onRuler: () => void;
}

/** One page that can be printed or sent to a customer: how to take the photo. */
export function GuideView({ onPhoto, onRuler }: GuideViewProps) {
  const words = useText();
  const text = words.guide;
  const canShare = typeof navigator.share === 'function';
  const share = () => navigator.share({ title: text.title, text: asText(text) }).catch(() => {});
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
        <li>
          <CutDrawing />
          <span>{text.mistakes.cut}</span>
        </li>
        <li>
          <FlatDrawing />
          <span>{text.mistakes.flat}</span>
        </li>
        <li>
          <GlareDrawing />
          <span>{text.mistakes.glare}</span>
        </li>
        <li>
          <HiddenDrawing />
          <span>{text.mistakes.hidden}</span>
        </li>
      </ul>
      <p>
        {text.sameColour} {text.privacy}
      </p>
      <div className="row no-print">
        <button type="button" className="button button--main" onClick={onPhoto}>
          <Icon name="camera" /> {text.toPhoto}
        </button>
        <button type="button" className="button" onClick={() => window.print()}>
          {text.print}
        </button>
        <button type="button" className="button" onClick={onRuler}>
          {words.reference.toRuler}
        </button>
        {canShare && (
          <button type="button" className="button" onClick={share}>
            {text.share}
          </button>
        )}
      </div>
    </article>
  );
}

function asText(text: ReturnType<typeof useText>['guide']): string {
  const numbered = text.steps.map((step, k) => `${k + 1}. ${step}`);
  return [text.title, text.lead, ...numbered, text.sameColour, text.privacy].join('\n');
}
