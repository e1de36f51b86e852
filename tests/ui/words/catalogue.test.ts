// Interface text lies in files named for words, so that it can be translated: no component says anything by itself.
import { readFileSync, readdirSync } from 'node:fs';
import { parse, type AST } from 'svelte/compiler';
import { describe, expect, it } from 'vitest';

const root = new URL('../../../src/', import.meta.url);
const components = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((file) =>
  file.endsWith('.svelte'),
);

/** Two letters in a row are a word; single ones are keys, signs and finger names. */
const hasWord = (text: string): boolean => /\p{L}{2}/u.test(text);
const spokenAttributes = new Set([
  'aria-label',
  'aria-description',
  'aria-roledescription',
  'aria-valuetext',
  'title',
  'alt',
  'placeholder',
  'label',
]);

/** Literal text that a person would read or hear, in a parsed template. */
export function literalText(source: string): string[] {
  const found: string[] = [];
  const visit = (value: unknown): void => {
    if (Array.isArray(value)) {
      value.forEach(visit);
      return;
    }
    if (typeof value !== 'object' || value === null) return;
    const node = value as { readonly type?: string } & Record<string, unknown>;
    if (node.type === 'Text') {
      if (hasWord(String(node['data']))) found.push(String(node['data']).trim());
      return;
    }
    if (node.type === 'Attribute') {
      const { name, value: parts } = node as unknown as AST.Attribute;
      const texts = (Array.isArray(parts) ? parts : [parts]).flatMap((part) =>
        part === true ? [] : part.type === 'Text' ? [part.data] : [],
      );
      if (spokenAttributes.has(name)) found.push(...texts.filter(hasWord));
      return;
    }
    if (node.type === 'StyleDirective' || node.type === 'ClassDirective') return;
    if (node.type === 'ExpressionTag') {
      const { expression } = node as unknown as AST.ExpressionTag;
      if (expression.type === 'Literal' && hasWord(String(expression.value)))
        found.push(String(expression.value));
      if (expression.type === 'ConditionalExpression') {
        for (const branch of [expression.consequent, expression.alternate]) {
          if (branch.type === 'Literal' && hasWord(String(branch.value))) found.push(String(branch.value));
        }
      }
      return;
    }
    for (const [key, part] of Object.entries(node)) if (key !== 'metadata' && key !== 'parent') visit(part);
  };
  visit(parse(source, { modern: true }).fragment);
  return found;
}

describe('components', () => {
  it('are all looked at', () => {
    expect(components.length).toBeGreaterThan(60);
  });

  it('would be caught saying something', () => {
    expect(literalText('<p>Bass {name}</p>')).toEqual(['Bass']);
    expect(literalText('<button aria-label="Play">{sign}</button>')).toEqual(['Play']);
    expect(literalText("{#if a}<b>{on ? 'muted' : ''}</b>{/if}")).toEqual(['muted']);
    expect(literalText('<p class="quiet wide">{words.bass} <kbd>R</kbd></p>')).toEqual([]);
  });

  it.each(components)('%s says nothing of its own', (file) => {
    expect(literalText(readFileSync(new URL(file, root), 'utf8'))).toEqual([]);
  });
});
