// A tree of elements from XML text. Nothing outside the text is read and no entity of its own making is expanded.
import { SaxesParser } from 'saxes';
import type { Span } from '../types';

export interface XmlNode {
  /** Without a prefix. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlNode[];
  /** The text directly inside, blanks at both ends left out. */
  readonly text: string;
  /** Where the element opens, from 1. */
  readonly line: number;
  readonly column: number;
  /** Characters of the opening bracket and the name, so that a node is a place in the text. */
  readonly length: number;
}

/** Why a text is not taken. */
export interface XmlFault {
  readonly code: 'xml-broken' | 'xml-entities' | 'xml-deep' | 'xml-large';
  readonly line: number;
  readonly column: number;
  readonly detail: string;
}

export type XmlReading = { readonly root: XmlNode } | { readonly fault: XmlFault };

/** No score nests deeper than about 15 elements. */
const deepest = 64;
/** About fifty thousand bars of one part. */
const mostElements = 1_500_000;

class Refusal extends Error {
  constructor(
    readonly code: XmlFault['code'],
    message: string,
  ) {
    super(message);
  }
}

const nothing: readonly never[] = [];

/** A node while it is read. Most have no attributes, no children or no text, and large files hold a million of them. */
class Element implements XmlNode {
  children: XmlNode[] | typeof nothing = nothing;
  text = '';
  readonly length: number;

  constructor(
    readonly name: string,
    readonly attributes: Readonly<Record<string, string>>,
    readonly line: number,
    readonly column: number,
  ) {
    this.length = name.length + 1;
  }
  add(child: XmlNode): void {
    if (this.children.length === 0) this.children = [child];
    else (this.children as XmlNode[]).push(child);
  }
}

/** True when a DOCTYPE declares something itself, beyond naming a public definition. */
const hasInternalSubset = (doctype: string): boolean => doctype.replace(/"[^"]*"|'[^']*'/g, '').includes('[');

function buildTree(parser: SaxesParser, text: string): XmlNode {
  const open: Element[] = [];
  let at: Element | undefined;
  let root: XmlNode | null = null;
  let count = 0;
  let tagLine = 1;
  let tagColumn = 1;
  parser.on('doctype', (doctype) => {
    if (hasInternalSubset(doctype)) throw new Refusal('xml-entities', 'declarations inside the DOCTYPE');
  });
  parser.on('opentagstart', ({ name }) => {
    tagLine = parser.line;
    tagColumn = Math.max(1, parser.columnIndex - name.length - 1);
  });
  parser.on('opentag', ({ name, attributes }) => {
    count += 1;
    if (count > mostElements) throw new Refusal('xml-large', `more than ${mostElements} elements`);
    if (open.length >= deepest) throw new Refusal('xml-deep', `elements nested deeper than ${deepest}`);
    const local = name.slice(name.indexOf(':') + 1);
    at = new Element(local, attributes, tagLine, tagColumn);
    open.push(at);
  });
  const addText = (part: string): void => {
    if (at) at.text += part;
  };
  parser.on('text', addText);
  parser.on('cdata', addText);
  parser.on('closetag', () => {
    const node = open.pop()!;
    node.text = node.text.trim();
    at = open.at(-1);
    if (at) at.add(node);
    else root = node;
  });
  parser.write(text).close();
  if (root === null) throw new Refusal('xml-broken', 'no element');
  return root;
}

/** Blanks before the head are no fault; the head then has to become blanks, too, so that every place stays where it is. */
const withoutLateHead = (text: string): string =>
  text.replace(/^\s+<\?xml[^>]{0,200}\?>/u, (head) => head.replaceAll(/[^\n\r]/gu, ' '));

/** Reads well-formed XML 1.0. Never throws; linear in the length of the text, which the caller has limited. */
export function readXml(text: string): XmlReading {
  const parser = new SaxesParser({ xmlns: false, position: true });
  try {
    return { root: buildTree(parser, withoutLateHead(text)) };
  } catch (error) {
    return {
      fault: {
        code: error instanceof Refusal ? error.code : 'xml-broken',
        line: parser.line,
        column: parser.columnIndex + 1,
        // The parser puts the place before its message; ours is told apart from it.
        detail: (error instanceof Error ? error.message : String(error)).replace(/^\d+:\d+: /, ''),
      },
    };
  }
}

/** The place of an element, without its content. */
export const spanOf = ({ line, column, length }: XmlNode): Span => ({ line, column, length });

export const childrenNamed = (node: XmlNode, name: string): XmlNode[] =>
  node.children.filter((child) => child.name === name);

export const childNamed = (node: XmlNode, name: string): XmlNode | undefined =>
  node.children.find((child) => child.name === name);

/** Text of the first child of that name, undefined when there is none or it is empty. */
export function textOf(node: XmlNode, name: string): string | undefined {
  const text = childNamed(node, name)?.text;
  return text === '' ? undefined : text;
}

/** The first node down a path of names. */
export const descend = (node: XmlNode, ...path: readonly string[]): XmlNode | undefined =>
  path.reduce<XmlNode | undefined>((at, name) => at && childNamed(at, name), node);

/** A finite number in the text of a child. */
export function numberOf(node: XmlNode, name: string): number | undefined {
  const text = textOf(node, name);
  const value = text === undefined || !/^[-+]?(\d+\.?\d*|\.\d+)$/.test(text) ? NaN : Number(text);
  return Number.isFinite(value) ? value : undefined;
}
