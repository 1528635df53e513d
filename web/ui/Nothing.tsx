import type { ReactNode } from 'react';

interface NothingProps {
  readonly drawing: ReactNode;
  readonly says: string;
  /** The one next step. */
  readonly children?: ReactNode;
}

/** Where there is nothing yet, or something stands in the way: a drawing, a sentence, one next step. */
export function Nothing({ drawing, says, children }: NothingProps) {
  return (
    <div className="nothing">
      {drawing}
      <p>{says}</p>
      {children}
    </div>
  );
}
