import type { Plan } from './plan.ts';
import { type Block, planDocument } from './plan-document.ts';
import type { PlanStyle } from './words.ts';

const LINE_WIDTH = 96;

/** The plan as plain text for a terminal or a message, lines at most 96 characters. */
export function renderPlanText(plan: Plan, style: PlanStyle): string {
  return `${planDocument(plan, style)
    .map((block) => blockText(block))
    .join('\n\n')}\n`;
}

function blockText(block: Block): string {
  switch (block.kind) {
    case 'heading':
      return block.level === 1
        ? `${block.text}\n${'='.repeat(block.text.length)}`
        : `${block.text}\n${'-'.repeat(block.text.length)}`;
    case 'paragraph':
      return wrapped(block.text, '', '');
    case 'list':
      return block.items.map((item) => wrapped(item, '- ', '  ')).join('\n');
    case 'steps': {
      const width = Math.max(...block.items.map((item) => item.label.length)) + 2;
      return block.items.map((item) => wrapped(item.text, item.label.padEnd(width), ' '.repeat(width))).join('\n');
    }
    case 'table':
      return block.rows.map((row) => rowText(block.header, row)).join('\n');
  }
}

/** A row as one paragraph: a table of long cells does not fit a terminal. */
function rowText([first, ...header]: readonly string[], [name, ...cells]: readonly string[]): string {
  const sentence = cells.reduce((text, cell, index) => {
    const heading = text === '' || text.endsWith('.') ? header[index] : header[index].toLowerCase();
    const separator = text === '' ? '' : text.endsWith('.') ? ' ' : '; ';
    return `${text}${separator}${heading}${cell.endsWith('.') ? ':' : ''} ${cell}`;
  }, '');
  return wrapped(sentence, `${first === '' ? '' : `${first} `}${name}: `, '    ');
}

function wrapped(text: string, firstIndent: string, indent: string): string {
  const lines: string[] = [];
  let line = firstIndent;
  let isEmpty = true;
  for (const word of text.split(' ')) {
    if (!isEmpty && line.length + 1 + word.length > LINE_WIDTH) {
      lines.push(line);
      line = indent;
      isEmpty = true;
    }
    line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  return [...lines, line].join('\n');
}
