// What was asked for on the command line about devices and ways into a note, checked.
import { parseArgs } from 'node:util';
import { barNumber, type BarNumber, type Bpm, type Key } from '../music';
import type { HandPosition } from '../instrument';
import {
  chordParts,
  groundIds,
  layerIds,
  roundOrders,
  type ChordPart,
  type GroundId,
  type LayerId,
  type PlainSettings,
  type RoundOrder,
} from '../pipeline';
import { lineOptions, lineSettings } from './line-options';
import {
  avoidOption,
  keyOption,
  largestSeed,
  oneOf,
  onlyChart,
  tempoOption,
  UsageError,
  wholeOption,
} from './options';
import { playerOptions, playerWish, type PlayerValues, type PlayerWish } from './player';

export const devicesFormats = ['text', 'json'] as const;
export type DevicesFormat = (typeof devicesFormats)[number];

export interface DevicesCommand extends PlainSettings {
  readonly command: 'devices';
  /** A chart; with changes, a line as in FingerCommand. */
  readonly line: string;
  /** The chart under a line of one's own; null where `line` is a chart. */
  readonly changes: string | null;
  readonly key: Key | null;
  readonly seed: number;
  /** Takes that are counted together beside people's figures; null where one is labelled note by note. */
  readonly takes: readonly number[] | null;
  readonly format: DevicesFormat;
  readonly out: string | null;
}

export interface WaysCommand {
  readonly command: 'ways';
  readonly chart: string;
  readonly into: { readonly bar: BarNumber; readonly beat: number };
  readonly on: ChordPart;
  /** The best so many, as on a printed sheet; null for all there are and are not. */
  readonly best: number | null;
  readonly key: Key | null;
  readonly tempo: Bpm | null;
  readonly avoid: readonly HandPosition[];
  readonly player: PlayerWish;
  readonly format: DevicesFormat;
  readonly out: string | null;
}

/** What both commands about lessons say of the player. */
interface LessonPlayer {
  readonly chart: string;
  readonly tempo: Bpm | null;
  readonly avoid: readonly HandPosition[];
  readonly player: PlayerWish;
  readonly seed: number;
  readonly format: DevicesFormat;
  readonly out: string | null;
}

export interface LessonCommand extends LessonPlayer {
  readonly command: 'lesson';
  readonly layers: readonly LayerId[];
  readonly ground: GroundId;
  /** The layer whose line is changed; null for none, or where there are several layers each for the one before it. */
  readonly from: LayerId | null;
  /** Null for the chart's own. */
  readonly key: Key | 'all' | null;
}

export interface RoundCommand extends LessonPlayer {
  readonly command: 'round';
  readonly layer: LayerId;
  readonly order: RoundOrder;
  /** One take carried through the keys, in the place of the best line of each. */
  readonly carry: boolean;
}

/** Takes that are counted together at most. */
const mostTakes = 200;

/** Numbers and ranges of takes: "3,7,12", "1-20". @throws UsageError */
function takesOption(text: string): readonly number[] {
  const wrong = (): UsageError =>
    new UsageError(
      `--takes takes numbers of takes, at most ${mostTakes}, such as 3,7,12 or 1-20, not "${text}"`,
    );
  const takes = text.split(',').flatMap((part) => {
    const [, first, last] = /^\s*(\d{1,10})(?:-(\d{1,10}))?\s*$/.exec(part) ?? [];
    if (first === undefined) throw wrong();
    const count = Number(last ?? first) - Number(first) + 1;
    if (count < 1 || count > mostTakes || Number(last ?? first) > largestSeed) throw wrong();
    return Array.from({ length: count }, (_, index) => Number(first) + index);
  });
  const once = [...new Set(takes)];
  if (once.length > mostTakes) throw wrong();
  return once;
}

/** @throws UsageError */
export function devicesCommand(args: string[]): DevicesCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      changes: { type: 'string' },
      key: { type: 'string' },
      seed: { type: 'string' },
      takes: { type: 'string' },
      ...lineOptions,
      format: { type: 'string' },
      out: { type: 'string' },
    },
    allowPositionals: true,
  });
  if (values.takes !== undefined && values.changes !== undefined)
    throw new UsageError('--takes counts takes of a chart; a line over --changes is not one');
  return {
    command: 'devices',
    line: onlyChart(positionals),
    changes: values.changes ?? null,
    key: keyOption(values.key),
    seed: wholeOption(values.seed, 1, 'seed', 0, largestSeed),
    takes: values.takes === undefined ? null : takesOption(values.takes),
    ...lineSettings(values),
    format: oneOf(values.format, devicesFormats, 'text', 'format'),
    out: values.out ?? null,
  };
}

