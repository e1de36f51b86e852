// Options that set the plain settings of a line: one for each row of the table that the command line offers.
import { plainDefaults, plainNames, plainRows, type PlainName, type PlainSettings } from '../pipeline';
import { numberOption, oneOf, wholeOption } from './options';

interface Offer {
  readonly option: string;
  /** The name it had before, which goes on working. */
  readonly before?: string;
  /** Further than the screen goes: long scripts and studies of the extremes. */
  readonly most?: number;
  readonly does: string;
}

/** Null: not on the command line by itself. */
const offers: Readonly<Record<PlainName, Offer | null>> = {
  choruses: { option: 'choruses', most: 64, does: 'how often round' },
  bold: { option: 'bold', does: 'plain to bold' },
  leaps: { option: 'leaps', does: 'steps to leaps' },
  outside: { option: 'outside', does: 'inside to outside' },
  build: { option: 'build', does: 'how much choruses build' },
  density: {
    option: 'fills',
    before: 'density',
    does: 'skips, drops, triplets, anticipations beyond the feel’s own',
  },
  temperature: {
    option: 'variety',
    before: 'temperature',
    most: 3,
    does: 'from the one best line to as people play and beyond',
  },
  comfort: { option: 'comfort', most: 10, does: 'the hand against the music' },
  feel: { option: 'feel', does: 'in place of the chart’s own' },
  ending: { option: 'ending', does: 'how the last chorus ends' },
  spread: {
    option: 'spread',
    does: 'the least share of the stopped time in each region up to the neck block',
  },
  relaxedOnly: { option: 'relaxed', does: 'only what the hand holds without a stretch' },
  tempo: { option: 'tempo', does: 'quarter notes a minute, in place of the chart’s own' },
  // The player's, of every command that fingers.
  stringLength: null,
  span: null,
  // Said by --stay, with the beats.
  stayIn: null,
  lowStay: null,
  // For the screen and its files: a script limits a line by positions and strings.
  lowest: null,
  highest: null,
  highestStop: null,
};

const offered = plainNames.flatMap((name) => {
  const offer = offers[name];
  return offer ? [{ name, offer, row: plainRows[name] }] : [];
});

interface OptionType {
  readonly type: 'string' | 'boolean';
}

/** Options as the reader of arguments takes them. */
export const lineOptions: Readonly<Record<string, OptionType>> = Object.fromEntries(
  offered.flatMap(({ offer: { option, before }, row }) => {
    const type: OptionType = { type: row.kind === 'flag' ? 'boolean' : 'string' };
    return [option, ...(before === undefined ? [] : [before])].map((one) => [one, type]);
  }),
);

export type LineValues = Readonly<Record<string, unknown>>;

function valueOf({ name, offer, row }: (typeof offered)[number], values: LineValues): unknown {
  const { option, before, most } = offer;
  const isOld = values[option] === undefined && before !== undefined;
  const said = isOld ? before : option;
  const value = values[said];
  if (row.kind === 'flag') return value ?? row.usual;
  const text = typeof value === 'string' ? value : undefined;
  if (text === undefined) return plainDefaults[name];
  if (row.kind === 'choice') return oneOf(text, row.options, row.options[0]!, said);
  const read = row.isWhole === true ? wholeOption : numberOption;
  return read(text, row.usual ?? row.least, said, row.least, most ?? row.most);
}

/** The settings that the options ask for, the rest as usual. @throws UsageError */
export const lineSettings = (values: LineValues): PlainSettings => ({
  ...plainDefaults,
  ...Object.fromEntries(offered.map((one) => [one.name, valueOf(one, values)])),
});

function rangeOf({ offer, row }: (typeof offered)[number]): string {
  if (row.kind === 'flag') return '';
  if (row.kind === 'choice') return ` ${row.options.join('|')}`;
  return ` ${row.least}..${offer.most ?? row.most}`;
}

/** How the options are called, one each. */
export const lineUsages: readonly string[] = offered.map((one) => `[--${one.offer.option}${rangeOf(one)}]`);

/** What each of them does, a line each. */
export const lineHelp: string = offered
  .map((one) => {
    const { before, does } = one.offer;
    const name = `  --${one.offer.option}${rangeOf(one)}`;
    return `${name.padEnd(34)} ${does}${before === undefined ? '' : ` (--${before} before)`}`;
  })
  .join('\n');
