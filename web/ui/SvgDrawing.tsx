import { useLayoutEffect, useRef } from 'react';

interface SvgDrawingProps {
  /** A drawing as the engines make it. */
  readonly svg: string;
  /** What it shows, in words. */
  readonly label: string;
  readonly className?: string;
  /** Says the drawing's own labels in the reader's words. */
  readonly sayLabel?: (label: string) => string;
}

/** A drawing given as SVG text, in the colours around it. */
export function SvgDrawing({ svg, label, className, sayLabel = asItIs }: SvgDrawingProps) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const drawing = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    // The label stands for the whole; a title of its own would be read twice and shown as a tooltip.
    for (const spoken of drawing.querySelectorAll('title, desc')) spoken.remove();
    for (const text of drawing.querySelectorAll('text')) text.textContent = sayLabel(text.textContent ?? '');
    drawing.removeAttribute('role');
    drawing.setAttribute('aria-hidden', 'true');
    place.current?.replaceChildren(document.adoptNode(drawing));
  }, [svg, sayLabel]);
  return <div ref={place} role="img" aria-label={label} className={className} />;
}

function asItIs(label: string): string {
  return label;
}
