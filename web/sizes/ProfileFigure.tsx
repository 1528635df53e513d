import type { Container } from '../../sizing/container.ts';
import { useSettings } from '../app/use-settings.ts';
import { valueText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { profileDrawing } from './profile-drawing.ts';

const WIDTH = 396;
const HEIGHT = 380;
const AXIS_X = 150;

/** Side view to scale with its dimensions. */
export function ProfileFigure({ container }: { readonly container: Container }) {
  const words = useText().sizes;
  const wording = useSettings();
  const drawn = profileDrawing(container, { axisX: AXIS_X, topY: 34, groundY: HEIGHT - 62, widestAllowed: 230 });
  const widest = valueText(container.maxDiameterMm, wording);
  const base = valueText(container.baseDiameterMm, wording);
  const height = valueText(container.heightMm, wording);
  const { axisX, groundY, topY } = drawn;
  const heightX = axisX + Math.max(drawn.widest.halfWidth + 26, 60);
  return (
    <svg
      className="profile-figure"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={words.drawing(widest, base, height)}
    >
      <path className="profile-figure__body" d={drawn.path} />
      <line className="profile-figure__table" x1="8" x2={WIDTH - 8} y1={groundY} y2={groundY} />
      <line className="profile-figure__axis" x1={axisX} x2={axisX} y1={topY - 14} y2={groundY + 8} />
      <Across axisX={axisX} y={drawn.widest.y} halfWidth={drawn.widest.halfWidth} label={`⌀ ${widest}`} />
      <Across
        axisX={axisX}
        y={groundY + 30}
        halfWidth={drawn.base.halfWidth}
        label={`⌀ ${base}`}
        from={groundY}
        below
      />
      <g className="profile-figure__size">
        <line x1={axisX + 8} x2={heightX + 6} y1={topY} y2={topY} className="profile-figure__help" />
        <Arrow x1={heightX} y1={topY} x2={heightX} y2={groundY} />
        <text x={heightX + 10} y={(topY + groundY) / 2} dominantBaseline="middle">
          {height}
        </text>
      </g>
    </svg>
  );
}

interface AcrossProps {
  readonly axisX: number;
  readonly y: number;
  readonly halfWidth: number;
  readonly label: string;
  readonly from?: number;
  readonly below?: boolean;
}

function Across({ axisX, y, halfWidth, label, from, below = false }: AcrossProps) {
  return (
    <g className="profile-figure__size">
      {from !== undefined &&
        [-1, 1].map((side) => (
          <line
            key={side}
            className="profile-figure__help"
            x1={axisX + side * halfWidth}
            x2={axisX + side * halfWidth}
            y1={from}
            y2={y + 5}
          />
        ))}
      <Arrow x1={axisX - halfWidth} y1={y} x2={axisX + halfWidth} y2={y} />
      <text x={axisX} y={below ? y + 20 : y - 8} textAnchor="middle" className="profile-figure__halo">
        {label}
      </text>
    </g>
  );
}

/** A dimension line with slanted end strokes. */
function Arrow({ x1, y1, x2, y2 }: { x1: number; y1: number; x2: number; y2: number }) {
  const tick = (x: number, y: number) => `M${x - 4} ${y + 4}L${x + 4} ${y - 4}`;
  return <path d={`M${x1} ${y1}L${x2} ${y2}${tick(x1, y1)}${tick(x2, y2)}`} fill="none" />;
}
