/** Works out values when they are first asked for, each once, and finds definitions that go in a circle. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';

/** Most definitions that may rest on one another in a row; keeps the call stack bounded. */
export const LONGEST_CHAIN = 200;

/** Values by name, computed on demand. A value that couldn't be had is remembered as undefined and not reported again. */
export class Graph {
  private readonly known = new Map<string, unknown>();
  private readonly open: string[] = [];
  private readonly circles = new Set<string>();
  private readonly report: (diagnostic: Diagnostic) => void;

  constructor(report: (diagnostic: Diagnostic) => void) {
    this.report = report;
  }

  /**
   * The value of `name`, computed by `compute` the first time.
   * @param origin where it is asked for: the place of the message if this closes a circle
   */
  value<T>(name: string, origin: Origin, compute: () => T | undefined): T | undefined {
    if (this.known.has(name)) return this.known.get(name) as T | undefined;
    const start = this.open.indexOf(name);
    if (start >= 0) return this.circle(this.open.slice(start), origin);
    if (this.open.length >= LONGEST_CHAIN) {
      const hint = 'give one of them a size of its own';
      const said = {
        expected: `at most ${LONGEST_CHAIN} sizes that rest on one another`,
        found: 'more',
        hint,
      };
      if (!this.circles.has('')) this.report(fault('formula.chain', origin, said));
      this.circles.add('');
      return undefined;
    }
    this.open.push(name);
    const value = compute();
    this.open.pop();
    this.known.set(name, value);
    return value;
  }

  private circle(path: readonly string[], origin: Origin): undefined {
    const key = [...path].sort().join(' ');
    if (this.circles.has(key)) return undefined;
    this.circles.add(key);
    const shown = path.length > 12 ? [...path.slice(0, 6), '…', ...path.slice(-5)] : path;
    this.report(
      fault('formula.circle', origin, {
        expected: 'sizes that do not rest on themselves',
        found: [...shown, path[0]].join(' → '),
        hint: 'give one of them a size or a face that does not come from the others',
      }),
    );
    return undefined;
  }
}
