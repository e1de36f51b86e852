// Keys inside a tune: chords take their scales from the key of their section. The charts are ours; what a player would call
// the key of each chord is common practice, no source.
import { describe, expect, it } from 'vitest';
import { printKey } from '../../../src/music';
import { makeTimeline, readChart } from '../../../src/pipeline';

/** Chord, key, scale and the reason for it, for every chord of the form. */
function heard(text: string): readonly string[] {
  const { timeline } = makeTimeline(readChart(text).chart, { choruses: 1, tempo: null });
  return timeline!.bars.flatMap(({ chords }) =>
    chords.map(({ chord, key, whyScale }) => `${chord!.symbol} in ${printKey(key)}: ${whyScale!.name}`),
  );
}
const keysIn = (text: string): readonly string[] => heard(text).map((line) => /in (.*):/.exec(line)![1]!);

const twoAreas = `Title: Two Rooms
Key: Eb
[A]
| Ebmaj7 | Cm7 | Fm7 | Bb7 | Gm7 | C7 | Fm7 Bb7 | Eb6 |
[B]
| Gmaj7 | Em7 | Am7 | D7 | Bm7 | Em7 | Am7 D7 | Gmaj7 |
[A]
| Ebmaj7 | Cm7 | Fm7 | Bb7 | Gm7 | C7 | Fm7 Bb7 | Eb6 |`;

describe('a bridge in another key', () => {
  it('reads its two, five and one, and its six and three, in its own key', () => {
    const bridge = heard(twoAreas).slice(9, 18);
    expect(bridge).toEqual([
      'Gmaj7 in G major: ionian',
      'Em7 in G major: aeolian',
      'Am7 in G major: dorian',
      'D7 in G major: mixolydian',
      'Bm7 in G major: phrygian',
      'Em7 in G major: aeolian',
      'Am7 in G major: dorian',
      'D7 in G major: mixolydian',
      'Gmaj7 in G major: ionian',
    ]);
  });

  it('leaves the sections around it, and the signature, at home', () => {
    const keys = keysIn(twoAreas);
    expect(new Set([...keys.slice(0, 9), ...keys.slice(18)])).toEqual(new Set(['Eb major']));
    const { timeline } = makeTimeline(readChart(twoAreas).chart, { choruses: 1, tempo: null });
    expect(new Set(timeline!.bars.map(({ key }) => printKey(key)))).toEqual(new Set(['Eb major']));
  });

  it('is in the same key when the heading names none', () => {
    expect(keysIn(twoAreas.replace('Key: Eb\n', ''))).toEqual(keysIn(twoAreas));
  });

  it('is where the chart says, when it says so', () => {
    const named = twoAreas.replace('[B]\n|', '[B]\n| {Key: D}');
    // Two, five and one have a key of their own; everything else is in the key that is named.
    expect(keysIn(named).slice(9, 11)).toEqual(['D major', 'D major']);
  });
});

describe('a section that only leans elsewhere', () => {
  it.each([
    ['a chain of dominants', '| D7 | D7 | G7 | G7 | C7 | C7 | F7 | F7 |'],
    ['a section that comes home', '| Cm7 | F7 | Bbmaj7 | Ebmaj7 | Am7b5 | D7 | Gm7 | Bb6 |'],
    ['chords of the fourth', '| Ebmaj7 | Ebmaj7 | Abmaj7 | Abmaj7 |'],
  ])('stays at home but for its own cadences: %s', (_name, bars) => {
    const text = `Key: Bb\n[A]\n| Bbmaj7 | Gm7 | Cm7 | F7 |\n[B]\n${bars}`;
    expect(keysIn(text).slice(0, 4)).toEqual(Array(4).fill('Bb major'));
    expect(keysIn(text).slice(4)).toContain('Bb major');
  });

  it('a five at the end of one section goes to the one of the next', () => {
    const text = 'Key: C\n[A]\n| Cmaj7 | Am7 | Dm7 | Bbm7 Eb7 |\n[B]\n| Abmaj7 | Fm7 | Bbm7 Eb7 | Abmaj7 |';
    expect(heard(text).slice(3, 6)).toEqual([
      'Bbm7 in Ab major: dorian',
      'Eb7 in Ab major: mixolydian',
      'Abmaj7 in Ab major: ionian',
    ]);
  });
});

describe('two, five and one inside a section', () => {
  it('are in their own key, minor and major', () => {
    expect(heard('Key: C\n| Cmaj7 | F#m7b5 B7 | Em7 | Fm7 Bb7 | Ebmaj7 | Dm7 G7 | C6 |').slice(1, 6)).toEqual(
      [
        'F#m7b5 in E minor: locrian',
        'B7 in E minor: phrygian dominant',
        'Em7 in E minor: dorian',
        'Fm7 in Eb major: dorian',
        'Bb7 in Eb major: mixolydian',
      ],
    );
  });
});
