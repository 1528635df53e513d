import { useLayoutEffect, useRef } from 'react';

interface SvgDrawingProps {
  /** A drawing as the engines make it. */
  readonly svg: string;
  /** What it shows, in words. */
  readonly label: string;
  readonly className?: string;
}

/** A drawing given as SVG text, in the colours around it. */
export function SvgDrawing({ svg, label, className }: SvgDrawingProps) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const drawing = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    // The label stands for the whole; a title of its own would be read twice and shown as a tooltip.
    for (const spoken of drawing.querySelectorAll('title, desc')) spoken.remove();
    drawing.removeAttribute('role');
    drawing.setAttribute('aria-hidden', 'true');
    place.current?.replaceChildren(document.adoptNode(drawing));
  }, [svg]);
  return <div ref={place} role="img" aria-label={label} className={className} />;
}
