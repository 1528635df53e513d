import { USUAL_YARN } from '../carrier-view/yarn-colours.ts';
import type { FinishedCarrier } from './finished-carrier.ts';

const WIDTH = 64;
const HEIGHT = 72;

/** A finished piece as a small drawing in its colour: a net, a sleeve or a mat. */
export function PieceDrawing({ kind, colour, strapMm }: FinishedCarrier) {
  const yarn = colour ?? USUAL_YARN;
  return (
    <svg className="piece__drawing" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      <g fill="none" stroke={yarn} strokeWidth="3" strokeLinecap="round">
        {strapMm !== null && kind !== 'mat' && <path d="M17 30 C17 2 47 2 47 30" />}
        {kind === 'net' && <Net />}
        {kind === 'sleeve' && <path d="M15 30 h34 l-3 36 h-28 z" fill={yarn} fillOpacity="0.55" />}
        {kind === 'mat' && [26, 18, 10, 3].map((rx) => <ellipse key={rx} cx="32" cy="44" rx={rx} ry={rx * 0.5} />)}
      </g>
    </svg>
  );
}

function Net() {
  const rows = [38, 47, 56];
  return (
    <>
      <path d="M15 31 h34" strokeWidth="5" />
      <path d="M17 66 h30" strokeWidth="5" />
      {rows.map((y, index) => (
        <path key={y} d={index % 2 === 0 ? `M16 ${y} q6 9 11 0 q6 9 11 0 q5 9 10 0` : `M21 ${y} q6 9 11 0 q6 9 11 0`} />
      ))}
      <path d="M16 33 V64 M48 33 V64" strokeWidth="1.5" />
    </>
  );
}
