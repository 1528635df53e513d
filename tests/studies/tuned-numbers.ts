import { existsSync } from 'node:fs';
import { parseAst } from 'vite';

/** A number somebody chose: in a constant of a module, or written into a function. */
export interface TunedNumber {
  readonly file: string;
  readonly line: number;
  readonly kind: 'named' | 'inline';
  readonly text: string;
  /** What is said about it. */
  readonly reason: string | null;
  /** A test, a fitting script or a published source that its comment names. */
  readonly evidence: string | null;
}

/** Counts, halves, right angles and the like say nothing about pictures. */
const PLAIN = new Set([...Array.from({ length: 11 }, (_, i) => i), 12, 16, 90, 100, 180, 255, 256, 360, 0.5, 1000]);
const TEST_OR_SCRIPT = /(tests|vision\/calibration)\/[\w./-]*\.(ts|py)/g;

/** As ESTree has it. */
interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly [key: string]: unknown;
}

/**
 * The tuned numbers of a TypeScript file. Constants under one comment, without a blank line between them, share it; a number
 * in a function has the comments of its statements and functions.
 * @param exists  whether a file that a comment names is there
 */
export function tunedNumbers(
  file: string,
  source: string,
  exists: (path: string) => boolean = existsSync,
): TunedNumber[] {
  const found: TunedNumber[] = [];
  const lineOf = (position: number) => source.slice(0, position).split('\n').length;
  const add = (kind: TunedNumber['kind'], at: number, text: string, reason: string | null) =>
    void found.push({ file, line: lineOf(at), kind, text, reason, evidence: evidenceIn(reason, exists) });
  let shared: string | null = null;
  let lastEnd = 0;
  for (const statement of (parseAst(source, { lang: 'ts' }) as unknown as { body: Node[] }).body) {
    const own = commentBefore(source, statement.start);
    const follows = /^[\t ]*\n?[\t ]*$/.test(source.slice(lastEnd, statement.start));
    if (own !== null || !follows) shared = own;
    lastEnd = statement.end;
    for (const { name, init, at } of constantsOf(statement)) {
      const numbers = descendants(init).filter(isNumber);
      if (numbers.length > 0) add('named', at, `${name} = ${numbers.map(({ raw }) => raw).join(', ')}`, shared);
    }
    walk(statement, [], (literal, about) => {
      if (!PLAIN.has(Number(literal.value)))
        add(
          'inline',
          literal.start,
          String(literal.raw),
          joined(about.map((node) => commentBefore(source, node.start))),
        );
    });
  }
  return found;
}

function evidenceIn(comment: string | null, exists: (path: string) => boolean): string | null {
  const named = [...(comment?.matchAll(TEST_OR_SCRIPT) ?? [])].map(([path]) => path).find(exists);
  return named ?? comment?.match(/Source: [^\n]*/)?.[0] ?? null;
}

function constantsOf(statement: Node): { readonly name: string; readonly init: Node; readonly at: number }[] {
  const declared = (statement.type === 'ExportNamedDeclaration' ? statement.declaration : statement) as Node | null;
  if (declared?.type !== 'VariableDeclaration' || declared.kind !== 'const') return [];
  return (declared.declarations as Node[]).flatMap((one) => {
    const init = one.init as Node | null;
    const isData = init && !descendants(init).some(isFunction);
    return isData ? [{ name: String((one.id as Node).name), init, at: one.start }] : [];
  });
}

function walk(node: Node, about: readonly Node[], onNumber: (literal: Node, about: readonly Node[]) => void): void {
  const inside = about.some(isFunction);
  if (inside && isNumber(node)) onNumber(node, about);
  for (const child of children(node)) walk(child, [...about, node], onNumber);
}

function descendants(node: Node): Node[] {
  return [node, ...children(node).flatMap(descendants)];
}

function children(node: Node): Node[] {
  const isNode = (value: unknown): value is Node => typeof (value as Node | null)?.type === 'string';
  return Object.values(node).flatMap((value) =>
    Array.isArray(value) ? value.filter(isNode) : isNode(value) ? [value] : [],
  );
}

function isNumber({ type, value }: Node): boolean {
  return type === 'Literal' && typeof value === 'number';
}

function isFunction({ type }: Node): boolean {
  return /Function/.test(type) && !type.startsWith('TS');
}

/** The comments that stand right before a place in the text. */
function commentBefore(source: string, start: number): string | null {
  const before = source.slice(0, start).replace(/[\t ]*$/, '');
  const block = before.match(/\/\*\*?(?:(?!\*\/)[\s\S])*\*\/\s*(?:export\s+)?$/)?.[0];
  const lines = before.match(/(?:[\t ]*\/\/[^\n]*\n)+$/)?.[0];
  return block ?? lines ?? null;
}

function joined(comments: readonly (string | null)[]): string | null {
  const some = comments.filter((comment) => comment !== null);
  return some.length > 0 ? [...new Set(some)].join('\n') : null;
}
