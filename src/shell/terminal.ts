/** Where the program speaks: two streams of text, and one line of progress that renews itself on a terminal. */

/** The outside of the program as the commands see it; tests pass a fake. */
export interface Terminal {
  /** Results: what a pipe is to carry. */
  readonly out: (text: string) => void;
  /** Findings, progress and faults. */
  readonly err: (text: string) => void;
  /** True where `err` is a terminal, so that a line may be written over. */
  readonly live: boolean;
  readonly columns: number;
  /** Comes when the user asks the program to end (Ctrl-C). */
  readonly interrupted: Promise<void>;
}

/** Tells what is being done. */
export interface Progress {
  readonly say: (what: string) => void;
  /** Takes the line away, before something is printed that is to stay. */
  readonly clear: () => void;
}

const ERASE = '\r\u001b[K';

/** One line that renews itself on a terminal; a line for each item in a pipe; silence where asked for. */
export function progressOn(terminal: Terminal, quiet: boolean): Progress {
  if (quiet) return { say: () => {}, clear: () => {} };
  if (!terminal.live) return { say: (what) => terminal.err(`${what}\n`), clear: () => {} };
  let shown = false;
  return {
    say: (what) => {
      terminal.err(`${ERASE}${what.slice(0, Math.max(20, terminal.columns - 1))}`);
      shown = true;
    },
    clear: () => {
      if (shown) terminal.err(ERASE);
      shown = false;
    },
  };
}
