/** Works out values when they are first asked for, each once, and finds definitions that go in a circle. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';

/** How deep evaluation may go, counted in calls: each definition counts for `DEFINITION`, the levels of formulas as they call. */
const DEEPEST = 2400;
const DEFINITION = 8;

/** Values by name, computed on demand. A value that couldn't be had is remembered as undefined and not reported again. */
export class Graph {
  private readonly known = new Map<string, unknown>();
  private readonly open: string[] = [];
  private readonly circles = new Set<string>();
  /** How deep evaluation is now; formulas count their own levels in it. */
  readonly depth = { level: 0 };
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
    if (this.depth.level >= DEEPEST) return this.tooDeep(origin);
    this.open.push(name);
    this.depth.level += DEFINITION;
    const value = compute();
    this.depth.level -= DEFINITION;
    this.open.pop();
    this.known.set(name, value);
    return value;
  }

  /** Said once: what rests on the chain would say it again. */
  private tooDeep(origin: Origin): undefined {
    const hint = 'give one of them a size of its own';
    const found = `a chain of more than ${this.open.length}`;
    if (!this.circles.has(''))
      this.report(
        fault('formula.chain', origin, { expected: 'fewer sizes that rest on one another', found, hint }),
      );
    this.circles.add('');
    return undefined;
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
