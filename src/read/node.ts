/** A YAML document as a small tree of our own: every text as typed, every node with its place. */
import type { Origin } from '../diagnostics.ts';
import type { Written } from './types.ts';

export interface TextNode {
  readonly kind: 'text';
  readonly text: string;
  /** First character of the text itself, inside its quotes. */
  readonly origin: Origin;
  /** Places of later stretches, where the text isn't one plain line of the file. */
  readonly pieces?: Written['pieces'];
}

export interface ListNode {
  readonly kind: 'list';
  readonly items: readonly Node[];
  readonly origin: Origin;
}

export interface Entry {
  readonly key: TextNode;
  readonly value: Node;
}

export interface MapNode {
  readonly kind: 'map';
  readonly entries: readonly Entry[];
  readonly origin: Origin;
}

/** A key without a value; its place is where the value would stand. */
export interface EmptyNode {
  readonly kind: 'empty';
  readonly origin: Origin;
}

export type Node = TextNode | ListNode | MapNode | EmptyNode;

/** The value of a key; undefined where the key is absent or has no value. */
export function valueAt(map: Node | undefined, key: string): Node | undefined {
  if (map?.kind !== 'map') return undefined;
  const found = map.entries.find((entry) => entry.key.text === key)?.value;
  return found?.kind === 'empty' ? undefined : found;
}

/** The entry of a key. */
export const entryOf = (map: Node | undefined, key: string): Entry | undefined =>
  map?.kind === 'map' ? map.entries.find((entry) => entry.key.text === key) : undefined;

/** The text of a key with its place; undefined where it isn't there or isn't text. */
export function writtenOf(map: Node | undefined, key: string): Written | undefined {
  const value = valueAt(map, key);
  return value?.kind === 'text' ? written(value) : undefined;
}

/** A text node as the later phases get it. */
export const written = (node: TextNode): Written => ({
  text: node.text,
  origin: node.origin,
  ...(node.pieces === undefined ? {} : { pieces: node.pieces }),
});

/** The text of a key. */
export const textOf = (map: Node | undefined, key: string): string | undefined => writtenOf(map, key)?.text;

/** The items of a list; a single value counts as a list of one. */
export function itemsOf(map: Node | undefined, key: string): readonly Node[] {
  const value = valueAt(map, key);
  if (value === undefined) return [];
  return value.kind === 'list' ? value.items : [value];
}

/** The texts of a list, with their places. */
export const textsOf = (map: Node | undefined, key: string): readonly Written[] =>
  itemsOf(map, key).flatMap((item) => (item.kind === 'text' ? [written(item)] : []));

/** The tree as plain data for a schema: texts, lists, and objects; a missing value is null. */
export function plain(node: Node): unknown {
  if (node.kind === 'text') return node.text;
  if (node.kind === 'list') return node.items.map(plain);
  if (node.kind === 'empty') return null;
  return Object.fromEntries(node.entries.map((entry) => [entry.key.text, plain(entry.value)]));
}

/** What stands in the file, in words: `"2x4"`, `a list`, `nothing`. */
export function found(node: Node): string {
  if (node.kind === 'text') return quoted(node.text);
  if (node.kind === 'list') {
    const count = node.items.length;
    return count === 0 ? 'an empty list' : `a list of ${count} ${count === 1 ? 'item' : 'items'}`;
  }
  return node.kind === 'map' ? 'a group of keys' : 'nothing';
}

/** A text in quotes, cut to one short line. */
export function quoted(text: string): string {
  const line = text.replace(/\s+/gu, ' ').trim();
  const letters = [...line];
  return letters.length > 48 ? `"${letters.slice(0, 45).join('')}…"` : `"${line}"`;
}
