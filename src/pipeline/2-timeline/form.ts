// The whole form in playing order: introduction, choruses, ending.
import {
  isClosingName,
  isIntroName,
  problem,
  sectionsFor,
  type Chart,
  type ChartBar,
  type Problem,
} from '../1-chart';
import { codaOf, followJumps } from './jumps';
import { expandRepeats } from './repeats';

/** Most bars a timeline holds, all choruses together. */
export const mostPlayedBars = 1024;
const mostChoruses = 999;

export interface PlayedBar {
  /** Index of the bar as written. */
  readonly chartBar: number;
  /** From 0; the introduction belongs to the first, the ending to the last. */
  readonly chorus: number;
}

export interface PlayedForm {
  readonly bars: readonly PlayedBar[];
  /** Place in `bars` where the first chorus begins, after pickup and introduction. */
  readonly top: number;
  readonly problems: readonly Problem[];
}

/** What is played once at the start, what every chorus plays, the last chorus, and what is played once at the end. */
interface Plan {
  readonly lead: readonly number[];
  readonly chorus: readonly number[];
  readonly lastChorus: readonly number[];
  readonly tail: readonly number[];
}

/** Bars of the phrase that a tag plays again, and how often again; of a short form no more than half (common practice, no source). */
const tagged = { bars: 4, times: 2 } as const;

const start = { line: 1, column: 1, length: 1 };
const most = mostPlayedBars + 1;
const range = (from: number, to: number): readonly number[] =>
  Array.from({ length: Math.max(to - from, 0) }, (_, index) => from + index);

/** First bar after pickup and introduction; 0 when nothing would be left. */
function topOf(bars: readonly ChartBar[]): number {
  const afterPickup = bars[0]?.pickup ? 1 : 0;
  const opening = bars[0]?.section ?? bars[afterPickup]?.section ?? null;
  if (opening === null || !isIntroName(opening)) return afterPickup < bars.length ? afterPickup : 0;
  const next = bars.findIndex(
    ({ section }, index) => index > afterPickup && section !== null && !isIntroName(section),
  );
  return next < 0 ? 0 : next;
}

/** Where the bars begin that are played once at the very end; the number of bars when there are none. */
function tailOf(bars: readonly ChartBar[], top: number): number {
  const leadsToCoda = bars.some(({ jump }) => jump !== null && !jump.endsWith('al Fine'));
  const coda = codaOf(bars);
  if (leadsToCoda && coda >= 0 && bars.some(({ toCoda }) => toCoda)) return bars.length;
  let tail = coda > top ? coda : bars.length;
  const sections = bars.flatMap(({ section }, index) => (section === null ? [] : [{ section, index }]));
  for (const { section, index } of sections.reverse()) {
    if (!isClosingName(section) || index <= top) break;
    tail = Math.min(tail, index);
  }
  // Bars that lead back into the form are part of it, whatever their name.
  return bars.slice(tail).some(({ jump }) => jump !== null) ? bars.length : tail;
}

function planAsWritten(bars: readonly ChartBar[]): Plan {
  const top = topOf(bars);
  const end = tailOf(bars, top);
  const form = bars.slice(0, end);
  const played = followJumps(form, top, most);
  const begins = Math.max(
    played.findIndex((index) => index >= top),
    0,
  );
  const chorus = played.slice(begins);
  const tail = expandRepeats(bars.slice(end), 'all', most).map((index) => index + end);
  // Without a jump that asks for them, Fine and To Coda hold in the last of several choruses.
  const hasJump = form.some(({ jump }) => jump !== null);
  const leaves = ({ fine, toCoda }: ChartBar): boolean => fine || (toCoda && codaOf(bars) === end);
  const out = hasJump ? -1 : chorus.findLastIndex((index) => leaves(bars[index]!));
  return {
    lead: played.slice(0, begins),
    chorus,
    lastChorus: out < 0 ? chorus : chorus.slice(0, out + 1),
    tail,
  };
}

