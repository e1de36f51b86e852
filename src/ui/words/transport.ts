// The words of the transport and its panels.
import type { BarNumber } from '../../music';

export const transport = {
  label: 'Playing',
  play: 'Play',
  stop: 'Stop',
  starting: 'Starting…',
  tempo: 'tempo',
  tempoTitle: 'Tempo and swing',
  bpm: 'Quarter notes a minute',
  tap: 'Tap',
  ownTempo: 'As written',
  swing: 'swing',
  swingOf: (ratio: number): string => `${ratio.toFixed(1)} : 1`,
  /** The drums first: in a walking line its eighths are what is heard. */
  swingsOf: (cymbal: number, bass: number): string =>
    cymbal.toFixed(1) === bass.toFixed(1)
      ? `${cymbal.toFixed(1)} : 1`
      : `drums ${cymbal.toFixed(1)}, bass ${bass.toFixed(1)} : 1`,
  testTone: 'Test tone',
  testHint:
    'Nothing heard? Turn the volume up, look at the silent switch of a phone and at the output that is chosen, and try the tone.',
  straight: 'straight',
  swingLabel: 'First eighth over the second',
  loop: 'loop',
  loopBars: (from: BarNumber, to: BarNumber): string => (from === to ? `bar ${from}` : `bars ${from}–${to}`),
  plays: 'plays',
  wholeForm: 'whole form',
  fromBar: 'From bar',
  toBar: 'to bar',
  countIn: 'Count-in',
  countInBars: (bars: number): string => (bars === 0 ? 'none' : bars === 1 ? 'one bar' : `${bars} bars`),
  eachPass: 'repeats:',
  parts: 'Parts',
  level: (part: string): string => `Level of ${part.toLowerCase()}`,
  chorus: 'chorus',
  chorusOf: (chorus: number, choruses: number): string => `${chorus} of ${choruses}`,
  choruses: 'Choruses',
  counting: (beats: number): string => `${beats}…`,
  substitutes: (parts: readonly string[]): string =>
    `Sounds for ${parts.join(' and ').toLowerCase()} did not arrive; stand-ins play.`,
  straightFeel: 'Even eighths, by the feel or the meter.',
  partsHint: 'Mute the bass to play it yourself.',
  chorusesHint: 'then from the top',
  breakReminder: 'Suggest a break after 25 minutes',
} as const;
