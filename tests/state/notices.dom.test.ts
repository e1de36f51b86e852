import { describe, expect, it } from 'vitest';
import { Notices } from '../../src/state/notices.svelte';

const codes = (notices: Notices): string[] => notices.list.map(({ message }) => message.code);

describe('notices', () => {
  it('show a message once at a time, the latest last, three at most', () => {
    const notices = new Notices();
    notices.show({ code: 'gone' });
    notices.show({ code: 'break' });
    notices.show({ code: 'gone' });
    expect(codes(notices)).toEqual(['break', 'gone']);
    notices.show({ code: 'link long' });
    notices.show({ code: 'link copied' });
    expect(codes(notices)).toEqual(['gone', 'link long', 'link copied']);
  });

  it('say what lasts once: dismissed, it does not come back, and other messages do', () => {
    const notices = new Notices();
    for (const code of ['not saved', 'break'] as const) {
      notices.show({ code });
      notices.dismiss(notices.list[0]!.id);
      notices.show({ code });
    }
    expect(codes(notices)).toEqual(['break']);
  });

  it('let pass what asks for nothing, and keep what can be acted on', () => {
    const notices = new Notices();
    notices.show({ code: 'link copied' });
    notices.show({ code: 'removed', title: 'A' }, { name: 'undo', run: () => undefined });
    notices.show({ code: 'quota' });
    expect(notices.list.map(({ isPassing }) => isPassing)).toEqual([true, false, false]);
  });
});
