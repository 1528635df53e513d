import { type ReactNode, useId, useLayoutEffect, useRef } from 'react';
import { useText } from '../text/text.ts';
import { Icon } from './Icon.tsx';

interface SheetProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ReactNode;
  /** Stays in view at its lower edge. */
  readonly foot?: ReactNode;
}

/** Rises over the screen until it is closed; the keyboard stays inside meanwhile. */
export function Sheet({ title, onClose, children, foot }: SheetProps) {
  const text = useText().shell;
  const place = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  // Before it leaves the page again: a dialog that is closed hands the focus back to where it was.
  useLayoutEffect(() => {
    const dialog = place.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: Escape closes a dialog by itself; the click is on the ground beside it.
    <dialog
      ref={place}
      className="over"
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClick={(event) => event.target === place.current && onClose()}
    >
      <div className="over__head">
        <h2 id={titleId}>{title}</h2>
        <button type="button" className="button button--quiet button--icon" aria-label={text.close} onClick={onClose}>
          <Icon name="close" />
        </button>
      </div>
      <div className="over__body">{children}</div>
      {foot && <div className="over__foot">{foot}</div>}
    </dialog>
  );
}
