import type { ReactNode } from 'react';
import { Icon, type IconName } from './Icon.tsx';

interface FoldProps {
  readonly title: string;
  /** For `openFold`. */
  readonly id?: string;
  readonly icon?: IconName;
  /** Open from the start. */
  readonly open?: boolean;
  readonly children: ReactNode;
}

/** One line in plain words; what it is about opens under it. */
export function Fold({ title, id, icon, open, children }: FoldProps) {
  return (
    <details className="fold" id={id} open={open}>
      <summary>
        {icon && <Icon name={icon} />}
        {title}
      </summary>
      <div className="stack">{children}</div>
    </details>
  );
}

/** Opens it and goes to its first field. */
export function openFold(id: string): void {
  const fold = document.getElementById(id);
  fold?.setAttribute('open', '');
  fold?.querySelector('input')?.focus();
}
