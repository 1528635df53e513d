import type { Hint } from '../../vision/viewfinder/hint.ts';

/** Strokes on a 64 px grid: the picture's frame, a jar and a card, and what to do about them. */
const JAR = 'M24 16h14v5l3 4v21H21V25l3-4z';
const SMALL_JAR = 'M28 26h8v3l2 2v11H26V31l2-2z';
const CARD = 'M44 44h14v9H44z';
const DRAWINGS: Readonly<Record<Hint, string>> = {
  'show-card': `${JAR} M44 44h4m3 0h4m3 0v3m0 3v3h-4m-3 0h-4m-3 0v-3m0-3v-3 M51 33v7m-3-3 3 3 3-3`,
  'card-further-in': `${JAR} M52 48h10M52 48v10M44 60l8-8m-6 0h6v6`,
  'card-nearer': `M14 16h14v5l3 4v21H11V25l3-4z ${CARD} M42 48h-8m3-3-3 3 3 3`,
  'card-aside': `${JAR} M27 38h14v9H27z M45 42h10m-3-3 3 3-3 3`,
  'turn-card': `M20 40l18-8 6 12-18 8z M46 26a12 12 0 0 1 8 12m-4-3 4 3 3-4 M33 37l2 4`,
  closer: `${SMALL_JAR} M8 8l8 8m-8-3V8h5 M56 8l-8 8m8-3V8h-5 M8 56l8-8m-8 3v5h5 M56 56l-8-8m8 3v5h-5`,
  back: `M20 4h24v10l6 8v42H14V22l6-8z M8 32h-4m0 0 3-3m-3 3 3 3 M56 32h4m0 0-3-3m3 3-3 3`,
  higher: `${JAR} M52 44V20m-5 5 5-5 5 5`,
  tilt: `M12 44h24l8 10H20z M50 14l-10 18m0-6v6h6`,
  light: 'M32 20a10 10 0 0 1 5 18v5H27v-5a10 10 0 0 1 5-18z M28 48h8 M32 8v6 M12 30h6 M46 30h6 M17 15l4 4 M47 15l-4 4',
  still: 'M24 10h16v44H24z M14 20v24 M50 20v24 M8 27v10 M56 27v10',
  'show-container': `M24 16h4m4 0h6v5l3 4v6m0 5v10h-6m-5 0h-9v-6m0-6v-9l3-4v-5 ${CARD}`,
  'tap-one': `M12 24h12v24H12z M38 24h12v24H38z M44 20a6 6 0 1 0-.1 0z`,
  'off-saucer': `M22 20h20v16a6 6 0 0 1-6 6h-8a6 6 0 0 1-6-6z M12 50h40l-4 5H16z M54 40V26m-4 4 4-4 4 4`,
  'calmer-ground': `${JAR} M6 10l6 6M6 20l6 6M50 10l8 8M50 20l8 8`,
  tape: 'M8 26h48v14H8z M16 26v6 M24 26v4 M32 26v6 M40 26v4 M48 26v6',
};

/** The hint as a small drawing; the words beside it say the same. */
export function HintDrawing({ hint }: { readonly hint: Hint }) {
  return (
    <svg viewBox="0 0 64 64" width={56} height={56} aria-hidden="true" className="viewfinder__drawing">
      <path d={DRAWINGS[hint]} />
    </svg>
  );
}
