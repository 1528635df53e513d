import { useState } from 'react';
import { useText } from '../text/text.ts';

interface CopyButtonProps {
  readonly text: string;
  readonly main?: boolean;
  readonly children: string;
}

/** Lays a text on the clipboard, and says whether it lies there. */
export function CopyButton({ text, main, children }: CopyButtonProps) {
  const words = useText().orders;
  const [said, setSaid] = useState('');
  const copy = () =>
    navigator.clipboard.writeText(text).then(
      () => setSaid(words.copied),
      () => setSaid(words.notCopied),
    );
  return (
    <div className="stack stack--tight">
      <div>
        <button type="button" className={main ? 'button button--main' : 'button'} onClick={() => void copy()}>
          {children}
        </button>
      </div>
      <p role="status">{said}</p>
    </div>
  );
}
