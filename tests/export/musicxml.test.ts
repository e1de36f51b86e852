import { describe, expect, it } from 'vitest';
import { bpm, parseKey } from '../../src/music';
import { toMusicXml, usualSwing } from '../../src/export';
import { smallRatio } from '../../src/export/swing-mark';
import {
  childNamed,
  childrenNamed,
  descend,
  readXml,
  textOf,
  type XmlNode,
} from '../../src/pipeline/1-chart/import/xml';
import { makeTest, naming, type NoteSpec, type TimelineSpec } from './build';

function measures(spec: TimelineSpec, notes: readonly NoteSpec[]): XmlNode[] {
  return childrenNamed(childNamed(score(spec, notes), 'part')!, 'measure');
}

function score(spec: TimelineSpec, notes: readonly NoteSpec[], title?: string): XmlNode {
  const { timeline, line } = makeTest(spec, notes);
  const reading = readXml(
    toMusicXml(timeline, line, { ...naming, ...(title === undefined ? {} : { title }) }),
  );
  if ('fault' in reading) throw new Error(reading.fault.detail);
  return reading.root;
}

const quarter = (index: number, midi: number, more: Partial<NoteSpec> = {}): NoteSpec => ({
  tick: index * 480,
  ticks: 480,
  midi,
  ...more,
});

const notesOf = (measure: XmlNode): XmlNode[] => childrenNamed(measure, 'note');
const technicalOf = (note: XmlNode): Record<string, string> =>
  Object.fromEntries(
    (descend(note, 'notations', 'technical')?.children ?? []).map((child) => [child.name, child.text]),
  );
const pitchOf = (note: XmlNode): string | null => {
  const pitch = childNamed(note, 'pitch');
  if (!pitch) return null;
  return `${textOf(pitch, 'step')}${textOf(pitch, 'alter') ?? ''}/${textOf(pitch, 'octave')}`;
};

describe('devices in MusicXML', () => {
  const made = makeTest(
    { bars: [{}, {}] },
    [36, 43, 37, 35, 36].map((midi, index) => quarter(index, midi)),
  );
  const line = {
    ...made.line,
    devices: [
      { device: 'enclosure above first', notes: [2, 3], target: 4 },
      { device: 'semitone below', notes: [3], target: 4 },
      { device: 'step above', notes: [1], target: 2 },
    ] as const,
  };
  const barOf = (withDevices: boolean): XmlNode => {
    const reading = readXml(toMusicXml(made.timeline, line, { ...naming, withDevices }));
    if ('fault' in reading) throw new Error(reading.fault.detail);
    return childNamed(childNamed(reading.root, 'part')!, 'measure')!;
  };
  /** Notes as "n", what stands between them by its words or the end of its bracket. */
  const told = (bar: XmlNode): string[] =>
    bar.children.flatMap((child) => {
      if (child.name === 'note') return ['n'];
      if (child.name !== 'direction') return [];
      return childrenNamed(child, 'direction-type').flatMap((type) =>
        type.children.flatMap(({ name, text, attributes }) =>
          name === 'bracket'
            ? [attributes['type']!]
            : name === 'words' && /[a-z]{4}/.test(text)
              ? [text]
              : [],
        ),
      );
    });

  it('are words over one note and a bracket over several, when asked for', () => {
    expect(told(barOf(true)).filter((one) => one !== 'swing' && one !== 'Swing')).toEqual([
      'n',
      'scale step above',
      'n',
      'enclosure, above first',
      'start',
      'n',
      'n',
      'stop',
    ]);
    expect(told(barOf(false)).filter((one) => one !== 'Swing')).toEqual(['n', 'n', 'n', 'n']);
  });
});

