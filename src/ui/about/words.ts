// What is said about where the computed sounds come from.
export const soundWords = {
  title: 'Figures of the computed bass, the band, its time and the room',
  licence:
    'The recordings that figures were measured on are dedicated to the public domain (CC0 1.0). No recording is in this program’s computed bass.',
  upright: 'Upright bass',
  electric: 'Electric bass',
  touches: 'Ways to touch a string',
  kit: 'Snare, bass drum, toms, crash and the brush that goes round: computed, no recordings',
  band: 'What the band plays',
  time: 'Swing, leans, click and how far hits stray',
  touch: 'How the line is touched',
  mix: 'Balance and what small speakers leave',
  space: 'Places and room',
  samples: 'Recorded cymbals, chords, click and the bass of recorded notes',
} as const;
