/** Pictures of zeros and ones, row by row. */
export interface MaskSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

export function dilate(mask: Uint8Array, size: MaskSize, radiusPx: number): Uint8Array {
  return Uint8Array.from(distanceTo(mask, size), (distance) => (distance <= radiusPx ? 1 : 0));
}

export function erode(mask: Uint8Array, size: MaskSize, radiusPx: number): Uint8Array {
  return invert(dilate(invert(mask), size, radiusPx));
}

/** Removes what is narrower than twice the radius. */
export function open(mask: Uint8Array, size: MaskSize, radiusPx: number): Uint8Array {
  return dilate(erode(mask, size, radiusPx), size, radiusPx);
}

/** Connected regions (4 neighbours) as lists of pixel indices, largest first. */
export function regions(mask: Uint8Array, { widthPx, heightPx }: MaskSize): Int32Array[] {
  const seen = new Uint8Array(mask.length);
  const stack = new Int32Array(mask.length);
  const found: Int32Array[] = [];
  for (let start = 0; start < mask.length; start++) {
    if (!mask[start] || seen[start]) continue;
    const members: number[] = [];
    let top = 0;
    stack[top++] = start;
    seen[start] = 1;
    const visit = (at: number): void => {
      if (!mask[at] || seen[at]) return;
      seen[at] = 1;
      stack[top++] = at;
    };
    while (top > 0) {
      const at = stack[--top];
      members.push(at);
      const x = at % widthPx;
      if (x > 0) visit(at - 1);
      if (x < widthPx - 1) visit(at + 1);
      if (at >= widthPx) visit(at - widthPx);
      if (at < (heightPx - 1) * widthPx) visit(at + widthPx);
    }
    found.push(Int32Array.from(members));
  }
  return found.sort((a, b) => b.length - a.length);
}

/** Fills what is not connected to the picture's border. */
export function fillHoles(mask: Uint8Array, size: MaskSize): Uint8Array {
  const filled = new Uint8Array(mask.length).fill(1);
  for (const region of regions(invert(mask), size)) {
    if (touchesFrame(region, size)) for (const at of region) filled[at] = 0;
  }
  return filled;
}

export function touchesFrame(region: Int32Array, { widthPx, heightPx }: MaskSize): boolean {
  return region.some((at) => {
    const x = at % widthPx;
    const y = (at - x) / widthPx;
    return x === 0 || y === 0 || x === widthPx - 1 || y === heightPx - 1;
  });
}

export function maskOf(region: Int32Array, { widthPx, heightPx }: MaskSize): Uint8Array {
  const mask = new Uint8Array(widthPx * heightPx);
  for (const at of region) mask[at] = 1;
  return mask;
}

function invert(mask: Uint8Array): Uint8Array {
  return mask.map((value) => 1 - value);
}

/** Distance in px to the nearest one; two passes with steps 1 and √2. */
export function distanceTo(mask: Uint8Array, { widthPx, heightPx }: MaskSize): Float32Array {
  const far = 1e6;
  const d = Float32Array.from(mask, (value) => (value ? 0 : far));
  const relax = (at: number, x: number, y: number, dx: number, dy: number): void => {
    if (x + dx < 0 || x + dx >= widthPx || y + dy < 0 || y + dy >= heightPx) return;
    const other = d[at + dy * widthPx + dx] + (dx !== 0 && dy !== 0 ? Math.SQRT2 : 1);
    if (other < d[at]) d[at] = other;
  };
  for (let y = 0, at = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++, at++) {
      relax(at, x, y, -1, 0);
      relax(at, x, y, -1, -1);
      relax(at, x, y, 0, -1);
      relax(at, x, y, 1, -1);
    }
  }
  for (let y = heightPx - 1, at = d.length - 1; y >= 0; y--) {
    for (let x = widthPx - 1; x >= 0; x--, at--) {
      relax(at, x, y, 1, 0);
      relax(at, x, y, 1, 1);
      relax(at, x, y, 0, 1);
      relax(at, x, y, -1, 1);
    }
  }
  return d;
}
