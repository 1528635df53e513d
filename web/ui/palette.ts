/** The light look of palette.css for pictures that are sent, kept or printed: they look the same to everybody. */
export const PAPER = '#f6f1e7';
export const CARD = '#fffdf8';
export const MIST = '#e3eae4';
export const INK = '#1f2a2e';
export const SOFT = '#445258';
export const KELP = '#0f5b53';
export const ROPE = '#c9a24b';
export const BUOY = '#a93512';
