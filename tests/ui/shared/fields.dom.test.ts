import { expect, it } from 'vitest';
import { commitField } from '../../../src/ui/shared/fields';

/** Kinds of the fields that count after each was the one in use. */
function counted(...markup: readonly string[]): string[] {
  const kinds: string[] = [];
  for (const one of markup) {
    document.body.innerHTML = one;
    const field = document.body.firstElementChild as HTMLElement;
    field.addEventListener('change', () => kinds.push(one));
    field.focus();
    commitField(document);
    expect(document.activeElement).toBe(field);
  }
  return kinds;
}

it('a field that is typed into counts before it is left, and keeps its place', () => {
  const typed = ['<input>', '<input type="number">'];
  expect(counted(...typed)).toEqual(typed);
});

it('nothing else is disturbed', () => {
  expect(
    counted('<input type="checkbox">', '<input type="file">', '<textarea></textarea>', '<select></select>'),
  ).toEqual([]);
  document.body.innerHTML = '';
  expect(() => commitField(document)).not.toThrow();
});
