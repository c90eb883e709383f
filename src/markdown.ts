/**
 * Markdown text to its tree, with the place of every node. The only file that names the Markdown libraries; `read/shop.ts`
 * loads it when the first plan is read.
 */
import type { Root } from 'mdast';
import remarkDirective from 'remark-directive';
import remarkFrontmatter from 'remark-frontmatter';
import remarkGfm from 'remark-gfm';
import remarkParse from 'remark-parse';
import { unified } from 'unified';

const reader = unified()
  .use(remarkParse)
  .use(remarkFrontmatter, ['yaml'])
  .use(remarkGfm)
  .use(remarkDirective)
  .freeze();

/**
 * CommonMark with tables, YAML front matter and generic directives. Never fails: every text is Markdown.
 * Lines and columns of positions count from 1; columns count UTF-16 units.
 */
export const parseMarkdown = (text: string): Root => reader.parse(text);
