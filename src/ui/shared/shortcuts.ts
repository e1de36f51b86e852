// Keys of the whole page, apart from any control.

export type ShortcutName =
  | 'play'
  | 'pin'
  | 'unpin'
  | 'previous'
  | 'next'
  | 'new take'
  | 'redraw'
  | 'keep bar'
  | 'shorter'
  | 'longer'
  | 'earlier'
  | 'later'
  | 'add note'
  | 'way before'
  | 'way after'
  | 'changes'
  | 'auditions'
  | 'devices'
  | 'board'
  | 'roles'
  | 'undo'
  | 'redo'
  | 'close'
  | 'help'
  | 'whole board'
  | 'low'
  | 'middle'
  | 'neck block'
  | 'octave';

/** The part of a keyboard event that decides. */
export type KeyPress = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>;

const plain: Readonly<Record<string, ShortcutName>> = {
  ' ': 'play',
  ArrowLeft: 'previous',
  ArrowRight: 'next',
  ArrowUp: 'way before',
  ArrowDown: 'way after',
  h: 'keep bar',
  H: 'keep bar',
  k: 'keep bar',
  K: 'keep bar',
  a: 'auditions',
  A: 'auditions',
  c: 'changes',
  C: 'changes',
  d: 'devices',
  D: 'devices',
  w: 'roles',
  W: 'roles',
  b: 'board',
  B: 'board',
  ',': 'shorter',
  '.': 'longer',
  '<': 'earlier',
  '>': 'later',
  n: 'add note',
  N: 'add note',
  Enter: 'pin',
  Delete: 'unpin',
  Backspace: 'unpin',
  '?': 'help',
  '0': 'whole board',
  '1': 'low',
  '2': 'middle',
  '3': 'neck block',
  '4': 'octave',
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
  // With Shift a new take of everything, without it one bar.
  if (press.key.toLowerCase() === 'r') return press.shiftKey ? 'new take' : 'redraw';
  const name = plain[press.key];
  if ((name === 'play' || name === 'pin') && place !== 'page') return undefined;
  const isArrow = name === 'previous' || name === 'next' || name === 'way before' || name === 'way after';
  if (isArrow && place === 'slider') return undefined;
  return name;
}

/** Keys that change or choose something on the sheet: without it in sight they do nothing. */
const ofSheet: ReadonlySet<ShortcutName> = new Set<ShortcutName>([
  'previous',
  'next',
  'way before',
  'way after',
  'redraw',
  'keep bar',
  'pin',
  'unpin',
  'shorter',
  'longer',
  'earlier',
  'later',
  'add note',
]);
export const needsSheet = (name: ShortcutName): boolean => ofSheet.has(name);

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
