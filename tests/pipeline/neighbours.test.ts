// What a note leads to: the next note of its own, past the ghosts, drops and triplets between.
import { describe, expect, it } from 'vitest';
import { isOrnament } from '../../src/pipeline/2-timeline';
import { devicesOf, labelsOf } from '../../src/pipeline';
import { chartText, walked } from './request';

describe('the labels of a note', () => {
  const { line } = walked(chartText('back-stairs-blues.txt'), {
    choruses: 8,
    density: 1,
    take: { seed: 5, temperature: 1 },
  });
  const { notes } = line;
  const own = notes.filter(({ slot }) => !isOrnament(slot.articulation));

  it('are read from the notes of the line, with ornaments passed over on both sides', () => {
    expect(own.length).toBeLessThan(notes.length - 10);
    const alone = labelsOf(own);
    // The last notes may lead round to the top, which is no note of the line.
    own.slice(0, -4).forEach(({ degree, device, label }, index) => {
      expect({ degree, device, label }).toEqual({
        degree: alone[index]!.degree,
        device: alone[index]!.device,
        label: alone[index]!.label,
      });
    });
  });

  it('name the note that is led to, not the ghost before it, in the reason', () => {
    const led = notes.filter(
      ({ index, role }) =>
        /^approach/.test(role) && notes[index + 1] && isOrnament(notes[index + 1]!.slot.articulation),
    );
    expect(led.length).toBeGreaterThan(0);
    for (const { reason, devices, device } of led) {
      const span = devices.find((one) => one.device === device)!;
      const target = notes[span.target!]!;
      expect(isOrnament(target.slot.articulation)).toBe(false);
      const name = target.pitch.name.replaceAll('b', '♭').replaceAll('#', '♯');
      expect(reason).toContain(`into ${name}, `);
    }
  });

  it('are the figure of the rhythm for an ornament', () => {
    const ghosts = notes.filter(({ slot }) => slot.articulation === 'ghost');
    expect(ghosts.length).toBeGreaterThan(0);
    for (const { label } of ghosts) expect(label).toBe('skip');
  });

  it('lead past the last note round to the top', () => {
    const round = line.devices.filter(({ target }) => target === notes.length);
    const alone = devicesOf(notes).filter(({ notes: of }) => of.includes(notes.length - 1));
    expect(round.length + alone.length).toBeGreaterThan(0);
    for (const { target } of alone) expect(target).toBeNull();
  });
});
