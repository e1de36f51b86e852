// The signs of a chart text, each with what it means; every one is read by the chart reader (tests/ui/signs.test.ts).

export const signRows: readonly (readonly [sign: string, meaning: string])[] = [
  ['Title: Back Stairs', 'name of the study; also Key, Meter, Tempo, Feel, Form'],
  ['Feel: swing', 'or two-feel, waltz, ballad, bossa, straight'],
  ['| F7 | Bb7 |', 'bars; a bar holds one chord or more'],
  ['| Cm7 F7 |', 'two chords share the bar evenly'],
  ['| F7 / / D7 |', 'a slash is a beat of the chord before it'],
  ['| F7 D7@3.75 |', 'a chord on any part of a beat'],
  ['| % |', 'the bar before once more'],
  ['| N.C. |', 'no chord: the bass rests'],
  ['| C7{lydian dominant} |', 'a scale of your choice over the chord'],
  ['| C7/E |', 'a bass of its own after the slash'],
  ['|: F7 | Bb7 :|', 'repeat'],
  ['|1 C7 :|2 F7 |', 'first and second ending'],
  ['[A]', 'a section begins'],
  ['Form: A A B A', 'order in which the sections are played'],
  ['D.C. al Fine', 'also D.S., segno, To Coda, coda, Fine'],
];
