// What stands in the way of saving, as the header and the notices say it: never one against the other.
import { describe, expect, it } from 'vitest';
import { saveFaults } from '../../../src/state/persistence';
import { messageText, words } from '../../../src/ui/words';

const troubles = ['slow store', 'memory only', 'newer store', 'quota', 'not saved'] as const;

describe.each(troubles)('a notice of the kind %s', (code) => {
  it('says that work is kept where the header does', () => {
    const said = messageText({ code, isHeld: true });
    expect(words.header.kept).toBe('kept in this browser');
    expect(said).toContain('kept in this browser');
    expect(said).not.toMatch(/could not|nothing|until you close/);
  });

  it('does not say so where it is kept nowhere', () => {
    const said = messageText({ code, isHeld: false });
    expect(said).not.toContain('kept in this browser');
    expect(said).toMatch(/file|leave the page open/i);
  });
});

it('no two kinds say the same', () => {
  const all = troubles.flatMap((code) => [true, false].map((isHeld) => messageText({ code, isHeld })));
  expect(new Set(all).size).toBe(all.length);
});

describe('what is said of a night', () => {
  it('speaks of the night, and never calls it a study', () => {
    const told = [
      messageText({ code: 'night partly read' }),
      messageText({ code: 'night saved beside' }),
      messageText({ code: 'night saved again' }),
      ...saveFaults.map((reason) => messageText({ code: 'night not saved', reason })),
    ];
    for (const sentence of told) expect(sentence).toMatch(/night/);
    for (const sentence of told) expect(sentence).not.toMatch(/this study|that study/i);
  });
});
