import type { ReactNode } from 'react';

/* Our own drawings, things seen a little from above: one pen, one flat shade, one colour. The words beside them say the same. */

/** A rail of hooks with nothing on it but the place for the first piece. */
export function EmptyRail() {
  return (
    <Drawn>
      <path className="drawn__shade" d="M14 22h212v14H14z" />
      <path className="drawn__ground" d="M26 22V8M214 22V8" />
      {[44, 95, 146, 197].map((x) => (
        <path key={x} className="drawn__line" d={`M${x} 36v10c0 9 14 9 14 0`} />
      ))}
      <path
        className="drawn__accent"
        strokeDasharray="5 6"
        d="M109 50c-16 14-22 30-22 44M109 50c12 14 20 30 20 44M85 94h46l-5 44c-1 6-35 6-36 0z"
      />
    </Drawn>
  );
}

/** A shelf without anything on it. */
export function EmptyShelf() {
  return (
    <Drawn>
      <path className="drawn__shade" d="M20 108h200l12 14H8z" />
      <path className="drawn__line" d="M40 122v18M200 122v18M40 140c10 0 14-8 14-18M200 140c-10 0-14-8-14-18" />
      <path
        className="drawn__accent"
        strokeDasharray="5 6"
        d="M78 104V56c0-10 8-13 8-22V22h16v12c0 9 8 12 8 22v48zM140 104l-4-48h44l-4 48z"
      />
      <path className="drawn__ground" d="M64 114h60M132 114h52" />
    </Drawn>
  );
}

/** A basket that holds no more. */
export function FullBasket() {
  return (
    <Drawn>
      <circle className="drawn__shade" cx="88" cy="60" r="24" />
      <circle className="drawn__shade" cx="150" cy="60" r="24" />
      <circle className="drawn__shade" cx="119" cy="38" r="24" />
      <path className="drawn__accent" d="M103 30c10-6 24-4 32 6M99 42c12-8 30-6 40 4M108 56c8-5 18-4 26 2" />
      <path
        className="drawn__line"
        d="M72 52c10-6 22-4 30 4M70 66c10-7 24-6 34 2M134 52c10-6 22-4 30 4M132 66c10-7 26-6 36 2"
      />
      <path className="drawn__shade" d="M50 78h140l-14 56c-1 4-4 6-8 6H72c-4 0-7-2-8-6z" />
      <path className="drawn__line" d="M54 96h132M59 114h122M84 80l6 58M120 80v58M156 80l-6 58" />
      <path className="drawn__accent" d="M174 60c26-4 34 12 26 26s4 22 16 18" />
    </Drawn>
  );
}

/** The whole bottle and the whole card inside the frame: step back. */
export function StepBack() {
  return (
    <Drawn>
      <path className="drawn__ground" d="M20 136 48 96h144l28 40z" />
      <Bottle x={78} y={22} />
      <path className="drawn__card" d="M136 108l42-3 9 17-46 4z" />
      <path className="drawn__accent" d="M40 30V12h18M182 12h18v18M200 126v16h-18M58 142H40v-16" />
      <path className="drawn__line" d="M30 62 12 74l18 12M12 74h22M210 62l18 12-18 12M228 74h-22" />
    </Drawn>
  );
}

/** From a little above, so that base and card are seen. */
export function TiltALittle() {
  return (
    <Drawn>
      <path className="drawn__ground" d="M10 138h220" />
      <Bottle x={30} y={32} />
      <path className="drawn__card" d="M84 134h44" strokeWidth="6" />
      <g transform="translate(176 34) rotate(28)">
        <rect className="drawn__shade" x="-12" y="-24" width="24" height="48" rx="5" />
        <circle className="drawn__line" cx="-12" cy="-12" r="2" />
      </g>
      <path className="drawn__accent" strokeDasharray="5 6" d="M158 52 82 112" />
      <path className="drawn__accent" d="M214 112c4-22 0-44-14-62M192 58l8-8 10 5" />
    </Drawn>
  );
}

/** A card is missing: lay one beside it. */
export function LayACard() {
  return (
    <Drawn>
      <path className="drawn__ground" d="M20 136 48 96h144l28 40z" />
      <Bottle x={66} y={22} />
      <path className="drawn__card" strokeDasharray="7 6" d="M128 106l46-3 10 19-52 4z" />
      <path className="drawn__line" d="M152 34v46M140 68l12 13 12-13" />
    </Drawn>
  );
}

/** Not round, or not to be seen: a tape says it. */
export function UseATape() {
  return (
    <Drawn>
      <path className="drawn__ground" d="M30 138h180" />
      <Bottle x={86} y={30} />
      <path className="drawn__accent" d="M82 96c4 14 66 14 70 0M152 96c-2-8-14-10-14-10M82 96c2-8 10-10 10-10" />
      <path className="drawn__accent" d="M90 104v6M104 107v6M118 108v6M132 107v6M145 103v6" />
      <path className="drawn__line" d="M152 98c26 4 30 20 52 22M204 120l6-8M204 120l9 4" />
    </Drawn>
  );
}

function Bottle({ x, y }: { readonly x: number; readonly y: number }) {
  return (
    <g transform={`translate(${x} ${y})`}>
      <path
        className="drawn__shade"
        d="M20 12h18v12c0 9 14 11 14 26v48c0 8-10 12-23 12S6 106 6 98V50c0-15 14-17 14-26z"
      />
      <path className="drawn__line" d="M17 0h24v12H17zM6 92c7 9 39 9 46 0M14 58v26" />
    </g>
  );
}

function Drawn({ children }: { readonly children: ReactNode }) {
  return (
    <svg className="drawn" viewBox="0 0 240 150" width="240" height="150" aria-hidden="true">
      {children}
    </svg>
  );
}
