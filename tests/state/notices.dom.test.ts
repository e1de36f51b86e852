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
    for (const message of [{ code: 'not saved', isHeld: true }, { code: 'break' }] as const) {
      notices.show(message);
      notices.dismiss(notices.list[0]!.id);
      notices.show(message);
    }
    expect(codes(notices)).toEqual(['break']);
  });

  it('say what lasts anew where the work is no longer kept aside, and where it was over meanwhile', () => {
    const notices = new Notices();
    notices.show({ code: 'quota', isHeld: true });
    notices.dismiss(notices.list[0]!.id);
    notices.show({ code: 'quota', isHeld: false });
    expect(notices.list.map(({ message }) => message)).toEqual([{ code: 'quota', isHeld: false }]);
    notices.dismiss(notices.list[0]!.id);
    notices.withdraw(['quota']);
    expect(notices.list).toEqual([]);
    notices.show({ code: 'quota', isHeld: false });
    expect(codes(notices)).toEqual(['quota']);
  });

  it('let pass what asks for nothing, and keep what can be acted on', () => {
    const notices = new Notices();
    notices.show({ code: 'link copied' });
    notices.show({ code: 'removed', title: 'A' }, { name: 'undo', run: () => undefined });
    notices.show({ code: 'quota', isHeld: true });
    expect(notices.list.map(({ isPassing }) => isPassing)).toEqual([true, false, false]);
  });
});
