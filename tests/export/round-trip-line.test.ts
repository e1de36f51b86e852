// A study goes out as MusicXML and comes back note by note: pitch, place in time, finger, string, hand position and devices.
import { describe, expect, it } from 'vitest';
import { toMusicXml } from '../../src/export';
import {
  findInstrument,
  findLivingPlace,
  handPosition,
  makeHand,
  positionName,
  type HandPosition,
  type Instrument,
} from '../../src/instrument';
import { deviceOf, readGivenLine, toldSpans, type Line, type WalkRequest } from '../../src/pipeline';
import {
  childNamed,
  childrenNamed,
  descend,
  readXml,
  textOf,
  type XmlNode,
} from '../../src/pipeline/1-chart/import/xml';
import { chartText, walked, type Walked } from '../pipeline/request';

interface Told {
  /** Where the hand is at each note; null at open strings, which say nothing of it. */
  readonly positions: readonly (HandPosition | null)[];
  readonly devices: readonly { readonly name: string; readonly notes: readonly number[] }[];
}

const isTiedInto = (note: XmlNode): boolean =>
  childrenNamed(note, 'tie').some(({ attributes }) => attributes.type === 'stop');

const isTempo = (direction: XmlNode): boolean =>
  childrenNamed(direction, 'direction-type').some((type) => childNamed(type, 'metronome') !== undefined);

/** The position of a name, those above the octave included, which nobody types. */
const positionCalled = (name: string): HandPosition =>
  Array.from({ length: 24 }, (_, stop) => handPosition(stop + 1)).find((one) => positionName(one) === name)!;

/** Positions and devices as a reader of the page takes them from words, brackets and fingers. */
function toldBy(xml: string): Told {
  const reading = readXml(xml);
  if ('fault' in reading) throw new Error(reading.fault.detail);
  const positions: (HandPosition | null)[] = [];
  const devices: { name: string; notes: number[] }[] = [];
  let hand: HandPosition | null = null;
  let count = 0;
  let open: { name: string; notes: number[] } | null = null;
  let single: string | null = null;
  for (const node of childrenNamed(childNamed(reading.root, 'part')!, 'measure').flatMap(
    (one) => one.children,
  )) {
    if (node.name === 'direction' && !isTempo(node)) {
      const types = childrenNamed(node, 'direction-type');
      const words = types.flatMap((type) => textOf(type, 'words') ?? [])[0];
      const bracket = types.flatMap((type) => childNamed(type, 'bracket')?.attributes.type ?? [])[0];
      if (node.attributes.placement === 'below') hand = positionCalled(words!);
      else if (bracket === 'start') open = { name: words!, notes: [] };
      else if (bracket === 'stop') {
        devices.push(open!);
        open = null;
      } else if (words !== undefined) single = words;
    }
    if (node.name !== 'note' || !childNamed(node, 'pitch') || isTiedInto(node)) continue;
    const technical = descend(node, 'notations', 'technical')!;
    positions.push(childNamed(technical, 'open-string') ? null : hand);
    if (single !== null) devices.push({ name: single, notes: [count] });
    single = null;
    open?.notes.push(count);
    count++;
  }
  const inOrder = devices.toSorted((a, b) => a.notes[0]! - b.notes[0]!);
  return { positions, devices: inOrder };
}

const held = ({ notes }: Line) =>
  notes.map(({ midi, pitch, tick, ticks, placement: { finger, string } }) => ({
    midi,
    name: pitch.name,
    tick,
    ticks,
    finger,
    string,
  }));

const bass = (id: string): Instrument => findInstrument(id)!;
const anyTake = { take: { seed: 11, temperature: 1 } };
/** A minor key, a waltz, a bossa, straight eighths and meters that change. */
const charts = ['last-coat-on-the-hook', 'three-chairs', 'ferry-at-noon', 'five-steps-down'].map(
  (name) => `${name}.txt`,
);
const studies: readonly (readonly [name: string, text: string, changes: Partial<WalkRequest>])[] = [
  ...charts.map((name) => [name, chartText(name), anyTake] as const),
  ['two choruses with fills', chartText('wet-gravel-blues.txt'), { ...anyTake, choruses: 2, density: 1 }],
  [
    'in thumb position',
    chartText('high-fence.txt'),
    {
      ...anyTake,
      limits: { barredPositions: [], place: findLivingPlace('summit')! },
      hand: { ...makeHand(150), way: { id: 'thumb' } },
    },
  ],
  ['on five strings', chartText('corner-table.txt'), { ...anyTake, instrument: bass('bass-low-b') }],
];

const made = new Map<string, Walked>();
function study([name, text, changes]: (typeof studies)[number]): Walked {
  const one = made.get(name) ?? walked(text, changes);
  made.set(name, one);
  return one;
}

describe('a study through MusicXML and back', { timeout: 240_000 }, () => {
  it.each(studies)('%s', (...one) => {
    const { timeline, line } = study(one);
    const xml = toMusicXml(timeline, line, { positionName, withDevices: true });
    const { notes, printed, problems, frame } = readGivenLine(new TextEncoder().encode(xml));

    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    const back = notes.map(({ midi, name, tick, ticks }, index) => {
      const { finger, string } = printed![index]!;
      return { midi, name, tick, ticks, finger, string };
    });
    expect(back).toEqual(held(line));
    expect(frame).toMatchObject({ title: timeline.title, tempo: timeline.tempo });

    const told = toldBy(xml);
    expect(told.positions).toEqual(
      line.notes.map(({ placement: { finger, position } }) => (finger === '0' ? null : position)),
    );
    // A bracket runs over fills between its first note and its last.
    const ends = (notes: readonly number[]): readonly number[] => [...new Set([notes[0]!, notes.at(-1)!])];
    expect(told.devices.map(({ name, notes: own }) => [name, ...ends(own)])).toEqual(
      toldSpans(line.devices).map(({ device, notes: own }) => [deviceOf(device).name, ...ends(own)]),
    );
  });

  it('has thumbs, open strings and devices in it', () => {
    const lines = studies.map((one) => study(one).line);
    const fingers = new Set(lines.flatMap(({ notes }) => notes.map(({ placement }) => placement.finger)));
    expect([...fingers].sort()).toEqual(expect.arrayContaining(['0', '1', '2', '4', 'T']));
    expect(lines.flatMap(({ devices }) => toldSpans(devices)).length).toBeGreaterThan(20);
  });
});
