/**
 * Small helpers for writing HTML as a tree: nothing an author writes reaches a page except as text of an element or value of an
 * attribute, so all of it is escaped. The two exceptions are named: `rawSvg` (drawings that this program made) and `script`.
 */
import type { Element, ElementContent, Root } from 'hast';
import { toHtml } from 'hast-util-to-html';
import { h } from 'hastscript';

export type Content = ElementContent;
/** What a helper may put into an element; empty things fall away. */
export type Child = Content | string | null | undefined | false;

/** An element with the children that are there. `tag` is a selector: `p.small`. */
export function el(
  tag: string,
  properties: Readonly<Record<string, string | number | boolean | null | undefined | readonly string[]>>,
  ...children: readonly (Child | readonly Child[])[]
): Element {
  const given: Record<string, string | number | boolean | string[]> = {};
  for (const [key, value] of Object.entries(properties))
    if (value !== null && value !== undefined && value !== false)
      given[key] = typeof value === 'object' ? [...value] : value;
  return h(tag, given, ...present(children.flat()));
}

/** The children that are there, strings as text. */
function present(children: readonly Child[]): Content[] {
  return children.flatMap((child): Content[] =>
    child === null || child === undefined || child === false || child === ''
      ? []
      : [typeof child === 'string' ? { type: 'text', value: child } : child],
  );
}

/** Markup written as it stands: only for drawings, which this program wrote and escaped itself. */
export function rawSvg(svg: string): Content {
  // Known to the writer of HTML, though not to the tree's own types.
  return { type: 'raw', value: svg } as unknown as Content;
}

/** Data for machines inside a page. `<` is written as an escape, so that no text can close the element. */
export function jsonScript(data: unknown): Content {
  const text = JSON.stringify(data).replaceAll('<', '\\u003c');
  return el('script', { type: 'application/ld+json' }, text);
}

/** A script of our own in the page; the code must not hold `</`. */
export const script = (code: string): Content => el('script', {}, code.trim().replaceAll('</', '<\\/'));

/** A whole document. */
export function documentHtml(language: string, head: readonly Content[], body: readonly Content[]): string {
  const root: Root = {
    type: 'root',
    children: [
      { type: 'doctype' },
      el('html', { lang: language }, el('head', {}, head), el('body', {}, body)),
    ],
  };
  return `${toHtml(root, { allowDangerousHtml: true })}\n`;
}

/** Some nodes as text of HTML, to compare or to measure them. */
export const htmlOf = (nodes: readonly Content[]): string =>
  toHtml({ type: 'root', children: [...nodes] }, { allowDangerousHtml: true });

/** A link that an author may write: to the web, to a mailbox or within the site; anything else is no link. */
export function safeHref(href: string): string | undefined {
  const trimmed = href.trim();
  // A control character or a space inside a scheme is how scripts are smuggled in.
  const bare = [...trimmed].filter((sign) => sign.charCodeAt(0) > 32).join('');
  const scheme = /^([a-z][a-z0-9+.-]*):/i.exec(bare)?.[1]?.toLowerCase();
  if (scheme === undefined) return trimmed === '' ? undefined : trimmed;
  return ['http', 'https', 'mailto'].includes(scheme) ? trimmed : undefined;
}

/** Plain text of several paragraphs, parted by empty lines, as paragraphs. */
export const paragraphs = (text: string): Content[] =>
  text
    .split(/\n\s*\n/)
    .map((part) => part.trim().replaceAll(/\s+/g, ' '))
    .filter((part) => part !== '')
    .map((part) => el('p', {}, part));

/** A name for use in an address or an id: small letters, digits and hyphens. */
export const slugOf = (text: string): string =>
  text
    .toLowerCase()
    .normalize('NFKD')
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '');

/** An amount as it is printed: `$14`, `€9.50`. `currency` is an ISO 4217 code; an unknown one stands before the number. */
export function money(amount: number, currency: string, options: { round?: boolean } = {}): string {
  const value = options.round === true ? Math.round(amount) : amount;
  const digits = Number.isInteger(value) ? 0 : 2;
  if (!/^[A-Z]{3}$/.test(currency)) return `${currency} ${value.toFixed(digits)}`.trim();
  return new Intl.NumberFormat('en-US', {
    style: 'currency',
    currency,
    currencyDisplay: 'narrowSymbol',
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  })
    .format(value)
    .replaceAll(' ', ' ');
}

/** A currency in words: `US dollars`. */
export function currencyName(currency: string): string {
  if (!/^[A-Z]{3}$/.test(currency)) return currency;
  return new Intl.NumberFormat('en-US', { style: 'currency', currency, currencyDisplay: 'name' })
    .format(2)
    .replace(/^[\d.,\s]+/, '');
}

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

/** An ISO date in words: `14 March 2026`; as written where it is none. */
export function dateText(date: string): string {
  const found = /^(\d{4})-(\d{2})-(\d{2})/.exec(date);
  const month = MONTHS[Number(found?.[2]) - 1];
  return found === null || month === undefined ? date : `${Number(found[3])} ${month} ${found[1]}`;
}
