import type { ReactNode } from 'react';
import { Icon } from './Icon.tsx';

interface NoteProps {
  readonly kind: 'info' | 'warn' | 'stop';
  readonly title?: string;
  readonly children: ReactNode;
}

/** A sentence beside what it is about; the mark says how serious it is, the colour only repeats it. */
export function Note({ kind, title, children }: NoteProps) {
  return (
    <div className={`note note--${kind}`}>
      {kind !== 'info' && <Icon name={kind} />}
      <div className="stack stack--tight">
        {title && <strong>{title}</strong>}
        <div>{children}</div>
      </div>
    </div>
  );
}