/** Bar and beat, counted from 1: "10.1", "4.2.5". */
const momentPattern = /^(\d{1,4})\.(\d{1,2}(?:\.\d{1,3})?)$/;

/** @throws UsageError */
export function waysCommand(args: string[]): WaysCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      into: { type: 'string' },
      on: { type: 'string' },
      best: { type: 'string' },
      key: { type: 'string' },
      tempo: { type: 'string' },
      avoid: { type: 'string' },
      ...playerOptions,
      format: { type: 'string' },
      out: { type: 'string' },
    },
    allowPositionals: true,
  });
  const moment = momentPattern.exec(values.into ?? '');
  if (!moment)
    throw new UsageError(`--into takes a bar and a beat, such as 10.1, not "${values.into ?? ''}"`);
  return {
    command: 'ways',
    chart: onlyChart(positionals),
    into: { bar: barNumber(Number(moment[1])), beat: Number(moment[2]) },
    on: oneOf(values.on, chordParts, 'root', 'on'),
    best: values.best === undefined ? null : wholeOption(values.best, 5, 'best', 1, 30),
    key: keyOption(values.key),
    tempo: tempoOption(values.tempo),
    avoid: avoidOption(values.avoid),
    player: playerWish(values),
    format: oneOf(values.format, devicesFormats, 'text', 'format'),
    out: values.out ?? null,
  };
}

const lessonPlayerOptions = {
  tempo: { type: 'string' },
  avoid: { type: 'string' },
  seed: { type: 'string' },
  ...playerOptions,
  format: { type: 'string' },
  out: { type: 'string' },
} as const;

interface LessonPlayerValues extends PlayerValues {
  readonly tempo?: string | undefined;
  readonly avoid?: string | undefined;
  readonly seed?: string | undefined;
  readonly format?: string | undefined;
  readonly out?: string | undefined;
}

function lessonPlayer(positionals: readonly string[], values: LessonPlayerValues): LessonPlayer {
  return {
    chart: onlyChart(positionals),
    tempo: tempoOption(values.tempo),
    avoid: avoidOption(values.avoid),
    player: playerWish(values),
    seed: wholeOption(values.seed, 1, 'seed', 0, largestSeed),
    format: oneOf(values.format, devicesFormats, 'text', 'format'),
    out: values.out ?? null,
  };
}

/** A word of two with a space may be written with a hyphen. */
const spaced = (text: string | undefined): string | undefined => text?.replaceAll('-', ' ');

/** @throws UsageError */
export function lessonCommand(args: string[]): LessonCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      layer: { type: 'string' },
      ground: { type: 'string' },
      from: { type: 'string' },
      key: { type: 'string' },
      ...lessonPlayerOptions,
    },
    allowPositionals: true,
  });
  if (values.layer === undefined)
    throw new UsageError(`which layer? --layer takes ${layerIds.join(', ')} or all`);
  const layer = oneOf(values.layer, [...layerIds, 'all' as const], 'own', 'layer');
  const from = values.from === undefined ? null : oneOf(values.from, layerIds, 'own', 'from');
  return {
    command: 'lesson',
    layers: layer === 'all' ? layerIds : [layer],
    ground: oneOf(spaced(values.ground), groundIds, 'anywhere', 'ground'),
    from,
    key: values.key === 'all' ? 'all' : keyOption(values.key),
    ...lessonPlayer(positionals, values),
  };
}

/** @throws UsageError */
export function roundCommand(args: string[]): RoundCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      layer: { type: 'string' },
      order: { type: 'string' },
      carry: { type: 'boolean' },
      ...lessonPlayerOptions,
    },
    allowPositionals: true,
  });
  return {
    command: 'round',
    layer: oneOf(values.layer, layerIds, 'own', 'layer'),
    order: oneOf(values.order, roundOrders, 'fourths', 'order'),
    carry: values.carry ?? false,
    ...lessonPlayer(positionals, values),
  };
}
