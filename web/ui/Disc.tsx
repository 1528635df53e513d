interface DiscProps {
  /** Rounds worked. */
  readonly worked: number;
  readonly of?: number;
  /** The round in work turns while something takes its time. */
  readonly turning?: boolean;
  readonly size?: number;
}

/** Concentric rounds that fill from the middle: the sign of the page, and of whatever moves on. */
export function Disc({ worked, of = 4, turning = false, size = 24 }: DiscProps) {
  const step = 10 / of;
  return (
    <svg className="disc" viewBox="0 0 24 24" width={size} height={size} aria-hidden="true">
      {Array.from({ length: of }, (_, k) => {
        const radius = step * (k + 0.75);
        const inWork = turning && k === worked;
        return (
          <circle
            key={radius}
            className={k < worked ? 'disc__worked' : inWork ? 'disc__now' : 'disc__open'}
            cx="12"
            cy="12"
            r={radius}
            strokeDasharray={inWork ? `${radius * 2} ${radius * 5}` : undefined}
          />
        );
      })}
    </svg>
  );
}
