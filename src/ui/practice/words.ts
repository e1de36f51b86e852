// What the panels for practising say.
import type { BarNumber } from '../../music';
import type { Amount, BassSound, ClickPlace, PassWish } from '../../state';

const minutes = (seconds: number): string => {
  const whole = Math.floor(seconds / 60);
  if (whole < 60) return whole === 1 ? '1 minute' : `${whole} minutes`;
  return `${Math.floor(whole / 60)} h ${whole % 60} min`;
};

export const passWords: Readonly<Record<PassWish, string>> = {
  'same take': 'same line',
  'new take': 'new line',
  'next key': 'a fourth up',
};

export const bassWords: Readonly<Record<BassSound, string>> = {
  upright: 'Upright, by string and place',
  electric: 'Electric, by string and place',
  'sampled upright': 'Upright, recorded notes',
  'sampled electric': 'Electric, recorded notes',
};

/** What to know about a bass before it is chosen; the figures are those of `npm run bench -- sound`. */
export const bassHints: Readonly<Record<BassSound, string>> = {
  upright: 'Sounds where it is played: one pitch is darker and shorter the higher up the neck it is stopped.',
  electric: 'Sounds where it is played. None of its figures was measured.',
  'sampled upright':
    'One sound for every pitch, wherever it is played. Through a phone it lies 12 dB under the band and is nearly lost.',
  'sampled electric': 'One sound for every pitch, wherever it is played.',
};

export const clickWords: Readonly<Record<ClickPlace, string>> = {
  '2 and 4': 'on 2 and 4',
  'every beat': 'on every beat',
};

export const amountWords: Readonly<Record<Amount, string>> = {
  less: 'less',
  'as usual': 'as usual',
  more: 'more',
};

export const words = {
  title: 'Practise',
  bars: 'Bars',
  from: 'from',
  to: 'to',
  wholeForm: 'Whole form',
  countIn: 'Count-in',
  eachPass: 'Repeats',
  keyBack: 'Your own key comes back when you stop.',
  climb: 'Change tempo as it repeats',
  climbFrom: 'from',
  climbTo: 'to',
  climbBy: 'by',
  climbEvery: 'every',
  times: (count: number): string => (count === 1 ? 'time round' : 'times round'),
  yourTurn: 'Your turn: the bass rests every other time round',
  isYourTurn: 'Your turn',
  practised: (today: number, total: number): string =>
    total < 60
      ? 'Less than a minute of playing so far.'
      : `Played: ${minutes(today)} today, ${minutes(total)} in all.`,
  playedFor: (total: number): string => (total < 60 ? '' : `played ${minutes(total)}`),
  kept: 'Counted on this device only.',
  breakReminder: 'Suggest a break after 25 minutes',
  stand: 'Stand view',
  standHint: 'large, for a music stand across the room',
  solo: 'Alone',
  soloOf: (part: string): string => `${part} alone`,
  bass: 'Bass',
  click: 'Click',
  amount: 'Drums and chords play',
  amountHint: 'How much they put in beside the time. The hi-hat and the beat stay.',
  loose: 'Slight differences from beat to beat',
  leans: 'Hi-hat a shade ahead, chords behind, as bands play',
  wide: 'Parts from left to right',
  room: 'In a small room',
  delay: 'Headphone delay',
  delayHint: 'For wireless headphones: until the lit note and the sound agree.',
  milliseconds: 'ms',
  silent: 'Every part is off: nothing will be heard.',
  swing: 'Swing',
  swings: { tempo: 'as bands play it at this tempo', hand: 'set by hand', off: 'off, even eighths' },
  bar: (number: BarNumber): string => `Bar ${number}`,
  standNext: 'Next',
  open: 'open',
  string: (name: string): string => `string ${name}`,
  position: (name: string): string => `position ${name}`,
  stays: 'stay',
  standKeys: 'Pedal or keys: Page Down starts and goes on, Page Up stops and goes back.',
  leave: 'Leave stand view',
  projector: 'Projector view',
  projectorBars: (from: BarNumber, to: BarNumber, all: number): string =>
    from === to ? `Bar ${from} of ${all}` : `Bars ${from} to ${to} of ${all}`,
  projectorBefore: (layer: string): string => `${layer}, before it`,
  lineBefore: 'Line before',
  lineAfter: 'Next line',
  projectorKeys: 'Arrow keys: next line, line before. Space plays. Escape leaves.',
  leaveProjector: 'Leave projector view',
  soundFile: 'Sound file (WAV)',
  soundHint: 'one time through, at this tempo',
  what: 'What is heard',
  whats: { bass: 'bass alone', band: 'band alone', both: 'bass and band' },
  render: 'Make it',
  cancel: 'Cancel',
  progress: 'Sound file under way',
  failed: 'The sound file could not be made in this browser.',
} as const;
