// A writer of XML 1.0: every text is escaped, whatever it holds, and what XML cannot hold is left out.

export type XmlContent = XmlElement | string;

/** An element to be written; its texts are plain, not yet escaped. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlContent[];
}

/** An element without attributes. */
export const tag = (name: string, ...children: readonly XmlContent[]): XmlElement => ({
  name,
  attributes: {},
  children,
});

/** An element with attributes. */
export const tagWith = (
  name: string,
  attributes: Readonly<Record<string, string>>,
  ...children: readonly XmlContent[]
): XmlElement => ({ name, attributes, children });

// XML 1.0 (fifth edition), production 2 Char; with the u flag an unpaired surrogate is outside every range.
const outsideXml = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;

const escapes: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  // A reader turns a bare carriage return into a line feed, and either into a blank inside an attribute.
  '\r': '&#13;',
  '\n': '&#10;',
  '\t': '&#9;',
};

const escapeText = (text: string): string =>
  text.replace(outsideXml, '').replace(/[&<>\r]/g, (character) => escapes[character]!);
const escapeAttribute = (text: string): string =>
  text.replace(outsideXml, '').replace(/[&<>"\r\n\t]/g, (character) => escapes[character]!);

function write(content: XmlContent, indent: string, out: string[]): void {
  if (typeof content === 'string') {
    out.push(escapeText(content));
    return;
  }
  const { name, attributes, children } = content;
  const start = [
    name,
    ...Object.entries(attributes).map(([key, text]) => `${key}="${escapeAttribute(text)}"`),
  ];
  out.push(indent, '<', start.join(' '));
  if (children.length === 0) {
    out.push('/>\n');
  } else if (children.every((child) => typeof child === 'string')) {
    // Blanks inside a text are part of it, so text stays on the line of its element.
    out.push('>', ...children.map(escapeText), '</', name, '>\n');
  } else {
    out.push('>\n');
    for (const child of children) write(child, `${indent}  `, out);
    out.push(indent, '</', name, '>\n');
  }
}

/** The whole document, indented. Elements hold either elements or text, never both. */
export function writeXml(root: XmlElement, doctype = ''): string {
  const out: string[] = ['<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n'];
  if (doctype !== '') out.push(doctype, '\n');
  write(root, '', out);
  return out.join('');
}
