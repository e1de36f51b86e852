// What the person is told about saving: once for each thing that happens, and taken back when it is over.
import type { Notices, SavingTrouble } from './notices.svelte';
import type { SaveOutcome } from './persistence';
import type { Trouble } from './saver.svelte';

const codes: Readonly<Record<Trouble, SavingTrouble>> = {
  slow: 'slow store',
  refused: 'memory only',
  newer: 'newer store',
  quota: 'quota',
  store: 'not saved',
};

/** @param giveFile gives the person the study on the desk as a file */
export function tellTrouble(
  notices: Notices,
  trouble: Trouble | null,
  isHeld: boolean,
  giveFile: () => void,
): void {
  const code = trouble && codes[trouble];
  notices.withdraw(Object.values(codes).filter((other) => other !== code));
  if (code) notices.show({ code, isHeld }, { name: 'file', run: giveFile });
}

export function tellOutcome(notices: Notices, outcome: SaveOutcome['kind']): void {
  if (outcome === 'copied') notices.show({ code: 'saved beside' });
  if (outcome === 'again') notices.show({ code: 'saved again' });
}
