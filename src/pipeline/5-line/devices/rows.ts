// The table of devices: what notes of a line do together. Everything that masks, names, drills or counts them reads it here.
import data from '../../../../shared/lessons/devices.json' with { type: 'json' };
import type { Articulation } from '../../2-timeline';

export const deviceIds = [
  'semitone below',
  'semitone above',
  'step below',
  'step above',
  'from the fifth',
  'displaced',
  'anticipated root',
  'double chromatic below',
  'double chromatic above',
  'triple chromatic below',
  'triple chromatic above',
  'enclosure above first',
  'enclosure below first',
  'long enclosure above first',
  'long enclosure below first',
  'scale run',
  'chord run',
  'neighbour',
  'passing, scale',
  'passing, chromatic',
  'octave',
  'pedal',
  'open passing',
  'carry',
  'skip',
  'drop',
  'triplet pull-off',
  'anticipation',
] as const;
export type DeviceId = (typeof deviceIds)[number];

export const deviceFamilies = ['approach', 'device', 'inner', 'hand', 'rhythm'] as const;
/** One note into a target, several notes into a target, within the line, of the hand, of the rhythm. */
export type DeviceFamily = (typeof deviceFamilies)[number];

/** Where the note that a device leads to stands. */
export const devicePlaces = ['anywhere', 'target', 'change'] as const;
/** What the notes of a device must be in their chords. */
export const noteConditions = ['any', 'inside', 'chord', 'either', 'scale', 'outside'] as const;
/** What the note that a device leads to must be in its chord. */
export const targetConditions = ['any', 'chord', 'root'] as const;

/** Sets of allowed steps in semitones, rising positive, the last one into the target. */
export type Shape = readonly (readonly number[])[];

/** What a device looks like in the notes. */
export interface DevicePattern {
  readonly at: (typeof devicePlaces)[number];
  /** Any of them is the device. */
  readonly shapes: readonly Shape[];
  /** The first step of a shape may come several times. */
  readonly longer: boolean;
  /** Notes of it but the first may open a bar or a chord. */
  readonly crosses: boolean;
  /** The first step comes from a note before it. */
  readonly leadIn: boolean;
  readonly notes: (typeof noteConditions)[number];
  readonly target: (typeof targetConditions)[number];
}

export const peopleBases = [
  'bar line',
  'before a root',
  'semitone chain',
  'run a bar',
  'chromatic run a bar',
  'beat',
] as const;
/** What a share is a share of; said in `bases` of the data. */
export type PeopleBase = (typeof peopleBases)[number];

/** The base in words, to stand behind a figure: "of the chains of semitones". */
export const baseWords = (base: PeopleBase): string => data.bases[base].words;

/** How often people play it. */
export interface PeopleShare {
  readonly share: number;
  readonly of: PeopleBase;
  readonly source: string;
}

export interface DeviceRow {
  readonly id: DeviceId;
  /** As it is called. */
  readonly name: string;
  readonly family: DeviceFamily;
  /** A sentence with places for names in braces. */
  readonly sentence: string;
  /** Null for what is told by the figure of the rhythm or by the hand. */
  readonly pattern: DevicePattern | null;
  readonly open: 'outside' | 'carries' | null;
  readonly articulation: Articulation | null;
  readonly people: readonly PeopleShare[];
  readonly source: string;
}

type RowData = (typeof data.devices)[number];

/** The word of a list that a text is; the data is tested, so a stranger is a fault of the program. */
function wordOf<T extends string>(words: readonly T[], text: string): T {
  const found = words.find((word) => word === text);
  if (found === undefined) throw new RangeError(`devices.json: "${text}" is none of ${words.join(', ')}`);
  return found;
}

const openStrings = ['outside', 'carries'] as const;
const articulations = ['ghost', 'drop', 'triplet', 'anticipation'] as const;

function patternOf(row: RowData): DevicePattern | null {
  if (row.shapes === undefined) return null;
  return {
    at: wordOf(devicePlaces, row.at),
    shapes: row.shapes,
    longer: row.longer ?? false,
    crosses: row.crosses ?? false,
    leadIn: row.leadIn ?? false,
    notes: wordOf(noteConditions, row.notes),
    target: wordOf(targetConditions, row.target),
  };
}

export const devices: readonly DeviceRow[] = data.devices.map((row) => ({
  id: wordOf(deviceIds, row.id),
  name: row.name,
  family: wordOf(deviceFamilies, row.family),
  sentence: row.sentence,
  pattern: patternOf(row),
  open: row.open === undefined ? null : wordOf(openStrings, row.open),
  articulation: row.articulation === undefined ? null : wordOf(articulations, row.articulation),
  people: row.people.map(({ share, of, source }) => ({ share, of: wordOf(peopleBases, of), source })),
  source: row.source,
}));

const byId = new Map(devices.map((row) => [row.id, row]));

/** @throws RangeError when the table has no such row */
export function deviceOf(id: DeviceId): DeviceRow {
  const row = byId.get(id);
  if (row === undefined) throw new RangeError(`devices.json has no ${id}`);
  return row;
}
