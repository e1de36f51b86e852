// `ramble night`: a night file planned; its minutes, and what its wishes cost.
import { isOpenString, positionName, regions } from '../instrument';
import { scientificName, printKey } from '../music';
import {
  lengthText,
  minutesText,
  nightCautions,
  nightSentences,
  planNight,
  type Measure,
  type NightPlan,
  type TunePlan,
  type WatchNight,
} from '../night';
import {
  clockText,
  nightRequest,
  nightTimes,
  restoreNightText,
  setWish,
  type Night,
  type NightFault,
} from '../state/night';
import type { NightCommand } from './arguments';
import type { Outcome } from './outcome';

const faults: Readonly<Record<NightFault, string>> = {
  'not a night': 'this is no night file. Save one from the Night page, or see README for its form',
  'newer version': 'this night was saved by a later version of Ramble',
  'too large': 'this file is too large for a night',
};

const placeText = ({ first }: TunePlan): string =>
  first === null
    ? '-'
    : `${scientificName(first.pitch)} ${first.string}.${first.placement.finger}${isOpenString(first.placement) ? '' : ` ${positionName(first.placement.position)}`}`;

const columns = ['tune', 'key', 'tempo', 'first note', 'minutes', ...regions, 'open', 'not walked'] as const;

const minuteCells = ({ length, byRegion, open, apart }: Measure): string[] =>
  [length, ...regions.map((region) => byRegion[region]), open, apart].map(minutesText);

const tuneCells = (tune: TunePlan): string[] => [
  tune.title || 'untitled',
  tune.key ? printKey(tune.key) : '-',
  tune.tempo === null ? '-' : String(Math.round(tune.tempo)),
  placeText(tune),
  ...minuteCells(tune.measure),
];

/** Rows in columns; words to the left, numbers to the right. */
function tabled(rows: readonly (readonly string[])[]): string[] {
  const widths = columns.map((_, at) => Math.max(...rows.map((row) => row[at]!.length)));
  return rows.map((row) =>
    row
      .map((cell, at) => (at < 4 ? cell.padEnd(widths[at]!) : cell.padStart(widths[at]!)))
      .join('  ')
      .trimEnd(),
  );
}

function nightText(night: Night, plan: NightPlan): string {
  const rows: string[][] = [[...columns]];
  plan.sets.forEach((tunes, set) => {
    rows.push(...tunes.map(tuneCells), [`set ${set + 1}`, '', '', '', ...minuteCells(plan.bySet[set]!)]);
  });
  const lines = tabled(rows);
  const times = nightTimes(night, plan).map(({ from, to }, set) =>
    night.start === null
      ? `Set ${set + 1}: ${lengthText(to - from)}`
      : `Set ${set + 1}: ${clockText(night.start + from)} to ${clockText(night.start + to)}`,
  );
  return [
    ...(night.title ? [night.title] : []),
    ...times,
    '',
    ...lines,
    '',
    ...nightSentences(plan),
    '',
    ...nightCautions,
  ].join('\n');
}

/** The plan for programs: everything but the ink of the strip. */
const nightJson = (night: Night, plan: NightPlan): string =>
  JSON.stringify(
    {
      title: night.title,
      start: night.start === null ? null : clockText(night.start),
      ...plan,
      sets: plan.sets.map((tunes) =>
        tunes.map(({ ink: _ink, key, first, ...tune }) => ({
          ...tune,
          key: key && printKey(key),
          first: first && {
            note: scientificName(first.pitch),
            midi: first.midi,
            string: first.string,
            finger: first.placement.finger,
            position: positionName(first.placement.position),
          },
        })),
      ),
      between: night.between,
      breaks: night.sets.slice(0, -1).map(({ breakAfter }) => breakAfter),
      sentences: nightSentences(plan),
      cautions: nightCautions,
    },
    null,
    2,
  );

/** @param name how the night is called in messages */
export function nightOutcome(
  input: Uint8Array,
  name: string,
  command: NightCommand,
  watch: WatchNight = () => undefined,
): Outcome {
  const restored = restoreNightText(new TextDecoder('utf-8').decode(input));
  if (!restored.ok) return { output: '', messages: [`${name}: ${faults[restored.reason]}.`], exitCode: 1 };
  const night = command.wishes.reduce(setWish, restored.night);
  const messages = restored.replaced.map(
    (part) => `${name}: ${part}: could not be read and was left out or at its usual value.`,
  );
  if (night.sets.every(({ tunes }) => tunes.length === 0))
    return { output: '', messages: [...messages, `${name}: there is no tune in this night.`], exitCode: 1 };
  const plan = planNight(nightRequest(night, command.takes), watch);
  watch(1);
  const output = command.format === 'json' ? nightJson(night, plan) : nightText(night, plan);
  return { output, messages, exitCode: 0 };
}
