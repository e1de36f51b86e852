// Foot pedals are keyboards with two keys: page keys or arrows, as they are set.

export type Pedal = 'on' | 'back';

const pedals: Readonly<Record<string, Pedal>> = {
  PageDown: 'on',
  ArrowRight: 'on',
  ArrowDown: 'on',
  PageUp: 'back',
  ArrowLeft: 'back',
  ArrowUp: 'back',
};

/** What a key means as a pedal; undefined for other keys, with a modifier, and while a key is held down. */
export function pedalOf(
  press: Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey' | 'repeat'>,
): Pedal | undefined {
  const isModified = press.ctrlKey || press.metaKey || press.altKey || press.shiftKey;
  return isModified || press.repeat ? undefined : pedals[press.key];
}
