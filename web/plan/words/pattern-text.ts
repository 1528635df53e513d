import type { Text } from '../../text/text.ts';
import { type Fact, lineText, type Pattern } from './pattern.ts';

/** A pattern as it is read, block by block: the same for plain text and Markdown. */
export type Block =
  | { readonly kind: 'title' | 'heading' | 'subheading'; readonly text: string }
  | { readonly kind: 'paragraph'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'rounds'; readonly items: readonly string[] }
  | { readonly kind: 'table'; readonly header: readonly string[]; readonly rows: readonly (readonly string[])[] };

export function patternBlocks(pattern: Pattern, { plan }: Text): Block[] {
  const words = plan.pattern;
  const list = (title: string, items: readonly string[]): Block[] =>
    items.length === 0
      ? []
      : [
          { kind: 'heading', text: title },
          { kind: 'list', items },
        ];
  return [
    { kind: 'title', text: pattern.title },
    { kind: 'paragraph', text: pattern.terms },
    ...list(words.finishedSize, pattern.size.map(factText)),
    ...list(words.materials, [...pattern.materials, pattern.gauge].map(factText)),
    { kind: 'heading', text: words.abbreviations },
    { kind: 'paragraph', text: `${pattern.abbreviations}.` },
    ...list(words.notesTitle, pattern.notes),
    { kind: 'heading', text: words.instructions },
    ...pattern.parts.flatMap((part): Block[] => [
      { kind: 'subheading', text: part.title },
      ...(part.notes.length > 0 ? [{ kind: 'paragraph', text: part.notes.join(' ') } as const] : []),
      { kind: 'rounds', items: part.lines.map(lineText) },
      ...(part.end ? [{ kind: 'paragraph', text: part.end } as const] : []),
    ]),
    ...list(words.finishing, pattern.finishing),
    ...list(words.careTitle, pattern.care),
    ...list(plan.cautionsTitle, pattern.cautions),
    { kind: 'heading', text: plan.fit.title },
    {
      kind: 'paragraph',
      text: [pattern.fit.headline, pattern.fit.more, ...pattern.fit.figures].filter(Boolean).join(' '),
    },
    ...(pattern.warnings.length > 0 ? [{ kind: 'list', items: pattern.warnings } as const] : []),
    ...checkBlocks(pattern, plan),
    ...list(plan.loadTitle, pattern.load),
    ...(pattern.bases.length > 1 ? list(plan.basesTitle, pattern.bases) : []),
    ...list(plan.yarnTitle, [
      ...[...pattern.needs, ...(pattern.cost ? [pattern.cost] : [])].map(factText),
      ...pattern.needsByPart.map(({ part, yarn, time }) => `${part}: ${yarn}, ${time}`),
    ]),
  ];
}

function checkBlocks(pattern: Pattern, plan: Text['plan']): Block[] {
  if (pattern.checks.length === 0) return [];
  return [
    { kind: 'heading', text: plan.checksTitle },
    {
      kind: 'table',
      header: [plan.after, plan.expect, plan.fineBetween, plan.ifLess, plan.ifMore],
      rows: pattern.checks.map(({ label, expect, fine, ifLess, ifMore }) => [label, expect, fine, ifLess, ifMore]),
    },
  ];
}

function factText({ name, text }: Fact): string {
  return `${name}: ${text}`;
}

const LINE_WIDTH = 96;

/** Plain text for a terminal, a message or a notebook. */
export function blocksAsText(blocks: readonly Block[], lineWidth = LINE_WIDTH): string {
  return `${blocks.map((block) => blockText(block, lineWidth)).join('\n\n')}\n`;
}

function blockText(block: Block, lineWidth: number): string {
  switch (block.kind) {
    case 'title':
      return `${block.text}\n${'='.repeat(block.text.length)}`;
    case 'heading':
      return block.text.toUpperCase();
    case 'subheading':
      return block.text;
    case 'paragraph':
      return wrapped(block.text, '', lineWidth);
    case 'list':
      return block.items.map((item) => wrapped(item, '- ', lineWidth)).join('\n');
    case 'rounds':
      return block.items.map((item) => wrapped(item, '', lineWidth)).join('\n');
    case 'table':
      return block.rows.map((row) => wrapped(rowText(block.header, row), '- ', lineWidth)).join('\n');
  }
}

/** A row as one sentence: a table of long cells does not fit a terminal. */
function rowText(header: readonly string[], [first, ...cells]: readonly string[]): string {
  return `${header[0]} ${first}: ${cells.map((cell, index) => `${header[index + 1]}: ${cell.replace(/\.$/, '')}`).join('; ')}.`;
}

function wrapped(text: string, bullet: string, lineWidth: number): string {
  const indent = ' '.repeat(bullet === '' ? 2 : bullet.length);
  const lines: string[] = [];
  let line = bullet;
  for (const word of text.split(' ')) {
    if (line.length > indent.length && line.length + 1 + word.length > lineWidth) {
      lines.push(line);
      line = indent + word;
    } else {
      line += line === bullet || line === '' ? word : ` ${word}`;
    }
  }
  return [...lines, line].join('\n');
}

/** Markdown, rounds as a list to tick off. */
export function blocksAsMarkdown(blocks: readonly Block[]): string {
  return `${blocks.map(blockMarkdown).join('\n\n')}\n`;
}

function blockMarkdown(block: Block): string {
  switch (block.kind) {
    case 'title':
      return `# ${block.text}`;
    case 'heading':
      return `## ${block.text}`;
    case 'subheading':
      return `### ${block.text}`;
    case 'paragraph':
      return block.text;
    case 'list':
      return block.items.map((item) => `- ${item}`).join('\n');
    case 'rounds':
      return block.items
        .map((item) => `- [ ] ${item.replaceAll('*', '\\*').replace(/^([^:]+):/, '**$1:**')}`)
        .join('\n');
    case 'table':
      return [tableRow(block.header), tableRow(block.header.map(() => '---')), ...block.rows.map(tableRow)].join('\n');
  }
}

function tableRow(cells: readonly string[]): string {
  return `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
}
