// The words of the Lessons drawer. What its parts are called and ask for is data of the lessons.
import { deviceOf, type ComparedShare, baseWords } from '../../pipeline';
import { chordOfCard, type Card, type CardAnswer } from '../../state/lessons';
import { noteText, symbolText } from '../words/notes';

/** "Double chromatic below, into the third of F7". */
export function cardText(card: Card): string {
  const { name } = deviceOf(card.device);
  return `${name[0]!.toUpperCase()}${name.slice(1)}, into the ${card.into} of ${symbolText(chordOfCard(card))}`;
}

/** "E♭ E → F". */
export function answerText(answer: CardAnswer): string {
  const names = answer.map(({ name }) => (name === undefined ? '' : noteText(name)));
  return `${names.slice(0, -1).join(' ')} → ${names.at(-1)}`;
}

const percent = (share: number): string => `${Math.round(share * 100)} %`;
/** Shares of bars are told as how many a bar. */
const isPerBar = ({ of }: ComparedShare): boolean => of.endsWith('a bar');
const figure = (share: ComparedShare, value: number): string =>
  isPerBar(share) ? value.toFixed(2) : percent(value);

/** "33 % here, 24 % in people’s lines, of the steps over a bar line". */
export const comparedText = (share: ComparedShare): string =>
  `${share.own === null ? '–' : figure(share, share.own)} here, ${figure(share, share.share)} in people’s lines, ${baseWords(share.of)}`;

