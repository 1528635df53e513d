import type { ReactNode } from 'react';
import { Icon, type IconName } from './Icon.tsx';

interface FoldProps {
  readonly title: string;
  readonly icon?: IconName;
  /** Open from the start. */
  readonly open?: boolean;
  readonly children: ReactNode;
}

/** One line in plain words; what it is about opens under it. */
export function Fold({ title, icon, open, children }: FoldProps) {
  return (
    <details className="fold" open={open}>
      <summary>
        {icon && <Icon name={icon} />}
        {title}
      </summary>
      <div className="stack">{children}</div>
    </details>
  );
}
