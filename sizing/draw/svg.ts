/** One decimal is a tenth of a millimetre in drawings whose unit is the millimetre. */
export function fixed(value: number): string {
  return (Math.round(value * 10) / 10).toString();
}

export interface SvgFrame {
  readonly title: string;
  readonly description: string;
  readonly minX: number;
  readonly minY: number;
  readonly width: number;
  readonly height: number;
}

/** A drawing in millimetres that takes its ink from the text colour around it. */
export function svgDocument(frame: SvgFrame, content: readonly string[]): string {
  const box = [frame.minX, frame.minY, frame.width, frame.height].map(fixed).join(' ');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${box}" role="img" fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">`,
    `<title>${escaped(frame.title)}</title>`,
    `<desc>${escaped(frame.description)}</desc>`,
    ...content,
    '</svg>',
  ].join('\n');
}

export function path(points: readonly (readonly [number, number])[], attributes: string, closed = false): string {
  const commands = points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${fixed(x)} ${fixed(y)}`).join('');
  return `<path d="${commands}${closed ? 'Z' : ''}" ${attributes}/>`;
}

export function line(x1: number, y1: number, x2: number, y2: number, attributes: string): string {
  return path(
    [
      [x1, y1],
      [x2, y2],
    ],
    attributes,
  );
}

export interface Label {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly text: string;
}

export function label({ x, y, size, anchor, text }: Label): string {
  return `<text x="${fixed(x)}" y="${fixed(y)}" font-size="${fixed(size)}" text-anchor="${anchor}" font-family="sans-serif" fill="currentColor" stroke="none">${escaped(text)}</text>`;
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}
