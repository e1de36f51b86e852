// Dead notes are short and soft, anticipations as strong as what they stand for (common practice, no source).
import { describe, expect, it } from 'vitest';
import { toMidi, toMusicXml, toText } from '../../../src/export';
import { positionName } from '../../../src/instrument';
import { bpm } from '../../../src/music';
import { soundOf } from '../../../src/pipeline';
import { makeSchedule, type BassEvent } from '../../../src/playback';
import { chartText, walked } from '../request';

const { line, timeline } = walked(chartText('back-stairs-blues.txt'), {
  density: 1,
  choruses: 2,
  take: { seed: 3, temperature: 0.7 },
});
const ghosts = line.notes.filter(({ slot }) => slot.articulation === 'ghost');

describe('notes of figures', () => {
  it('have a strength, a loudness and a length', () => {
    expect(soundOf({ strength: 2 })).toEqual({ strength: 2, loudness: 1, length: 1 });
    expect(soundOf({ strength: 0, articulation: 'anticipation' }).strength).toBe(3);
    expect(soundOf({ strength: 0, articulation: 'ghost' }).length).toBeLessThan(0.5);
    expect(soundOf({ strength: 0, articulation: 'ghost' }).loudness).toBeLessThan(1);
  });

  it('are played so', () => {
    const settings = {
      tempo: bpm(132),
      swing: 1,
      countInBars: 0,
      loop: 'none',
      seed: 1,
      isLoose: true,
      leans: false,
      click: '2 and 4',
      amount: 'as usual',
      yourTurn: false,
    } as const;
    const { events } = makeSchedule({ timeline, notes: line.notes }, settings);
    const bass = events.filter((event): event is BassEvent => event.part === 'bass');
    const dead = bass.filter(({ note }) => ghosts.some(({ index }) => index === note));
    const others = bass.filter((event) => !dead.includes(event));
    expect(dead).toHaveLength(ghosts.length);
    expect(ghosts.length).toBeGreaterThan(3);
    expect(Math.max(...dead.map(({ tick, damp }) => damp - tick))).toBeLessThan(100);
    expect(Math.max(...dead.map(({ velocity }) => velocity))).toBeLessThan(
      Math.min(...others.map(({ velocity }) => velocity)),
    );
  });

  it('are written so: crossed heads, brackets in text, soft in a MIDI file', () => {
    const heads = toMusicXml(timeline, line, { positionName }).match(/<notehead>x<\/notehead>/g) ?? [];
    expect(heads).toHaveLength(ghosts.length);
    const text = toText(timeline, line, { positionName, stringName: String });
    expect(text.match(/&\([A-G]/g) ?? []).toHaveLength(ghosts.length);
    expect(text).toContain('() dead note');
    const midi = [...toMidi(timeline, line)];
    const soft = midi.filter(
      (byte, at) => byte === 0x90 && (midi[at + 2] ?? 0) > 0 && (midi[at + 2] ?? 0) < 70,
    );
    expect(soft).toHaveLength(ghosts.length);
  });
});
