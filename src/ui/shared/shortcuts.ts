// Keys of the whole page, apart from any control.

export type ShortcutName =
  | 'play'
  | 'pin'
  | 'unpin'
  | 'previous'
  | 'next'
  | 'new take'
  | 'changes'
  | 'undo'
  | 'redo'
  | 'close'
  | 'help';

/** The part of a keyboard event that decides. */
export type KeyPress = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>;

const plain: Readonly<Record<string, ShortcutName>> = {
  ' ': 'play',
  ArrowLeft: 'previous',
  ArrowRight: 'next',
  r: 'new take',
  R: 'new take',
  c: 'changes',
  C: 'changes',
  Enter: 'pin',
  Delete: 'unpin',
  '?': 'help',
};

/** Where the key was pressed: writing takes all keys but Escape, a control keeps those it answers to itself. */
export type KeyPlace = 'page' | 'control' | 'slider' | 'writing';

/** The shortcut a key press means, undefined when it means none there. */
export function shortcutOf(press: KeyPress, place: KeyPlace): ShortcutName | undefined {
  if (press.key === 'Escape') return 'close';
  if (place === 'writing') return undefined;
  const command = press.ctrlKey || press.metaKey;
  if (command && !press.altKey) {
    if (press.key.toLowerCase() === 'z') return press.shiftKey ? 'redo' : 'undo';
    return press.key.toLowerCase() === 'y' && !press.shiftKey ? 'redo' : undefined;
  }
  if (command || press.altKey) return undefined;
  const name = plain[press.key];
  if ((name === 'play' || name === 'pin') && place !== 'page') return undefined;
  if ((name === 'previous' || name === 'next') && place === 'slider') return undefined;
  return name;
}

/** What kind of place an element is for keys. */
export function keyPlaceOf(element: Element | null): KeyPlace {
  if (!element) return 'page';
  if (
    element.matches(
      'textarea, [contenteditable], input:not([type=range], [type=checkbox], [type=radio], [type=file])',
    )
  ) {
    return 'writing';
  }
  if (element.matches('input[type=range], input[type=radio], select, [role=slider], [role=radio]'))
    return 'slider';
  if (element.matches('button, a[href], input, summary, [role=button], [role=checkbox], [role=tab]'))
    return 'control';
  return 'page';
}
