import type { ReactNode } from 'react';

/**
 * Own line drawings of how to take the photo, in the page's ink. The card is the dashed blue-grey plate everywhere,
 * as in the check step.
 */
export function StandingDrawing() {
  return (
    <Scene>
      <Table />
      <g transform="translate(58 18)">
        <Bottle />
      </g>
      <path className="draw-card" d="M92 104l44-3 8 16-48 4z" />
    </Scene>
  );
}

export function LyingDrawing() {
  return (
    <Scene>
      <rect className="draw-ground" x="8" y="10" width="184" height="118" rx="10" />
      <g transform="translate(146 26) rotate(90)">
        <Bottle />
      </g>
      <path className="draw-card" d="M62 92h62v32H62z" />
    </Scene>
  );
}

export function FrontDrawing() {
  return (
    <Scene>
      <Table />
      <g transform="translate(76 18)">
        <Bottle />
      </g>
      <path className="draw-card" d="M84 62h30v46H84z" />
      <path
        className="draw-hand"
        d="M200 92c-22-4-36-14-52-18-12-3-26-3-35-1-6 1-6 9 0 10l16 2c-9 2-19 5-19 10 0 4 6 5 13 3 12 11 28 21 47 25l30 5z"
      />
      <path className="draw-ink" d="M129 85c6 0 12 1 17 4M123 98c5-1 9-3 13-5" />
    </Scene>
  );
}

export function LeaningDrawing() {
  return (
    <Scene>
      <Table />
      <g transform="translate(76 18)">
        <Bottle />
      </g>
      <path className="draw-card" d="M82 74h36l4 42H78z" />
    </Scene>
  );
}

export function CutDrawing() {
  return (
    <Scene crossed>
      <rect className="draw-frame" x="40" y="34" width="120" height="86" />
      <g transform="translate(58 12)">
        <Bottle />
      </g>
      <path className="draw-card" d="M132 98l40-3 8 16-44 4z" />
    </Scene>
  );
}

export function FlatDrawing() {
  return (
    <Scene crossed>
      <Table />
      <g transform="translate(58 18)">
        <Bottle />
      </g>
      <path className="draw-card" d="M100 117l46-1 3 4-50 1z" />
    </Scene>
  );
}

export function GlareDrawing() {
  return (
    <Scene crossed>
      <Table />
      <path className="draw-card" d="M62 78l70-5 12 36-78 6z" />
      <path className="draw-glare" d="M128 58v-16M146 64l10-12M152 80h16M110 64l-9-12" />
      <circle className="draw-glare-spot" cx="128" cy="80" r="15" />
    </Scene>
  );
}

export function HiddenDrawing() {
  return (
    <Scene crossed>
      <Table />
      <g transform="translate(76 18)">
        <Bottle />
      </g>
      <path className="draw-card draw-card--solid" d="M66 96h66v30H66z" />
    </Scene>
  );
}

function Scene({ crossed, children }: { readonly crossed?: boolean; readonly children: ReactNode }) {
  return (
    <svg viewBox="0 0 200 140" className="drawing-scene" aria-hidden="true">
      {children}
      {crossed && <path className="draw-cross" d="M176 12l16 16M192 12l-16 16" />}
    </svg>
  );
}

function Table() {
  return <path className="draw-ground" d="M6 132 34 92h132l28 40z" />;
}

/** 46 wide, 104 high; stands on its lower edge. */
function Bottle() {
  return (
    <>
      <path className="draw-bottle" d="M15 12h16v12c0 7 11 9 11 22v48c0 7-8 10-19 10S4 101 4 94V46c0-13 11-15 11-22z" />
      <path className="draw-bottle-cap" d="M13 2h20v11H13z" />
      <path className="draw-ink" d="M4 88c6 8 32 8 38 0M11 52v26" />
    </>
  );
}
