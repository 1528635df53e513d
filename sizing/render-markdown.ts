import type { Plan } from './plan.ts';
import { type Block, planDocument } from './plan-document.ts';
import type { PlanStyle } from './words.ts';

/** The plan as Markdown, rounds as a list to tick off. */
export function renderPlanMarkdown(plan: Plan, style: PlanStyle): string {
  return `${planDocument(plan, style)
    .map((block) => blockMarkdown(block))
    .join('\n\n')}\n`;
}

function blockMarkdown(block: Block): string {
  switch (block.kind) {
    case 'heading':
      return `${'#'.repeat(block.level)} ${block.text}`;
    case 'paragraph':
      return block.text;
    case 'list':
      return block.items.map((item) => `- ${item}`).join('\n');
    case 'steps':
      return block.items.map((item) => `- [ ] **${item.label}** ${item.text}`).join('\n');
    case 'table':
      return [
        tableRow(block.header),
        tableRow(block.header.map(() => '---')),
        ...block.rows.map((row) => tableRow(row)),
      ].join('\n');
  }
}

function tableRow(cells: readonly string[]): string {
  return `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
}
