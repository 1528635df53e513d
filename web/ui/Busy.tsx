import { Disc } from './Disc.tsx';

/** Something takes its time: which round of it is in work, in words beside the disc. */
export function Busy({
  done,
  of = 4,
  children,
}: {
  readonly done: number;
  readonly of?: number;
  readonly children: string;
}) {
  return (
    <span className="busy">
      <Disc worked={done} of={of} turning size={32} />
      <span role="status">{children}</span>
    </span>
  );
}
