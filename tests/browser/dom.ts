/**
 * The little of the browser's own types that tests use inside a page. The project is compiled without those types, so that no code
 * of the program can lean on a browser by mistake.
 */

export interface Box {
  readonly width: number;
  readonly height: number;
  readonly right: number;
  readonly bottom: number;
}

/** An element, with what any of the elements in these tests has. */
export interface Dom {
  readonly textContent: string | null;
  readonly outerHTML: string;
  readonly currentSrc: string;
  readonly tabIndex: number;
  readonly offsetWidth: number;
  readonly offsetHeight: number;
  readonly scrollWidth: number;
  readonly scrollHeight: number;
  readonly clientWidth: number;
  readonly viewBox: { readonly baseVal: Box };
  querySelector(selector: string): Dom | null;
  querySelectorAll(selector: string): Iterable<Dom>;
  closest(selector: string): Dom | null;
  getBoundingClientRect(): Box;
  setAttribute(name: string, value: string): void;
}

export interface DomFont {
  readonly family: string;
  readonly weight: string;
  readonly status: string;
}

export interface DomDocument extends Dom {
  readonly documentElement: Dom;
  readonly body: Dom;
  readonly activeElement: Dom | null;
  readonly fonts: Iterable<DomFont> & { readonly ready: Promise<unknown> };
}

export interface DomStyle {
  readonly display: string;
  readonly outlineWidth: string;
  readonly fontFamily: string;
}

export interface DomSelection {
  selectAllChildren(node: Dom): void;
  toString(): string;
}
