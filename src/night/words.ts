// What is said of a planned night, on the page as on the command line. Minutes, shifts and metres; never what they would do to
// a hand: no trial says that.
import { armZones, regions, type Region } from '../instrument';
import type { Measure, NightPlan, NightWish, TunePlan, WishPlan } from './types';

export const regionNames: Readonly<Record<Region, string>> = {
  low: 'low',
  middle: 'middle',
  'neck block': 'neck block',
  octave: 'octave',
};

/** How a region stands in a sentence. */
const where: Readonly<Record<Region, string>> = {
  low: 'low',
  middle: 'in the middle',
  'neck block': 'at the neck block',
  octave: 'at the octave',
};

const ordinals = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth'] as const;
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "63", "4.2", "0.05": whole from ten on, as fine as it must be below. */
export function minutesText(minutes: number): string {
  if (minutes >= 10) return String(Math.round(minutes));
  if (minutes >= 0.095 || minutes === 0) return String(Number(minutes.toFixed(1)));
  return minutes >= 0.005 ? minutes.toFixed(2) : '0';
}

const minutesOf = (minutes: number): string =>
  `${minutesText(minutes)} ${minutesText(minutes) === '1' ? 'minute' : 'minutes'}`;
const secondsOf = (seconds: number): string => {
  const text = seconds >= 10 ? String(Math.round(seconds)) : String(Number(seconds.toFixed(1)));
  return `${text} ${text === '1' ? 'second' : 'seconds'}`;
};

/** "2 h 40", "45 minutes". */
export function lengthText(minutes: number): string {
  const all = Math.round(minutes);
  return all < 60 ? minutesOf(all) : `${Math.floor(all / 60)} h ${String(all % 60).padStart(2, '0')}`;
}

/** What a wish asks for. */
export function wishText(wish: NightWish): string {
  if (wish.kind === 'stay') return `No stay anywhere longer than ${secondsOf(wish.seconds)}`;
  return `At ${wish.kind} ${minutesOf(wish.minutes)} ${where[wish.region]}`;
}

/** Notes a chorus that differ from the night without wishes, over the tunes that have a line. */
function costText(tunes: readonly TunePlan[]): string {
  const lines = tunes.filter(({ first }) => first !== null);
  const mean = (valueOf: (tune: TunePlan) => number): number =>
    Math.round(lines.reduce((sum, tune) => sum + valueOf(tune), 0) / Math.max(1, lines.length));
  const notes = mean(({ differing }) => differing.notes);
  const places = mean(({ differing }) => differing.places);
  const more = places > 0 ? `, ${places} more are held elsewhere` : '';
  return `${notes} notes a chorus differ${more}`;
}

/** Natural units of cost a note, to a thousandth. */
const unitsText = (cost: number, notes: number): string => (cost / 1000 / Math.max(1, notes)).toFixed(3);

function wishSentence({ wish, holds, reached, before, nearest, price }: WishPlan, plan: NightPlan): string {
  const asked = wishText(wish);
  if (wish.kind === 'stay') {
    const now = `the longest is ${secondsOf(reached)}`;
    return holds ? `${asked}: ${now}, ${secondsOf(before)} without the wish.` : `${asked}: not kept, ${now}.`;
  }
  if (holds && price === 0) return `${asked}: ${minutesText(reached)} as it is.`;
  if (holds) {
    const gap = unitsText(plan.gap, plan.whole.notes);
    return `${asked}: ${minutesText(reached)}, ${minutesText(before)} without the wish. ${costText(plan.sets.flat())}. No night that keeps the wishes costs less by more than ${gap} a note.`;
  }
  if (nearest === null) return `${asked}: not kept together with the other wishes, ${minutesText(reached)}.`;
  const extreme = wish.kind === 'most' ? 'least' : 'most';
  const beside = plan.wishes.length > 1 ? ' beside the other wishes' : '';
  return `${asked} cannot be kept${beside}: ${minutesText(nearest)} is the ${extreme} that was found. The plan leaves the wish out.`;
}

/** What came of each wish, in their order. */
export const wishSentences = (plan: NightPlan): readonly string[] =>
  plan.wishes.map((wish) => wishSentence(wish, plan));