describe('toMusicXml', () => {
  it('writes the octave above the sound in a plain F clef, and transposes it back', () => {
    const [bar] = measures(
      { bars: [{}] },
      [28, 33, 38, 43].map((midi, index) => quarter(index, midi)),
    );
    expect(notesOf(bar!).map(pitchOf)).toEqual(['E/2', 'A/2', 'D/3', 'G/3']);
    const attributes = childNamed(bar!, 'attributes')!;
    expect(childNamed(attributes, 'clef')!.children.map(({ name, text }) => [name, text])).toEqual([
      ['sign', 'F'],
      ['line', '4'],
    ]);
    expect(childNamed(attributes, 'transpose')!.children.map(({ name, text }) => [name, text])).toEqual([
      ['chromatic', '0'],
      ['octave-change', '-1'],
    ]);
    expect(textOf(attributes, 'divisions')).toBe('480');
  });

  it('writes fingers, strings, open strings and the thumb', () => {
    const [bar] = measures({ bars: [{}] }, [
      quarter(0, 29, { string: 4, finger: '1' }),
      quarter(1, 38, { string: 2, finger: '0' }),
      quarter(2, 55, { string: 1, finger: 'T', position: 12 }),
      quarter(3, 40, { string: 3, finger: '4', position: 5 }),
    ]);
    expect(notesOf(bar!).map(technicalOf)).toEqual([
      { fingering: '1', string: '4' },
      { string: '2', 'open-string': '' },
      { string: '1', 'thumb-position': '' },
      { fingering: '4', string: '3' },
    ]);
  });

  it('names a position once, at the first stopped note in it', () => {
    const [bar] = measures({ bars: [{}] }, [
      quarter(0, 29, { position: 1 }),
      quarter(1, 38, { position: 5 }),
      quarter(2, 31, { position: 1 }),
      quarter(3, 36, { position: 5 }),
    ]);
    const sequence = bar!.children.flatMap((child) => {
      if (child.name === 'note') return [pitchOf(child)];
      const words = descend(child, 'direction-type', 'words');
      return child.attributes['placement'] === 'below' && words ? [words.text] : [];
    });
    expect(sequence).toEqual(['P1', 'F/2', 'D/3', 'G/2', 'P5', 'C/3']);
  });

  it('ties over the bar line with both the sound and the sign, start before stop, fingering once', () => {
    const bars = measures({ bars: [{}, {}] }, [{ tick: 960, ticks: 1920, midi: 36, finger: '2' }]);
    const [first] = notesOf(bars[0]!).filter(pitchOf);
    const [second] = notesOf(bars[1]!).filter(pitchOf);
    const ties = (note: XmlNode): unknown[] => [
      childrenNamed(note, 'tie').map(({ attributes }) => attributes['type']),
      childrenNamed(childNamed(note, 'notations')!, 'tied').map(({ attributes }) => attributes['type']),
    ];
    expect(ties(first!)).toEqual([['start'], ['start']]);
    expect(ties(second!)).toEqual([['stop'], ['stop']]);
    expect(technicalOf(first!)['fingering']).toBe('2');
    expect(technicalOf(second!)).toEqual({});
    expect([textOf(first!, 'type'), textOf(second!, 'type')]).toEqual(['half', 'half']);
  });

  it('writes a chord at its place, also within a rest or a long note', () => {
    const [bar] = measures(
      {
        bars: [
          {
            chords: [
              [0, 'Dm7'],
              [960, 'G7/B'],
              [1440, 'N.C.'],
            ],
          },
        ],
      },
      [{ tick: 0, ticks: 1440, midi: 38 }],
    );
    const harmonies = bar!.children.flatMap((child, index) =>
      child.name === 'harmony'
        ? [{ child, next: bar!.children.slice(index).find(({ name }) => name === 'note')! }]
        : [],
    );
    expect(harmonies.map(({ child }) => textOf(child, 'offset') ?? '0')).toEqual(['0', '960', '0']);
    expect(harmonies.map(({ child }) => descend(child, 'root', 'root-step')!.text)).toEqual(['D', 'G', 'C']);
    expect(descend(harmonies[1]!.child, 'bass', 'bass-step')!.text).toBe('B');
    expect(childNamed(harmonies[2]!.child, 'kind')).toMatchObject({
      text: 'none',
      attributes: { text: 'N.C.' },
    });
    expect(pitchOf(harmonies[2]!.next)).toBeNull();
  });

  it('prints a chord again only where a section opens', () => {
    const bars = measures({ bars: [{ section: 'A' }, {}, { section: 'B' }, {}] }, []);
    expect(bars.map((bar) => childrenNamed(bar, 'harmony').length)).toEqual([1, 0, 1, 0]);
    expect(bars.map((bar) => barStyles(bar))).toEqual([[], ['light-light'], [], ['light-heavy']]);
    const rehearsals = bars.map((bar) =>
      childrenNamed(bar, 'direction').flatMap(
        (direction) => descend(direction, 'direction-type', 'rehearsal')?.text ?? [],
      ),
    );
    expect(rehearsals).toEqual([['A'], [], ['B'], []]);
  });

  it('closes a chorus with a double bar line', () => {
    const bars = measures({ bars: [{}, { chorus: 1 }, { chorus: 2 }] }, []);
    expect(bars.map(barStyles)).toEqual([['light-light'], ['light-light'], ['light-heavy']]);
  });

  it('writes keys and meters where they change, and accidentals by the bar', () => {
    const bars = measures(
      {
        bars: [
          { key: parseKey('F')! },
          { key: parseKey('F')! },
          { key: parseKey('C minor')!, meter: { beats: 3, unit: 4 } },
        ],
      },
      [
        quarter(0, 34),
        quarter(1, 35, { name: 'B' }),
        quarter(2, 35, { name: 'B' }),
        quarter(4, 34),
        quarter(5, 35, { name: 'B' }),
        quarter(8, 39),
      ],
    );
    expect(bars.map((bar) => descend(bar, 'attributes', 'key', 'fifths')?.text)).toEqual([
      '-1',
      undefined,
      '-3',
    ]);
    expect(bars.map((bar) => descend(bar, 'attributes', 'key', 'mode')?.text)).toEqual([
      'major',
      undefined,
      'minor',
    ]);
    expect(bars.map((bar) => descend(bar, 'attributes', 'time', 'beats')?.text)).toEqual([
      '4',
      undefined,
      '3',
    ]);
    const signs = bars.map((bar) =>
      notesOf(bar).flatMap((note) => (pitchOf(note) ? [textOf(note, 'accidental')] : [])),
    );
    expect(signs).toEqual([[undefined, 'natural', undefined], [undefined, 'natural'], [undefined]]);
  });

  it('writes tempo, feel and swing', () => {
    const bars = measures({ bars: [{}], tempo: 144.5, feel: 'swing' }, []);
    const direction = childrenNamed(bars[0]!, 'direction').find((one) => childNamed(one, 'sound'))!;
    expect(childrenNamed(direction, 'direction-type').map((one) => one.children[0]!.name)).toEqual([
      'words',
      'metronome',
    ]);
    expect(descend(direction, 'direction-type', 'words')!.text).toBe('Swing');
    const sound = childNamed(direction, 'sound')!;
    expect(sound.attributes['tempo']).toBe('144.5');
    const swing = childNamed(sound, 'swing')!;
    const ratio = Number(textOf(swing, 'first')) / Number(textOf(swing, 'second'));
    expect(Math.abs(ratio / usualSwing('swing', bpm(144.5)) - 1)).toBeLessThanOrEqual(0.03);

    const [bossa] = measures({ bars: [{}], feel: 'bossa' }, []);
    const straight = childrenNamed(bossa!, 'direction').flatMap(
      (one) => descend(one, 'sound', 'swing', 'straight') ?? [],
    );
    expect(straight).toHaveLength(1);
  });

  it('rests for a whole bar without a note value', () => {
    const [bar] = measures({ bars: [{ meter: { beats: 5, unit: 4 } }] }, []);
    expect(notesOf(bar!)).toHaveLength(1);
    expect(childNamed(notesOf(bar!)[0]!, 'rest')!.attributes['measure']).toBe('yes');
    expect(textOf(notesOf(bar!)[0]!, 'duration')).toBe('2400');
    expect(textOf(notesOf(bar!)[0]!, 'type')).toBeUndefined();
  });

  it('does not number a pickup among full bars', () => {
    const bars = measures({ bars: [{ ticks: 480, chords: [[0, 'G7']] }, {}] }, [quarter(0, 31)]);
    expect(bars.map(({ attributes }) => attributes)).toEqual([
      { number: '1', implicit: 'yes' },
      { number: '2' },
    ]);
  });

  it.each([
    ['a < b & "c" > \'d\' ]]>', 'a < b & "c" > \'d\' ]]>'],
    ['tab\tline\nreturn\r', 'tab\tline\nreturn'],
    ['null\u0000 bell\u0007 escape\u001b', 'null bell escape'],
    ['lone \ud800 and \udc00 \ufffe\uffff', 'lone  and'],
    ['♭ 𝄢 日本', '♭ 𝄢 日本'],
    ['&amp; <!-- --> <![CDATA[x]]> <?pi?>', '&amp; <!-- --> <![CDATA[x]]> <?pi?>'],
  ])('keeps a title such as %j', (title, expected) => {
    const root = score({ bars: [{ section: title }], title }, []);
    expect(descend(root, 'work', 'work-title')!.text).toBe(expected);
    expect(textOf(descend(root, 'identification', 'encoding')!, 'software')).toBe('Ramble');
  });

  it('takes another title than the timeline has', () => {
    expect(descend(score({ bars: [{}] }, [], 'Other'), 'work', 'work-title')!.text).toBe('Other');
  });

  it('gives the same text for the same line', () => {
    const { timeline, line } = makeTest({ bars: [{}] }, [quarter(0, 36)]);
    expect(toMusicXml(timeline, line, naming)).toBe(toMusicXml(timeline, line, naming));
    expect(toMusicXml(timeline, line, naming)).not.toMatch(/date|19\d\d|20\d\d-/);
  });
});

function barStyles(bar: XmlNode): string[] {
  return childrenNamed(bar, 'barline').map((barline) => textOf(barline, 'bar-style')!);
}

describe('smallRatio', () => {
  it.each([
    [2, 2, 1],
    [1.96, 2, 1],
    [3, 3, 1],
    [2.35, 7, 3],
    [1.54, 3, 2],
    [1.28, 5, 4],
  ])('%f is %i to %i', (ratio, first, second) => {
    expect(smallRatio(ratio)).toEqual({ first, second });
  });

  it.each([NaN, Infinity, 0, -1])('answers for %f', (ratio) => {
    expect(smallRatio(ratio)).toEqual({ first: 1, second: 1 });
  });
});
