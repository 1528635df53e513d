import { describe, expect, it } from 'vitest';
import { estimate } from '../../../vision/estimate.ts';
import { type MeasureResult, type ProblemCode, problem } from '../../../vision/measurement.ts';
import { type Hint, hintFor } from '../../../vision/viewfinder/hint.ts';
import { BEGINNING, GOOD_ENOUGH, readiness, type Settling, settle } from '../../../vision/viewfinder/settle.ts';
import { hasMoved, isDark, type Thumbnail } from '../../../vision/viewfinder/thumbnail.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const FRAME = { widthPx: 720, heightPx: 1280, isMoving: false, isDark: false };
const refused = (code: ProblemCode): MeasureResult => ({
  outcome: 'refused',
  reason: problem(code),
  found: { cornersPx: null, outlinePx: null },
  warnings: [],
});

/** A container 70 mm wide and 120 mm high, outlined over a share of the frame's height. */
function measured(
  { sd = 0.004, widest = 70, share = 0.5 }: { sd?: number; widest?: number; share?: number } = {},
  ...codes: ProblemCode[]
): MeasureResult {
  const highPx = share * FRAME.heightPx;
  const outlinePx = [
    [300, 100],
    [400, 100],
    [400, 100 + highPx],
    [300, 100 + highPx],
  ];
  return {
    outcome: 'measured',
    measurement: { maxDiameterMm: estimate(widest, sd * widest), heightMm: estimate(120, sd * 120), outlinePx },
    warnings: codes.map(problem),
  } as unknown as MeasureResult;
}

describe('the one hint', () => {
  it.each([
    ['card-cut-off', 'card-further-in'],
    ['no-card', 'show-card'],
    ['card-too-oblique', 'higher'],
    ['container-cut-off', 'back'],
    ['base-hidden', 'card-aside'],
    ['two-containers', 'tap-one'],
    ['too-dark', 'light'],
    ['blurred', 'still'],
    ['not-round', 'tape'],
  ] as const)('of a picture refused with %s cures it: %s', (code, hint) => {
    expect(hintFor(refused(code), FRAME)).toBe(hint);
  });

  it('of a picture that can be measured is what takes most off the ±', () => {
    expect(hintFor(measured({}, 'typical-focal', 'card-square-on', 'stands-on-something'), FRAME)).toBe('off-saucer');
    expect(hintFor(measured({}, 'typical-focal', 'card-square-on'), FRAME)).toBe('tilt');
    expect(hintFor(measured({ share: 0.2 }), FRAME)).toBe('closer');
    expect(hintFor(measured({}, 'typical-focal'), FRAME)).toBeNull();
  });

  it('asks for light where little of it may be why nothing is recognised', () => {
    expect(hintFor(refused('too-uncertain'), { ...FRAME, isDark: true })).toBe('light');
    expect(hintFor(refused('card-cut-off'), { ...FRAME, isDark: true })).toBe('card-further-in');
  });

  it('asks to hold still only where nothing else hinders', () => {
    const moving = { ...FRAME, isMoving: true };
    expect(hintFor(measured(), moving)).toBe('still');
    expect(hintFor(refused('card-cut-off'), moving)).toBe('card-further-in');
    expect(hintFor(refused('fit-failed'), moving)).toBe('still');
  });
});

describe('a thumbnail shows movement of the camera: it', () => {
  const random = seededRandom(5);
  const thumbnail = (level: (x: number, y: number) => number): Thumbnail => {
    const rgba = new Uint8ClampedArray(4 * 48 * 64);
    for (let i = 0; i < 48 * 64; i++)
      rgba.fill(level(i % 48, Math.floor(i / 48)) + random.normal() * 2, 4 * i, 4 * i + 3);
    return { widthPx: 48, heightPx: 64, rgba };
  };
  const table = (x: number, y: number) => (x > 20 && x < 30 && y > 10 && y < 50 ? 200 : 60 + (x % 8) * 6);

  it('is seen, noise and exposure are not', () => {
    const before = thumbnail(table);
    expect(
      hasMoved(
        before,
        thumbnail((x, y) => table(x - 3, y)),
      ),
    ).toBe(true);
    expect(hasMoved(before, thumbnail(table))).toBe(false);
    expect(
      hasMoved(
        before,
        thumbnail((x, y) => table(x, y) + 25),
      ),
    ).toBe(false);
  });

  it('is told from darkness', () => {
    expect(isDark(thumbnail(table))).toBe(false);
    expect(isDark(thumbnail((x, y) => table(x, y) * 0.1))).toBe(true);
  });
});

describe('the picture takes itself', () => {
  const seeing = (looks: readonly MeasureResult[], isMoving = false): Settling =>
    looks.reduce((state, look) => settle(state, look, isMoving), BEGINNING);

  it('when two looks agree within the wish', () => {
    expect(readiness(seeing([measured()]), null)).toBe(0.5);
    expect(readiness(seeing([measured(), measured({ widest: 70.2 })]), null)).toBe(1);
  });

  it('when waiting gains nothing more and nothing is left to change', () => {
    const wide = measured({ sd: 0.02 });
    expect(readiness(seeing([wide, wide]), null)).toBeLessThan(1);
    expect(readiness(seeing([wide, wide, wide, wide]), null)).toBe(1);
    expect(readiness(seeing([wide, wide, wide, wide]), 'closer' satisfies Hint)).toBe(0);
  });

  it('never of looks that disagree, are doubted or refused, nor while the camera moves', () => {
    expect(readiness(seeing([measured(), measured({ widest: 76 })]), null)).toBeLessThan(1);
    expect(readiness(seeing([measured(), measured({}, 'outline-uncertain')]), null)).toBe(0);
    expect(readiness(seeing([measured(), measured(), refused('no-card')]), null)).toBe(0);
    expect(readiness(seeing([measured(), measured()], true), null)).toBe(0);
  });

  it('by the wish of the maker, 1.5 % unless she says otherwise', () => {
    const looks = [measured({ sd: 0.01 }), measured({ sd: 0.01 })];
    expect(GOOD_ENOUGH).toBe(0.015);
    expect(readiness(seeing(looks), 'closer')).toBe(0);
    expect(readiness(seeing(looks), 'closer', 0.03)).toBe(1);
  });
});
