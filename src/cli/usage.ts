// What is printed when somebody asks how to call it.
import { groundIds, layerIds, lineShapes } from '../pipeline';
import type { CommandName } from './arguments';
import { walkFormatUsage } from './formats';
import { lineHelp, lineUsages } from './line-options';
import { playerUsage } from './player';
import { scaleUsage } from './scale';

const width = 118;
const indent = ' '.repeat(20);

/** Usages one after the other, on as many lines as they take. */
const inLines = (first: string, usages: readonly string[]): string =>
  usages
    .reduce<string[]>(
      (lines, usage) => {
        const line = lines.at(-1)!;
        const joined = `${line} ${usage}`;
        return joined.length <= width ? [...lines.slice(0, -1), joined] : [...lines, `${indent}${usage}`];
      },
      [first],
    )
    .join('\n');

const walkUsage = inLines('  ramble walk CHART', [
  ...['[--key K]', '[--seed N]', '[--avoid half,II]', '[--stay [REGION=]BEATS]'],
  ...['[--region-share low=0.1]', '[--pin BAR.BEAT=NOTE@STRING]', ...lineUsages],
  ...['[--shape [SECTION=]SHAPE]', '[--explain]', '[--devices]'],
  ...[walkFormatUsage, '[--out FILE]'],
]);

const chartUsage = `  ramble chart CHART [--key K] [--to text|json|musicxml|abc] [--out FILE]`;

const fingerUsage = `  ramble finger LINE [--way open|usual] [--tempo N] [--avoid half] [--track N]
                    ${walkFormatUsage} [--out FILE]`;

const nightUsage = `  ramble night FILE [--most low=5] [--least "neck block=20"] [--stay SECONDS] [--takes N]
                    [--format text|json] [--out FILE]`;

const waysUsage = `  ramble ways CHART --into BAR.BEAT [--on root|third|fifth|seventh] [--best N] [--key K] [--tempo N] [--avoid half]
                    [--format text|json] [--out FILE]`;

const devicesUsage = `  ramble devices CHART|LINE [--changes CHART] [--takes 1-20] [--key K] [--seed N] [the line's own, as for walk]
                    [--format text|json] [--out FILE]`;

const lessonUsage = `  ramble lesson CHART --layer NAME|all [--ground NAME] [--from NAME] [--key K|all] [--avoid half] [--tempo N]
                    [--seed N] [--format text|json] [--out FILE]`;

const roundUsage = `  ramble round CHART [--layer NAME] [--order fourths|mixed] [--carry] [--avoid half] [--tempo N] [--seed N]
                    [--format text|json] [--out FILE]`;

const lessonWords = `--layer and --from are one of ${layerIds.join(', ')};
--ground one of ${groundIds.map((id) => id.replaceAll(' ', '-')).join(', ')}. With --from as few notes
as possible are changed of that layer's line; all layers are each made from the one before. A round takes the study
through twelve keys, each of the grounds first, middle, block and string three times; --carry moves one take through the
keys and fingers it anew.`;

const chartFiles = `CHART is a file of chart text, MusicXML (.musicxml, .mxl) or ABC, or - for standard input.`;
const lineFiles = `LINE is a file of note names, a MIDI file or MusicXML (--track chooses a part; else the bass is taken), or ABC, -, or the
notes themselves ("Bb1 C2 D2").`;
const wishes = `--pin and --region-share may be given several times: a pin is a note (Bb1, or Bb in any octave), a string (@D or @II), or
both, or root, open or stopped; bars count in playing order. --explain adds to the JSON what every other choice would
cost and how much room is left.`;
const lineWords = `What a line is to be, 0 where it is as people play:
${lineHelp}
  --shape ${lineShapes.join('|').padEnd(24)} through every section; B=fall: through sections called B`;
const pageWords = `--format svg is the staff as one picture with its letters in it; pdf is pages, printed by an installed Chromium or Chrome
(the one that CHROMIUM names, or the first on the path). --paper is their size, A4 where nothing is said.`;
const deviceWords = `devices tells what the notes of a take are in their chords and what they do together, or those of a LINE of your own
over --changes; --takes counts the devices of several takes beside people's figures. --devices of walk writes what the
notes are and do above the staff in MusicXML, under it on a page.`;
const nightFiles = `A night's FILE is what the Night page saves, or - for standard input. Its wishes count for the whole night, those given
here in the place of its own; --stay is the longest stay anywhere.`;
const toText = `--format of chart is another word for --to.`;

const exitCodes = `Problems go to standard error as FILE:LINE:COLUMN. Exit codes: 0 done, 1 nothing could be made, read or written, 2 wrong
usage.`;

/** How each command is called, and what there is to know about it. */
const commands: Readonly<Record<CommandName, { readonly does: string; readonly parts: readonly string[] }>> =
  {
    walk: {
      does: 'a walking line with its fingering, for a chart',
      parts: [`Usage:\n${walkUsage}`, chartFiles, lineWords, wishes, pageWords, playerUsage],
    },
    chart: {
      does: 'a chart as it is understood, in another key or another format',
      parts: [`Usage:\n${chartUsage}`, chartFiles, toText],
    },
    finger: {
      does: 'a fingering for a line that is given',
      parts: [`Usage:\n${fingerUsage}`, lineFiles, pageWords, playerUsage],
    },
    scale: {
      does: 'a scale, an arpeggio or a pattern with its fingering',
      parts: [`Usage:\n${scaleUsage}`, pageWords, playerUsage],
    },
    devices: {
      does: 'what the notes of a line are in their chords and what they do together',
      parts: [`Usage:\n${devicesUsage}`, chartFiles, lineFiles, lineWords, deviceWords],
    },
    ways: {
      does: 'every approach and device into the note of a beat, cheapest first',
      parts: [`Usage:\n${waysUsage}`, chartFiles, playerUsage],
    },
    lesson: {
      does: 'a line that holds the rules of a layer, its hand on a ground, one change at a time',
      parts: [`Usage:\n${lessonUsage}`, chartFiles, lessonWords, playerUsage],
    },
    round: {
      does: 'one study through twelve keys and the whole neck',
      parts: [`Usage:\n${roundUsage}`, chartFiles, lessonWords, playerUsage],
    },
    night: {
      does: 'a night of sets planned: its minutes, and what its wishes cost',
      parts: [`Usage:\n${nightUsage}`, nightFiles],
    },
  };

const overview = `Usage:
${[walkUsage, chartUsage, fingerUsage, scaleUsage, nightUsage, devicesUsage, waysUsage, lessonUsage, roundUsage].join('\n')}
  ramble help [COMMAND] | ramble --version

${lineWords}

${playerUsage}

${chartFiles}
${lineFiles} ${toText} ${wishes} ${deviceWords}
${pageWords}
${lessonWords}
${nightFiles}

${exitCodes}`;

/** @param about one command, or null for all */
export function helpOf(about: CommandName | null): string {
  if (about === null) return overview;
  const { does, parts } = commands[about];
  return [`ramble ${about}: ${does}`, ...parts, exitCodes].join('\n\n');
}

/** Where to read on after wrong usage. */
export function usageHint(name: string | undefined): string {
  const known = Object.keys(commands).includes(name ?? '');
  return `Try: ramble ${known ? `${name} --help` : '--help'}`;
}
