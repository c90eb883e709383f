/** Markdown to blocks: the author's words with their values filled in. */
import type { AlignType, RootContent } from 'mdast';
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { nearest } from '../read/nearest.ts';
import { text } from '../text.ts';
import { answer, type Context, directiveNames } from './directives.ts';
import { readRequest } from './requests.ts';
import type { Block, DrawingRequest, Inline } from './types.ts';

interface Point {
  readonly line: number;
  readonly column: number;
}

/** A node as remark gives it; only what is used here. */
interface Node {
  readonly type: string;
  readonly name?: string;
  readonly value?: string;
  readonly url?: string;
  readonly depth?: number;
  readonly ordered?: boolean | null;
  readonly align?: readonly AlignType[] | null;
  readonly children?: readonly Node[];
  readonly attributes?: Readonly<Record<string, string | null | undefined>> | null;
  readonly position?: { readonly start: Point; readonly end: Point };
}

/** Collects what is found on the way through a plan's prose. */
export class ProseReader {
  readonly diagnostics: Diagnostic[] = [];
  readonly requests: DrawingRequest[] = [];
  /** Items of the hardware that the prose names, each with the steps that do; undefined stands for what is outside the steps. */
  readonly named = new Map<string, Set<number | undefined>>();
  private before = '';

  constructor(private readonly context: Context) {}

  /** Blocks of some nodes; `step` sets the step that counts refer to. */
  blocks(nodes: readonly RootContent[], step?: number): Block[] {
    return this.children(
      nodes as readonly Node[],
      step === undefined ? this.context : { ...this.context, step },
    );
  }

  private children(nodes: readonly Node[], context: Context): Block[] {
    return nodes.flatMap((node) => this.block(node, context));
  }

  private block(node: Node, context: Context): Block[] {
    const inner = node.children ?? [];
    switch (node.type) {
      case 'paragraph':
        return [{ kind: 'paragraph', children: this.line(inner, context) }];
      case 'heading':
        return [{ kind: 'heading', depth: node.depth ?? 3, children: this.line(inner, context) }];
      case 'list':
        return [
          {
            kind: 'list',
            ordered: node.ordered === true,
            items: inner.map((item) => this.children(item.children ?? [], context)),
          },
        ];
      case 'blockquote':
        return [{ kind: 'quote', children: this.children(inner, context) }];
      case 'code':
        return [{ kind: 'code', text: node.value ?? '' }];
      case 'thematicBreak':
        return [{ kind: 'rule' }];
      case 'table': {
        const [head, ...rows] = inner.map((row) =>
          (row.children ?? []).map((cell) => this.line(cell.children ?? [], context)),
        );
        return [{ kind: 'table', align: node.align ?? [], head: head ?? [], rows }];
      }
      case 'leafDirective':
        return this.leaf(node);
      case 'containerDirective':
        this.unknown(node, `:::${node.name}`);
        return this.children(inner, context);
      case 'html':
        this.html(node);
        return [];
      case 'definition':
      case 'yaml':
        return [];
      default:
        this.diagnostics.push(
          fault('prose.element', this.origin(node), {
            expected: 'paragraphs, lists, tables, headings, quotations or drawings',
            found: `a Markdown ${node.type}`,
            hint: 'write it in another way',
          }),
        );
        return [];
    }
  }

  /** A line of text: the running text before each directive tells whether it begins a sentence. */
  private line(nodes: readonly Node[], context: Context): Inline[] {
    this.before = '';
    return this.inlines(nodes, context);
  }

  private inlines(nodes: readonly Node[], context: Context): Inline[] {
    return nodes.flatMap((node) => this.inline(node, context));
  }

  private said(value: string): Inline[] {
    this.before += value;
    return value === '' ? [] : [text(value)];
  }

  private inline(node: Node, context: Context): Inline[] {
    const inner = node.children ?? [];
    switch (node.type) {
      case 'text':
        return this.said((node.value ?? '').replace(/\s*\n\s*/g, ' '));
      case 'strong':
      case 'emphasis':
        return [{ kind: node.type, children: this.inlines(inner, context) }];
      case 'delete':
        return this.inlines(inner, context);
      case 'inlineCode':
        this.before += node.value ?? '';
        return [{ kind: 'code', text: node.value ?? '' }];
      case 'break':
        this.before += ' ';
        return [{ kind: 'break' }];
      case 'link':
        return [this.link(node, context)];
      case 'textDirective':
        return this.directive(node, context);
      case 'html':
        this.html(node);
        return [];
      default:
        this.diagnostics.push(
          fault('prose.element', this.origin(node), {
            expected: 'plain text, emphasis, links or values in running text',
            found: node.type === 'image' ? 'a picture' : `a Markdown ${node.type}`,
            hint:
              node.type === 'image'
                ? 'list photos under photos: in the front matter'
                : 'write it in another way, for instance as a link [text](address)',
          }),
        );
        return [];
    }
  }

