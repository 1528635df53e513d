import { ID1_CARD } from '../../../vision/reference/reference.ts';
import type { FlatThing, Light, Surface } from './draw-table.ts';

/** Grounds and faces drawn by code for the card tests; sizes in mm, linear light. */
export const WHITE: Light = [0.75, 0.74, 0.72];
export const DARK: Light = [0.04, 0.045, 0.05];
export const NAVY: Light = [0.02, 0.06, 0.2];
export const SKIN: Light = [0.5, 0.28, 0.19];

export function plain(light: Light): Surface {
  return () => light;
}

export function wood(): Surface {
  return (x, y) => {
    const grain = 0.5 + 0.25 * Math.sin(y / 2.3 + 1.5 * Math.sin(x / 61)) + 0.2 * Math.sin(y / 0.9 + x / 80);
    const joint = Math.abs(((y / 70) % 1) + 1) % 1 < 0.02 ? 0.3 : 1;
    return [joint * (0.2 + 0.16 * grain), joint * (0.11 + 0.09 * grain), joint * (0.05 + 0.05 * grain)];
  };
}

/** Printed grid of a cutting mat: fine lines every 12.7 mm, bold ones every 25.4 mm. */
export function cuttingMat(): Surface {
  const near = (v: number, pitch: number, half: number): boolean => Math.abs(v - pitch * Math.round(v / pitch)) < half;
  return (x, y) => {
    if (near(x, 25.4, 0.4) || near(y, 25.4, 0.4)) return [0.55, 0.6, 0.5];
    if (near(x, 12.7, 0.2) || near(y, 12.7, 0.2)) return [0.3, 0.4, 0.3];
    return [0.03, 0.16, 0.09];
  };
}

export function chequeredCloth(squareMm: number): Surface {
  return (x, y) => {
    const a = Math.floor(x / squareMm) & 1;
    const b = Math.floor(y / squareMm) & 1;
    const v = a + b;
    return v === 0 ? [0.7, 0.68, 0.66] : v === 1 ? [0.55, 0.25, 0.25] : [0.4, 0.04, 0.05];
  };
}

/** Stripes that run right into the card's border, dark and bright in turn. */
export function stripes(periodMm: number): Surface {
  return (x, y) => ((Math.floor((x + 0.4 * y) / (periodMm / 2)) & 1) === 0 ? [0.06, 0.2, 0.3] : [0.6, 0.62, 0.5]);
}

/** A bank card's face: chip, number, a second colour. */
export function bankArt(base: Light): Surface {
  return (x, y) => {
    if (x > -32 && x < -20 && y > 0 && y < 10) return [0.5, 0.35, 0.1];
    if (Math.abs(y + 6) < 2 && Math.abs(x) < 34 && Math.floor((x + 34) / 1.7) % 2 === 0) return [0.7, 0.7, 0.7];
    const glow = Math.max(0, 1 - Math.hypot(x - 30, y - 18) / 50);
    return [base[0] + 0.15 * glow, base[1] + 0.1 * glow, base[2] + 0.2 * glow];
  };
}

export function card(face: Surface, place: Partial<FlatThing> = {}): FlatThing {
  return { ...ID1_CARD, xMm: 0, yMm: 0, yawRad: 0, face, edge: [0.35, 0.35, 0.34], ...place };
}

/** Any other rectangle on the table. */
export function sheet(
  widthMm: number,
  heightMm: number,
  cornerRadiusMm: number,
  face: Surface,
  place: Partial<FlatThing> = {},
): FlatThing {
  return { ...card(face), widthMm, heightMm, cornerRadiusMm, ...place };
}
