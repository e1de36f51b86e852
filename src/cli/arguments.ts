// What was asked for on the command line, checked.
import { parseArgs } from 'node:util';
import type { Bpm, Key } from '../music';
import type { HandPosition } from '../instrument';
import {
  fingeringAims,
  type FingeringAim,
  type PatternWish,
  type Pin,
  type PlainSettings,
  type ShapeWish,
  type ShareLimit,
  type StayLimit,
} from '../pipeline';
import {
  devicesCommand,
  lessonCommand,
  roundCommand,
  waysCommand,
  type DevicesCommand,
  type LessonCommand,
  type RoundCommand,
  type WaysCommand,
} from './lesson-arguments';
import { chartFormats, walkFormats, type ChartFormat, type WalkFormat } from './formats';
import type { NightWish } from '../night';
import { nightRange } from '../state/night';
import { lineOptions, lineSettings } from './line-options';
import {
  avoidOption,
  keyOption,
  largestSeed,
  numberOption,
  oneOf,
  onlyChart,
  orUsage,
  tempoOption,
  UsageError,
  wholeOption,
} from './options';
import { playerOptions, playerWish, type PlayerValues, type PlayerWish } from './player';
import { scaleOptions, scaleWish } from './scale';
import { pagePapers, type PagePaper } from '../page';
import { parseNightMinutes, parsePin, parseShape, parseShare, parseStay } from './wishes';

/** Its plain settings come from the table of settings. */
export interface WalkCommand extends PlainSettings {
  readonly command: 'walk';
  readonly chart: string;
  readonly key: Key | null;
  readonly seed: number;
  readonly avoid: readonly HandPosition[];
  readonly player: PlayerWish;
  readonly stay: StayLimit | null;
  readonly shares: readonly ShareLimit[];
  readonly pins: readonly Pin[];
  /** Adds prices and elbow room to the JSON. */
  readonly explain: boolean;
  readonly shapes: readonly ShapeWish[];
  readonly format: WalkFormat;
  readonly paper: PagePaper;
  /** Tells approaches and devices in MusicXML and on pages, too. */
  readonly withDevices: boolean;
  /** Null for standard output. */
  readonly out: string | null;
}

export interface ChartCommand {
  readonly command: 'chart';
  readonly chart: string;
  readonly key: Key | null;
  readonly format: ChartFormat;
  readonly out: string | null;
}

export interface FingerCommand {
  readonly command: 'finger';
  /** A file, `-`, or the notes themselves. */
  readonly line: string;
  readonly way: FingeringAim;
  /** Null for the file's own, or the usual one. */
  readonly tempo: Bpm | null;
  /** Part of a MIDI file, from 1; null for the one most like a bass line. */
  readonly track: number | null;
  readonly avoid: readonly HandPosition[];
  readonly player: PlayerWish;
  readonly format: WalkFormat;
  readonly paper: PagePaper;
  readonly out: string | null;
}

export interface ScaleCommand extends Omit<FingerCommand, 'command' | 'line'> {
  readonly command: 'scale';
  readonly pattern: PatternWish;
}

export const nightFormats = ['text', 'json'] as const;
export type NightFormat = (typeof nightFormats)[number];

export interface NightCommand {
  readonly command: 'night';
  /** A night file, or -. */
  readonly file: string;
  /** In the place of the file's own for the same thing. */
  readonly wishes: readonly NightWish[];
  /** Takes to draw of each tune. */
  readonly takes: number;
  readonly format: NightFormat;
  readonly out: string | null;
}

export const commandNames = [
  'walk',
  'chart',
  'finger',
  'scale',
  'night',
  'devices',
  'ways',
  'lesson',
  'round',
] as const;
export type CommandName = (typeof commandNames)[number];

export type Command =
  | WalkCommand
  | ChartCommand
  | FingerCommand
  | ScaleCommand
  | DevicesCommand
  | WaysCommand
  | LessonCommand
  | RoundCommand
  | NightCommand
  /** Null asks about all commands. */
  | { readonly command: 'help'; readonly about: CommandName | null }
  | { readonly command: 'version' };

const walkOptions = {
  key: { type: 'string' },
  seed: { type: 'string' },
  avoid: { type: 'string' },
  ...playerOptions,
  ...lineOptions,
  shape: { type: 'string', multiple: true },
  stay: { type: 'string' },
  'region-share': { type: 'string', multiple: true },
  pin: { type: 'string', multiple: true },
  explain: { type: 'boolean' },
  devices: { type: 'boolean' },
  format: { type: 'string' },
  paper: { type: 'string' },
  out: { type: 'string' },
} as const;

const paperOption = (text: string | undefined): PagePaper => oneOf(text, pagePapers, 'A4', 'paper');

function walkCommand(args: string[]): WalkCommand {
  const { values, positionals } = parseArgs({ args, options: walkOptions, allowPositionals: true });
  return {
    command: 'walk',
    ...lineSettings(values),
    chart: onlyChart(positionals),
    key: keyOption(values.key),
    seed: wholeOption(values.seed, 1, 'seed', 0, largestSeed),
    shapes: (values.shape ?? []).map((text) => orUsage(parseShape(text))),
    avoid: avoidOption(values.avoid),
    player: playerWish(values),
    stay: values.stay === undefined ? null : orUsage(parseStay(values.stay)),
    shares: (values['region-share'] ?? []).map((text) => orUsage(parseShare(text))),
    pins: (values.pin ?? []).map((text) => orUsage(parsePin(text, playerWish(values).instrument))),
    explain: values.explain ?? false,
    withDevices: values.devices ?? false,
    format: oneOf(values.format, walkFormats, 'text', 'format'),
    paper: paperOption(values.paper),
    out: values.out ?? null,
  };
}