  private link(node: Node, context: Context): Inline {
    const href = node.url ?? '';
    if (!/^(https?:|mailto:|#|\/|\.)/i.test(href)) {
      this.diagnostics.push(
        fault('prose.link', this.origin(node), {
          expected: 'a link to a web page, a mail address or a place in the site',
          found: `"${href}"`,
          hint: 'begin it with https://, mailto: or /',
        }),
      );
      return { kind: 'emphasis', children: this.inlines(node.children ?? [], context) };
    }
    return { kind: 'link', href, children: this.inlines(node.children ?? [], context) };
  }

  private directive(node: Node, context: Context): Inline[] {
    const label = plain(node.children ?? []);
    const name = node.name ?? '';
    if ((node.children ?? []).length === 0 && !directiveNames.includes(name)) {
      // `scale 1:b` or `note:this` is text that happens to look like a directive
      return this.said(`:${name}`);
    }
    const origin = this.origin(node.children?.[0] ?? node);
    const end = this.origin(node.children?.at(-1) ?? node, 'end');
    const found = answer({ name, label, origin, end, before: this.before }, context);
    if (found === undefined) {
      this.unknown(node, `:${name}[…]`);
      return this.said(label);
    }
    if (isDiagnostic(found)) {
      this.diagnostics.push(found);
      return this.said('?');
    }
    if (name === 'buy' || name === 'count') {
      const known = this.named.get(label.trim());
      if (known) known.add(context.step);
      else this.named.set(label.trim(), new Set([context.step]));
    }
    this.before += 'x';
    return [...found];
  }

  private leaf(node: Node): Block[] {
    if (node.name !== 'drawing') {
      this.unknown(node, `::${node.name}`);
      return [];
    }
    const request = readRequest(
      {
        id: `request-${this.requests.length + 1}`,
        caption: plain(node.children ?? []),
        attributes: node.attributes ?? {},
        origin: this.origin(node),
      },
      this.context.plan,
    );
    this.diagnostics.push(...request.diagnostics);
    this.requests.push(request.value);
    return [{ kind: 'drawing', drawing: request.value.id }];
  }

  private html(node: Node): void {
    if (/^\s*<!--[\s\S]*-->\s*$/.test(node.value ?? '')) return;
    this.diagnostics.push(
      fault('prose.html', this.origin(node), {
        expected: 'Markdown',
        found: `HTML ${(node.value ?? '').slice(0, 40)}`,
        hint: 'write *emphasis*, **strong**, lists and tables in Markdown; a plan is also set as a PDF',
      }),
    );
  }

  private unknown(node: Node, shown: string): void {
    const known = [...directiveNames, 'drawing'];
    const near = nearest(node.name ?? '', known);
    const fit = near === 'drawing' ? '::drawing[Caption]{from="front"}' : `:${near}[…]`;
    this.diagnostics.push(
      fault('directive.unknown', this.origin(node), {
        expected: `one of ${directiveNames.map((name) => `:${name}[…]`).join(', ')} or ::drawing[…]`,
        found: shown,
        hint:
          near === undefined
            ? 'to print a colon before a word, put a backslash before it: \\:'
            : `did you mean ${fit}?`,
      }),
    );
  }

  private origin(node: Node, side: 'start' | 'end' = 'start'): Origin {
    const point = node.position?.[side];
    return { file: this.context.plan.file, line: point?.line ?? 1, column: point?.column ?? 1 };
  }
}

const isDiagnostic = (value: readonly Inline[] | Diagnostic): value is Diagnostic => !Array.isArray(value);

/** The text of some nodes, directives inside a label included as they were typed. */
function plain(nodes: readonly Node[]): string {
  return nodes
    .map((node) => {
      if (node.type === 'textDirective')
        return `:${node.name}${node.children?.length ? `[${plain(node.children)}]` : ''}`;
      return node.value ?? plain(node.children ?? []);
    })
    .join('');
}
