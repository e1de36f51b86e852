// Layers of a lesson: what a line must have and what it may have, read from shared/lessons/layers.json.
import data from '../../../shared/lessons/layers.json' with { type: 'json' };
import { deviceIds, type DeviceId } from '../5-line';
import { layerIds, type LayerId } from './ids';
import { wordOf } from './words';

/** Parts of a chord that rules speak of: sus tones stand for the third, the sixth for the seventh, a slash bass for the root. */
export const chordParts = ['root', 'third', 'fifth', 'seventh'] as const;
export type ChordPart = (typeof chordParts)[number];

export const noteSets = ['root', 'root and fifth', 'chord', 'inside', 'all'] as const;
/** What notes may be that no other rule speaks of; inside is chord and scale. */
export type NoteSet = (typeof noteSets)[number];

/** The rules, as `rules` in the data says what they mean. */
export type LayerRule =
  | { readonly rule: 'opens'; readonly every: number; readonly on: readonly ChordPart[] }
  | { readonly rule: 'inner'; readonly on: readonly ChordPart[] }
  | { readonly rule: 'speaks'; readonly on: readonly ChordPart[]; readonly least: number }
  | { readonly rule: 'roots' | 'steps' }
  /** Devices of one list count as the same. */
  | { readonly rule: 'differ'; readonly alike: readonly (readonly DeviceId[])[] }
  | {
      readonly rule: 'into';
      readonly every: number;
      /** Choices in order; the first that there is room for holds, and any of its devices will do. */
      readonly by: readonly (readonly DeviceId[])[];
    }
  | { readonly rule: 'notes'; readonly are: NoteSet }
  | { readonly rule: 'skips'; readonly density: number };

export interface Layer {
  readonly id: LayerId;
  readonly name: string;
  /** What the line does, as a sentence. */
  readonly says: string;
  /** What the layer brings that those before it had not. */
  readonly brings: string;
  readonly rules: readonly LayerRule[];
}

interface RuleData {
  readonly rule: string;
  readonly every?: number;
  readonly on?: readonly string[];
  readonly least?: number;
  readonly by?: readonly (readonly string[])[];
  readonly alike?: readonly (readonly string[])[];
  readonly are?: string;
  readonly density?: number;
}

const devicesIn = (lists: readonly (readonly string[])[]): readonly (readonly DeviceId[])[] =>
  lists.map((list) => list.map((id) => wordOf(deviceIds, id)));

function ruleOf({ rule, every, on = [], least, by, alike = [], are, density }: RuleData): LayerRule {
  const parts = on.map((part) => wordOf(chordParts, part));
  if (rule === 'opens' && every !== undefined) return { rule, every, on: parts };
  if (rule === 'inner') return { rule, on: parts };
  if (rule === 'speaks' && least !== undefined) return { rule, on: parts, least };
  if (rule === 'roots' || rule === 'steps') return { rule };
  if (rule === 'differ') return { rule, alike: devicesIn(alike) };
  if (rule === 'into' && every !== undefined && by) return { rule, every, by: devicesIn(by) };
  if (rule === 'notes' && are !== undefined) return { rule, are: wordOf(noteSets, are) };
  if (rule === 'skips' && density !== undefined) return { rule, density };
  throw new RangeError(`layers.json: no rule ${rule} of this kind`);
}

/** In the order in which they are taught. */
export const layers: readonly Layer[] = data.layers.map(({ id, name, says, new: brings, rules }) => ({
  id: wordOf(layerIds, id),
  name,
  says,
  brings,
  rules: rules.map((row: RuleData) => ruleOf(row)),
}));

export const layerOf = (id: LayerId): Layer => layers[layerIds.indexOf(id)]!;

/** The rule of a kind that a layer has; undefined when it has none. */
export const ruleIn = <K extends LayerRule['rule']>(
  { rules }: Pick<Layer, 'rules'>,
  kind: K,
): Extract<LayerRule, { rule: K }> | undefined =>
  rules.find((one): one is Extract<LayerRule, { rule: K }> => one.rule === kind);