function chartCommand(args: string[]): ChartCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      key: { type: 'string' },
      format: { type: 'string' },
      to: { type: 'string' },
      out: { type: 'string' },
    },
    allowPositionals: true,
  });
  return {
    command: 'chart',
    chart: onlyChart(positionals),
    key: keyOption(values.key),
    format: oneOf(
      values.to ?? values.format,
      chartFormats,
      'text',
      values.to === undefined ? 'format' : 'to',
    ),
    out: values.out ?? null,
  };
}

const mostParts = 4096;

function fingerCommand(args: string[]): FingerCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      way: { type: 'string' },
      tempo: { type: 'string' },
      avoid: { type: 'string' },
      track: { type: 'string' },
      ...playerOptions,
      format: { type: 'string' },
      paper: { type: 'string' },
      out: { type: 'string' },
    },
    allowPositionals: true,
  });
  const track = values.track === undefined ? null : wholeOption(values.track, 1, 'track', 1, mostParts);
  return { command: 'finger', line: onlyChart(positionals), ...fingeringOf(values), track };
}

interface FingeringValues extends PlayerValues {
  readonly way?: string | undefined;
  readonly tempo?: string | undefined;
  readonly avoid?: string | undefined;
  readonly format?: string | undefined;
  readonly paper?: string | undefined;
  readonly out?: string | undefined;
}

/** What the two commands that finger given notes have in common. */
function fingeringOf(values: FingeringValues): Omit<FingerCommand, 'command' | 'line'> {
  return {
    way: oneOf(values.way, fingeringAims, 'open', 'way'),
    tempo: tempoOption(values.tempo),
    track: null,
    avoid: avoidOption(values.avoid),
    player: playerWish(values),
    format: oneOf(values.format, walkFormats, 'text', 'format'),
    paper: paperOption(values.paper),
    out: values.out ?? null,
  };
}

function scaleCommand(args: string[]): ScaleCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      way: { type: 'string' },
      tempo: { type: 'string' },
      avoid: { type: 'string' },
      ...playerOptions,
      ...scaleOptions,
      format: { type: 'string' },
      paper: { type: 'string' },
      out: { type: 'string' },
    },
    allowPositionals: true,
  });
  if (positionals.length === 0)
    throw new UsageError('which scale? Give a note and a name, such as "Bb major"');
  const pattern = orUsage(scaleWish(positionals.join(' '), values));
  return { command: 'scale', pattern, ...fingeringOf(values) };
}

const mostTakes = 20;

function nightCommand(args: string[]): NightCommand {
  const { values, positionals } = parseArgs({
    args,
    options: {
      most: { type: 'string', multiple: true },
      least: { type: 'string', multiple: true },
      stay: { type: 'string' },
      takes: { type: 'string' },
      format: { type: 'string' },
      out: { type: 'string' },
    },
    allowPositionals: true,
  });
  const { least, most } = nightRange.stay;
  const minutes = (['most', 'least'] as const).flatMap((kind) =>
    (values[kind] ?? []).map((text) => orUsage(parseNightMinutes(kind, text))),
  );
  const stay = numberOption(values.stay, 0, 'stay', least, most);
  return {
    command: 'night',
    file: onlyChart(positionals),
    wishes: [...minutes, ...(stay === 0 ? [] : [{ kind: 'stay' as const, seconds: stay }])],
    takes: wholeOption(values.takes, 0, 'takes', 0, mostTakes),
    format: oneOf(values.format, nightFormats, 'text', 'format'),
    out: values.out ?? null,
  };
}

const readers: Readonly<Record<CommandName, (args: string[]) => Command>> = {
  walk: walkCommand,
  chart: chartCommand,
  finger: fingerCommand,
  scale: scaleCommand,
  devices: devicesCommand,
  ways: waysCommand,
  lesson: lessonCommand,
  round: roundCommand,
  night: nightCommand,
};

const nameOf = (text: string | undefined): CommandName | undefined =>
  commandNames.find((name) => name === text);

const isHelp = (text: string): boolean => text === '--help' || text === '-h';

/** A number below nought after an option is its value, not another option. */
const withNegatives = (args: readonly string[]): string[] =>
  args.reduce<string[]>((joined, arg) => {
    const before = joined.at(-1);
    const isValue = /^-\.?\d/.test(arg) && before !== undefined && /^--[\w-]+$/.test(before);
    return isValue ? [...joined.slice(0, -1), `${before}=${arg}`] : [...joined, arg];
  }, []);

function helpCommand(about: string | undefined): Command {
  const name = nameOf(about);
  if (about !== undefined && name === undefined) throw new UsageError(`there is no command "${about}"`);
  return { command: 'help', about: name ?? null };
}

/** @throws UsageError */
export function parseCommand(argv: readonly string[]): Command {
  const [first, ...rest] = argv;
  if (first === undefined)
    throw new UsageError(`which command? There are ${commandNames.join(', ')} and help`);
  if (first === '--version' || first === '-V' || first === 'version') return { command: 'version' };
  if (first === 'help') return helpCommand(rest[0]);
  if (isHelp(first)) return { command: 'help', about: null };
  const name = nameOf(first);
  if (name === undefined) throw new UsageError(`there is no command "${first}"`);
  const end = rest.indexOf('--');
  if (rest.slice(0, end < 0 ? undefined : end).some(isHelp)) return { command: 'help', about: name };
  try {
    return readers[name](withNegatives(rest));
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError(saidOf(error));
  }
}

/** What the reader of options says, without its advice on how to write what nobody means. */
function saidOf(error: unknown): string {
  const [first = ''] = (error instanceof Error ? error.message : String(error)).split(/\. |\n/);
  return first.replace(/\.$/, '').replaceAll("'", '"');
}
