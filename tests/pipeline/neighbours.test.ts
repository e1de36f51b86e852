// What a note leads to: the next note of its own, past the ghosts, drops and triplets between.
import { describe, expect, it } from 'vitest';
import { isOrnament } from '../../src/pipeline/2-timeline';
import { neighbourOf, roleOf } from '../../src/pipeline';
import { chartText, walked } from './request';

describe('the role of a note', () => {
  const { line } = walked(chartText('back-stairs-blues.txt'), {
    choruses: 8,
    density: 1,
    take: { seed: 5, temperature: 1 },
  });
  const { notes } = line;

  it('is read from the notes of the line, with ornaments passed over on both sides', () => {
    const own = notes.filter(({ slot }) => !isOrnament(slot.articulation));
    expect(own.length).toBeLessThan(notes.length - 10);
    own.slice(0, -1).forEach(({ slot, placement, role }, index) => {
      const before = own[index - 1]?.midi ?? null;
      expect(role).toBe(roleOf({ slot, placement, before, after: own[index + 1]!.midi }));
    });
  });

  it('names the note that is led to, not the ghost before it, in the reason', () => {
    const led = notes.filter(
      ({ index, role }) =>
        /^approach/.test(role) && notes[index + 1] && isOrnament(notes[index + 1]!.slot.articulation),
    );
    expect(led.length).toBeGreaterThan(0);
    for (const note of led) {
      const target = notes[neighbourOf(notes, note.index, 1)!]!;
      expect(isOrnament(target.slot.articulation)).toBe(false);
      const name = target.pitch.name.replaceAll('b', '♭').replaceAll('#', '♯');
      expect(note.reason).toContain(name);
    }
  });

  it('has no neighbour beyond the ends', () => {
    expect(neighbourOf(notes, 0, -1)).toBeNull();
    expect(neighbourOf(notes, notes.length - 1, 1)).toBeNull();
  });
});
