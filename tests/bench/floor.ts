/**
 * The floor that publishing is measured against, a program of its own: the Markdown library alone turns the same plans to HTML, and
 * the Typst compiler alone makes the same documents to PDF. `argv[2]` is a JSON file that names both.
 */
import { readFileSync } from 'node:fs';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
import rehypeStringify from 'rehype-stringify';
import remarkDirective from 'remark-directive';
import remarkFrontmatter from 'remark-frontmatter';
import remarkGfm from 'remark-gfm';
import remarkParse from 'remark-parse';
import remarkRehype from 'remark-rehype';
import { unified } from 'unified';

/** What the floor works on. Binary files as base64. */
export interface FloorWork {
  readonly markdown: readonly string[];
  readonly fonts: readonly string[];
  readonly documents: readonly {
    readonly main: string;
    readonly files: readonly (readonly [string, string])[];
  }[];
}

const work: FloorWork = JSON.parse(readFileSync(process.argv[2] as string, 'utf8'));

const page = unified()
  .use(remarkParse)
  .use(remarkFrontmatter)
  .use(remarkGfm)
  .use(remarkDirective)
  .use(remarkRehype)
  .use(rehypeStringify);
let bytes = 0;
for (const text of work.markdown) bytes += String(page.processSync(text)).length;

const compiler = NodeCompiler.create({
  workspace: '/floor',
  fontArgs: [{ fontBlobs: work.fonts.map((font) => Buffer.from(font, 'base64')) }],
});
for (const { main, files } of work.documents) {
  compiler.resetShadow();
  for (const [name, content] of files) compiler.mapShadow(`/floor/${name}`, Buffer.from(content, 'base64'));
  const { result } = compiler.compile({ mainFilePath: `/floor/${main}` });
  if (result === null) throw new Error(`the floor could not compile ${main}`);
  bytes += compiler.pdf(result, { pdfStandard: 'ua-1' }).length;
}
// Said, so that nothing above can be left out as unused.
console.log(bytes);