export const words = {
  title: 'Lessons',
  about: 'Choices, not promises: take what helps, in any order.',
  today: "Today's practice",
  minutes: (count: number): string => (count === 1 ? '1 minute' : `${count} minutes`),
  start: 'Start the clock',
  stop: 'Stop the clock',
  left: (minutes: number, seconds: number): string => `${minutes}:${String(seconds).padStart(2, '0')} left`,
  over: 'The time is up.',
  next: 'Next part',
  layer: {
    open: (name: string): string => `Open ${name} and hear it twice`,
    again: (name: string): string => `Hear ${name} twice again`,
    another: 'Another layer today',
    takeBack: 'Back to the first in turn',
    heard: (time: number, of: number): string => `Time ${time} of ${of}`,
    onSheet:
      'It is on the sheet. Once you have played it clean it counts as practised; the next layer comes on another day.',
  },
  passes: 'Passes',
  clean: 'A clean pass',
  unclean: 'Not clean',
  share: (clean: number, all: number): string =>
    all === 0 ? 'No pass yet today.' : `${clean} of ${all} passes clean today.`,
  cards: 'Cards',
  cardsHint: 'Play it first and say if you had it. Only then the notes are shown.',
  leftToday: (count: number): string => (count === 1 ? '1 card left today' : `${count} cards left today`),
  had: 'Had it',
  notYet: 'Not yet',
  after: (isHad: boolean): string => (isHad ? 'You had it.' : 'Not yet: it comes back tomorrow.'),
  changeMind: (isHad: boolean): string => (isHad ? 'Not quite, after all' : 'Had it, after all'),
  nextCard: 'Next card',
  otherWay: (number: number, count: number): string => `Another way (${number} of ${count})`,
  noCards: 'No card is due. New ones come tomorrow.',
  known: (devices: number, seen: number): string =>
    `${seen === 1 ? '1 card' : `${seen} cards`} seen, ${devices === 1 ? '1 device' : `${devices} devices`} known.`,
  impossible: 'Your limits leave no fingering for these notes.',
  order: 'Order',
  orders: { blocks: 'one device after another', mixed: 'mixed' },
  settings: 'Minutes, and when cards come back',
  dayMinutes: 'Minutes a day',
  newADay: 'New cards a day',
  returns: 'Days until a card you had comes back',
  partMinutes: (name: string): string => `Minutes for ${name.toLowerCase()}`,
  maker: {
    title: 'A lesson on this chart',
    hint: 'A line that keeps the rules of one layer, with the hand on one ground: the part of the neck where it lives. It is shown on the sheet in place of your line, which stays as it is.',
    layer: 'Layer',
    option: ({ name, brings }: { readonly name: string; readonly brings: string }): string =>
      `${name}: ${brings}`,
    ground: 'Ground',
    from: 'Built on',
    nothing: 'nothing, a new line',
    make: 'Make the lesson',
    working: 'Working it out…',
    keysDone: (done: number): string => `${Math.floor(done * 48)} of 48 lines worked out`,
    onSheet: (name: string): string => `${name} is on the sheet.`,
    stop: 'Stop',
    troubles: {
      impossible: '',
      failed: 'It could not be worked out. Your work is safe.',
      nothing: 'Nothing in these changes can be played.',
      'other rhythm': 'In that key the rhythm would not come out the same.',
      'no sharing out': 'The twelve keys cannot be divided so that each ground has three of them.',
    },
  },
  round: {
    title: 'Round the keys',
    hint: 'The same study in twelve keys. Each of four grounds has three keys: those that are easiest there.',
    layer: 'Layer',
    order: 'Order',
    orders: { fourths: 'by fourths', mixed: 'mixed' },
    make: 'Make the round',
    list: 'Keys of the round, with their grounds',
    staves: 'All keys on small staves',
    print: 'Print the twelve keys',
    open: 'Open',
    openNamed: (key: string): string => `Open ${key} on the sheet`,
    staff: (key: string, first: number, last: number): string =>
      first === last ? `${key}, bar ${first}` : `${key}, bars ${first} to ${last}`,
    earlier: 'Made for the study as it was before the last change.',
    noRound: 'There is no round yet. Make one in the Lessons drawer.',
    carryTitle: 'This line in another key',
    carryHint: 'Every note moves by the same interval, and a new fingering is found.',
    to: 'Key',
    carry: 'Take it there',
    own: 'Your line',
    carried: (key: string): string => `Your line in ${key}`,
    underHand: (moved: number, folded: number, fingers: number, strings: number, notes: number): string =>
      `${moved === 0 ? 'Not moved' : `${Math.abs(moved)} semitones ${moved > 0 ? 'up' : 'down'}`}${
        folded === 0 ? '' : `, ${folded} notes an octave away from there`
      }. Another finger on ${fingers} of ${notes} notes, another string on ${strings}.`,
  },
  ways: {
    title: 'Ways in',
    hint: 'What could lead into the chosen note. The price is what the whole line loses by it, hand and melody together: it tells what is easy, not what is beautiful.',
    keys: 'Arrow keys go from one way to the next, Space plays it, Enter keeps the one that is open.',
    hear: 'Hear it',
    hush: 'Stop it',
    heard: (name: string): string =>
      `${name[0]!.toUpperCase()}${name.slice(1)} is heard and shown; your line comes back after it.`,
    print: 'Print the five best on one sheet',
    on: 'Into its',
    choose: 'Choose a note first',
    ask: (place: string): string => `Work out the ways into ${place[0]!.toLowerCase()}${place.slice(1)}`,
    into: (place: string): string => `Into ${place[0]!.toLowerCase()}${place.slice(1)}, cheapest first:`,
    working: 'Working out the ways…',
    stop: 'Stop',
    failed: 'The ways could not be worked out. Your work is safe.',
    keep: 'Keep this way',
    problems: {
      'no line': 'With your pins and limits there is no line here.',
      'no such beat': 'No note begins there in the best line.',
      'no target': 'That note opens neither a bar nor a chord: nothing leads into it.',
    },
    reasons: {
      'no room': 'no room before it',
      'outside its chords': 'outside the chords there',
      'no line': 'no line can have it',
    },
  },
  stars: {
    title: 'Devices in the kept takes',
    count: (count: number): string =>
      count === 1 ? 'Count the kept take' : `Count the ${count} kept takes together`,
    working: (done: number, all: number): string => `${done} of ${all} counted…`,
    stop: 'Stop counting',
    failed: 'They could not be counted. Your work is safe.',
    lost: (count: number): string =>
      count === 1
        ? 'One of them has no line over these changes any more.'
        : `${count} of them have no line over these changes any more.`,
  },
  counts: 'Devices in this line',
  noCounts: 'There is no line yet.',
  device: 'device',
  count: 'times',
  people: 'in people’s lines',
} as const;