/** The set with most of a region, when there is more than one set and it has more than its even share. */
function mostIn(plan: NightPlan, region: Region): string {
  const minutes = plan.bySet.map(({ byRegion }) => byRegion[region]);
  const most = Math.max(...minutes);
  const isTold = minutes.length > 1 && most > (1.2 * plan.whole.byRegion[region]) / minutes.length;
  const at = minutes.indexOf(most);
  return isTold ? `, ${minutesText(most)} of them in the ${ordinals[at] ?? String(at + 1)} set` : '';
}

function staySentence(plan: NightPlan): string[] {
  const { longestStay } = plan.whole;
  if (!longestStay) return [];
  const tune = plan.sets.flat().find(({ measure }) => measure.longestStay === longestStay);
  const place = tune?.title ? `, in “${tune.title}”` : '';
  return [`The longest stay is ${secondsOf(longestStay.seconds)} ${where[longestStay.region]}${place}.`];
}

const perHour = (count: number, { length }: Measure): number =>
  Math.round((count * 60) / Math.max(length, 1e-9));

function movingSentence({ whole }: NightPlan): string {
  return `${perHour(whole.bareShifts, whole)} bare shifts an hour, ${Math.round(whole.crossings)} string crossings, ${Math.round(whole.travel)} metres along the strings.`;
}

/** How the arm reaches what is stopped, where it is told by more than a little. */
function armSentence({ whole }: NightPlan): string[] {
  const zones = armZones.filter((zone) => whole.byArm[zone] >= 0.05);
  const parts = zones.map((zone) => `${zone} ${minutesText(whole.byArm[zone])}`);
  return parts.length === 0 ? [] : [`By the arm: ${parts.join(', ')} minutes.`];
}

/** The takes of the whole night against its best lines, for the region it is most in. */
function spreadSentence(plan: NightPlan): string[] {
  const spreads = plan.sets.flat().flatMap(({ spread }) => spread ?? []);
  if (spreads.length === 0) return [];
  const sum = (of: 'mean' | 'least' | 'most', region: Region): number =>
    spreads.reduce((total, spread) => total + spread[of][region], 0);
  const parts = regions
    .filter((region) => sum('most', region) >= 0.5)
    .map(
      (region) =>
        `${regionNames[region]} ${minutesText(sum('mean', region))} (${minutesText(sum('least', region))} to ${minutesText(sum('most', region))})`,
    );
  return [`As takes are drawn: ${parts.join(', ')} minutes.`];
}

/** The longest set that goes on beyond what is commonly advised. */
function breakSentence(plan: NightPlan): string[] {
  const longest = Math.max(0, ...plan.bySet.map(({ length }) => length));
  return longest <= 25
    ? []
    : [
        `The longest set goes on for ${lengthText(longest)}. Commonly advised: 5 minutes' rest after 25, or 10 in an hour (expert advice; no trial was found).`,
      ];
}

/** Tunes without a line, with why. */
function missingSentences(plan: NightPlan): string[] {
  return plan.sets.flat().flatMap(({ title, first, measure, impossible, problems }) => {
    if (first !== null || (measure.length > 0 && !impossible)) return [];
    const why = impossible?.message ?? problems[0]?.message ?? 'Nothing in its chart can be played.';
    return [`“${title}” has no line: ${why}`];
  });
}

/** The night in sentences, what matters most first. */
export function nightSentences(plan: NightPlan): readonly string[] {
  const { whole } = plan;
  if (whole.length === 0) return missingSentences(plan);
  const stopped = regions
    .filter((region) => minutesText(whole.byRegion[region]) !== '0')
    .map(
      (region) =>
        `${capital(regionNames[region])} ${minutesOf(whole.byRegion[region])}${mostIn(plan, region)}.`,
    );
  const apart = whole.apart > 0.05 ? `, ${minutesOf(whole.apart)} not walked` : '';
  return [
    ...missingSentences(plan),
    ...wishSentences(plan),
    `${lengthText(whole.length)} of playing: ${minutesOf(whole.open)} on open strings${apart}.`,
    ...stopped,
    ...armSentence(plan),
    ...staySentence(plan),
    movingSentence(plan),
    ...spreadSentence(plan),
    ...breakSentence(plan),
  ];
}

/** Said beside every plan. The only place where trouble of the hand is spoken of. */
export const nightCautions: readonly string[] = [
  'An estimate of geometry and time, not of injury risk.',
  'Stop when something hurts. Pain, numbness, tingling or weakness that lasts or returns is for a clinician; posture and fingering are for a teacher.',
];
