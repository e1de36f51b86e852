// SVG as text: every value escaped, whatever it holds; what XML cannot hold is left out.

type Value = string | number | undefined;

/** Control characters, lone surrogates and the two that are none. */
const forbidden = /(?![\t\n\r])\p{Cc}|\p{Cs}|[\ufffe\uffff]/gu;

export const escaped = (text: string): string =>
  text
    .replace(forbidden, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');

/** To the hundredth of a pixel. */
const valueText = (value: string | number): string =>
  typeof value === 'number' ? String(Math.round(value * 100) / 100) : escaped(value);

/** An element; attributes that are undefined are left out. `content` is SVG already. */
export function element(name: string, attributes: Readonly<Record<string, Value>>, content = ''): string {
  const written = Object.entries(attributes)
    .flatMap(([key, value]) => (value === undefined ? [] : [` ${key}="${valueText(value)}"`]))
    .join('');
  return content === '' ? `<${name}${written}/>` : `<${name}${written}>${content}</${name}>`;
}
