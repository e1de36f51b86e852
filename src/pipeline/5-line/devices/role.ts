// One word for a note, as files and programs that read them know it; made from its degree and its devices.
import { isChordNote } from './degree';
import type { NoteLabels } from './labels';
import type { DeviceId } from './rows';

export const roles = [
  'root',
  'bass of the chord',
  'third',
  'fifth',
  'sixth',
  'seventh',
  'chord tone',
  'scale step',
  'approach from below',
  'approach from above',
  'dominant approach',
  'scale approach',
  'passing note',
  'neighbour',
  'open string passing',
  'outside',
] as const;
export type Role = (typeof roles)[number];

const approaches: readonly (readonly [DeviceId, Role])[] = [
  ['semitone below', 'approach from below'],
  ['semitone above', 'approach from above'],
  ['from the fifth', 'dominant approach'],
  ['step below', 'scale approach'],
  ['step above', 'scale approach'],
];

const inner: readonly (readonly [DeviceId, Role])[] = [
  ['passing, scale', 'passing note'],
  ['passing, chromatic', 'passing note'],
  ['neighbour', 'neighbour'],
  ['open passing', 'open string passing'],
];

const byNumber: Readonly<Record<number, Role>> = {
  1: 'root',
  3: 'third',
  5: 'fifth',
  6: 'sixth',
  7: 'seventh',
};

export function roleOf({ degree, devices }: Pick<NoteLabels, 'degree' | 'devices'>): Role {
  const found = (table: readonly (readonly [DeviceId, Role])[]): Role | undefined =>
    table.find(([id]) => devices.some(({ device }) => device === id))?.[1];
  const approach = found(approaches);
  if (approach) return approach;
  if (degree.place === 'bass') return 'bass of the chord';
  if (isChordNote(degree)) return byNumber[degree.number ?? 0] ?? 'chord tone';
  return found(inner) ?? (degree.place === 'scale' ? 'scale step' : 'outside');
}
