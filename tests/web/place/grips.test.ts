import { describe, expect, test } from 'vitest';
import type { ImagePoint } from '../../../vision/geometry/frames.ts';
import { clearOfHandles, uncrowded } from '../../../web/place/grips.ts';
import type { Grip } from '../../../web/place/placing.ts';

/** WCAG 2.2, success criterion 2.5.5. */
const TARGET_CSS = 44;
const view = { originPx: [0, 0], scale: 1 } as const;
const canvas = { width: 390, height: 600 };
const onPhone = { view, canvas };

function grip(id: string, kind: Grip['kind'], atPx: ImagePoint): Grip {
  return {
    id,
    kind,
    atPx,
    label: id,
    drawnAt: () => ({ cornersPx: null, outlinePx: null, solid: null }),
    placedAt: () => ({}),
  };
}

/** A bottle of 75 x 250 CSS px with a card of 75 x 36 before its base, as on a phone. */
const ends = [grip('top-edge-0-100', 'solid', [150, 109]), grip('base-edge-0-0', 'solid', [174, 352])];
const walls = [grip('wall--1-8', 'solid', [145, 328]), grip('wall-1-8', 'solid', [204, 319])];
const corners = (
  [
    [192, 378],
    [264, 382],
    [268, 418],
    [188, 412],
  ] as const
).map((at, k) => grip(`card-${k.toString()}`, 'card', at));

describe('handles that crowd each other', () => {
  const shown = uncrowded([...corners, ...ends, ...walls], onPhone, null);

  test('both ends of the container can be held where they are, and every corner of the card', () => {
    for (const { id, atPx } of ends) expect(shown.find((each) => each.grip.id === id)?.atCss).toEqual(atPx);
    expect(shown.filter((each) => each.grip.kind === 'card')).toHaveLength(4);
  });

  test('no two targets lie on one another', () => {
    shown.forEach((a, i) => {
      for (const b of shown.slice(i + 1)) {
        const apart = Math.max(Math.abs(a.atCss[0] - b.atCss[0]), Math.abs(a.atCss[1] - b.atCss[1]));
        expect(apart).toBeGreaterThanOrEqual(TARGET_CSS);
      }
    });
  });

  test('a corner just past the border of the photo can still be taken hold of', () => {
    for (const atY of [603, 598]) {
      const [, y] = uncrowded([grip('card-0', 'card', [100, atY])], onPhone, null)[0].atCss;
      // a quarter of its target inside, at least
      expect(y).toBeLessThanOrEqual(canvas.height - TARGET_CSS / 4);
    }
  });

  test('corners with room for a thumb stay where the card has them', () => {
    const far = corners.map(({ id, atPx: [x, y] }) => grip(id, 'card', [2 * x, 2 * y]));
    const wide = { view, canvas: { width: 1280, height: 900 } };
    for (const { grip, atCss } of uncrowded([...far, ...ends], wide, null).filter((each) => each.grip.kind === 'card'))
      expect(atCss).toEqual(grip.atPx);
  });
});

describe('a word on the photo', () => {
  const says = { width: 200, height: 40 };
  const at = (...places: readonly ImagePoint[]) =>
    clearOfHandles(
      places.map((atCss, k) => ({ grip: grip(`card-${k.toString()}`, 'card', atCss), atCss })),
      canvas,
      says,
    );

  test('stands below, where nothing is in its way', () => {
    expect(at([100, 300])).toBe('bottom-start');
  });

  test('makes way for a handle that it would cover', () => {
    expect(at([100, 570])).toBe('top-start');
    expect(at([100, 570], [100, 30])).toBe('bottom-end');
    expect(at([100, 570], [100, 30], [300, 570])).toBe('top-end');
  });
});