interface Section {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

function sectionsOf(bars: readonly ChartBar[]): readonly Section[] {
  const starts = bars.flatMap(({ section }, index) =>
    section === null ? [] : [{ name: section, from: index }],
  );
  return starts.map(({ name, from }, index) => ({ name, from, to: starts[index + 1]?.from ?? bars.length }));
}

/** The order of parts given in the heading; null when it names no section of the chart. */
function planByParts(bars: readonly ChartBar[], parts: readonly string[]): Plan | null {
  const sections = sectionsOf(bars);
  const names = sections.map(({ name }) => name);
  const uses = new Map<string, number>();
  const chosen = parts.flatMap((part) => {
    const same = sectionsFor(part, names);
    const use = uses.get(part) ?? 0;
    uses.set(part, use + 1);
    const place = same[Math.min(use, same.length - 1)];
    return place === undefined ? [] : [sections[place]!];
  });
  const first = chosen.findIndex(({ name }) => !isIntroName(name));
  if (first < 0) return null;
  const isLast = chosen.findLastIndex(({ name }) => !isClosingName(name));
  const end = isLast < first ? chosen.length : isLast + 1;
  const play = (some: readonly Section[]): readonly number[] =>
    some.flatMap(({ from, to }) =>
      expandRepeats(bars.slice(from, to), 'all', most).map((index) => index + from),
    );
  const chorus = play(chosen.slice(first, end));
  const before = range(0, sections[0]!.from);
  const lead = [...before, ...play(chosen.slice(0, first))];
  return { lead, chorus, lastChorus: chorus, tail: play(chosen.slice(end)) };
}

/** Signs that lead nowhere; each kind is told once. */
function problemsOf(bars: readonly ChartBar[], byParts: boolean): readonly Problem[] {
  const found = new Map<string, Problem>();
  const add = (code: string, bar: ChartBar): void => {
    if (!found.has(code)) found.set(code, problem(code, bar.span ?? start));
  };
  const hasJump = bars.some(({ jump }) => jump !== null);
  const hasFine = bars.some(({ fine }) => fine);
  const hasWayOut = codaOf(bars) >= 0 && bars.some(({ toCoda }) => toCoda);
  const hasSegno = bars.some(({ segno }) => segno);
  for (const bar of bars) {
    const { jump } = bar;
    if (jump === null) {
      if (!hasJump && (bar.fine || bar.toCoda)) add('way-out-alone', bar);
    } else if (byParts) add('jump-with-form', bar);
    else {
      if (jump.startsWith('D.S.') && !hasSegno) add('jump-no-segno', bar);
      if (jump.endsWith('al Fine') && !hasFine) add('jump-no-fine', bar);
      if (jump.endsWith('al Coda') && !hasWayOut) add('jump-no-coda', bar);
    }
  }
  return [...found.values()];
}

/** What is played after the last chorus: what the chart has for it, else the closing phrase again where a tag is wished for. */
function afterAll({ tail }: Plan, last: readonly number[], hasTag: boolean): readonly number[] {
  if (tail.length > 0 || !hasTag) return tail;
  const phrase = last.slice(-Math.max(1, Math.min(tagged.bars, Math.floor(last.length / 2))));
  return Array.from({ length: tagged.times }, () => phrase).flat();
}

/**
 * The order in which the bars of a chart are played: the introduction once, the form as often as there are choruses, tag
 * and coda once. Never more than {@link mostPlayedBars}, whatever the repeats ask for.
 *
 * @param hasTag the closing phrase three times in all, in charts that have no ending of their own
 */
export function unroll(chart: Chart, choruses: number, hasTag = false): PlayedForm {
  const { bars, header } = chart;
  if (bars.length === 0) return { bars: [], top: 0, problems: [] };
  const byParts = header.parts.length > 0 ? planByParts(bars, header.parts) : null;
  const plan = byParts ?? planAsWritten(bars);
  const problems = [...problemsOf(bars, byParts !== null)];
  const count = Math.min(Math.max(Math.trunc(choruses) || 1, 1), mostChoruses);
  const played: PlayedBar[] = [];
  const take = (order: readonly number[], chorus: number): void => {
    for (const chartBar of order) if (played.length < most) played.push({ chartBar, chorus });
  };
  take(plan.lead, 0);
  const last = count > 1 ? plan.lastChorus : plan.chorus;
  for (let chorus = 0; chorus < count && played.length < most; chorus += 1)
    take(chorus === count - 1 ? last : plan.chorus, chorus);
  take(afterAll(plan, last, hasTag), count - 1);
  const isCut = played.length > mostPlayedBars;
  if (isCut) problems.push(problem('form-cut', start, { most: mostPlayedBars }));
  return {
    bars: played.slice(0, mostPlayedBars),
    top: Math.min(plan.lead.length, mostPlayedBars - 1),
    problems,
  };
}
