// The table of fingers that came with a file.
import { cleanup, render, screen, within } from '@testing-library/svelte';
import { afterEach, describe, expect, it } from 'vitest';
import { fingerBothWays, parseNotes } from '../../../src/pipeline';
import { defaultHand, defaultInstrument } from '../../../src/instrument';
import { bpm } from '../../../src/music';
import { writtenNotes } from '../../../src/state/both-ways/written';
import Written from '../../../src/ui/hand/Written.svelte';

afterEach(cleanup);

describe('fingers written in a file', () => {
  it('stand note by note over both ways, with a count of those that are the same', () => {
    const both = fingerBothWays(parseNotes('E1 Bb1 C2 D2').notes, {
      instrument: defaultInstrument,
      hand: defaultHand,
      tempo: bpm(120),
      limits: { barredPositions: [] },
    });
    const notes = writtenNotes(both, [
      { string: 4, finger: '0', otherFingers: [] },
      { string: null, finger: 'T', otherFingers: ['2', '4'] },
      { string: null, finger: null, otherFingers: [] },
      { string: 2, finger: '0', otherFingers: [] },
    ]);
    render(Written, { notes, instrument: defaultInstrument });
    const table = within(screen.getByRole('table'));
    const cells = (name: string): (string | null)[] =>
      within(table.getByRole('row', { name: new RegExp(`^${name}`) }))
        .getAllByRole(name === 'note' ? 'columnheader' : 'cell')
        .map(({ textContent }) => textContent);
    expect(cells('note')).toEqual(['E1', 'B♭1', 'D2']);
    expect(cells('in the file')).toEqual(['E 0', 'T (2, 4)', 'D 0']);
    const usual = both.usual.line!.notes.map(({ placement }) => placement);
    expect(cells('Usual way')[0]).toBe('E 0');
    expect(cells('Usual way')[1]).toMatch(new RegExp(`^[EADG] ${usual[1]!.finger}$`));
    const same = notes.filter(({ isAsUsual }) => isAsUsual).length;
    expect(screen.getByText(/^Of 3 notes/).textContent).toContain(`${same} are as written the usual way`);
    const bold = table.getByRole('row', { name: /^Usual way/ }).querySelectorAll('.same');
    expect(bold).toHaveLength(same);
  });
});
