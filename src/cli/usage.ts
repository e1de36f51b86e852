// What is printed when somebody asks how to call it.
import { playerUsage } from './player';
import { scaleUsage } from './scale';

export const usage = `Usage:
  ramble walk CHART [--key K] [--tempo N] [--seed N] [--choruses N] [--avoid half,II]
                    [--temperature T] [--comfort C] [--stay BEATS] [--region-share low=0.1]
                    [--pin BAR.BEAT=NOTE@STRING] [--explain] [--feel F] [--density D] [--ending round|final]
                    [--format text|json|musicxml|midi] [--out FILE]
  ramble chart CHART [--key K] [--to text|json|musicxml|abc] [--out FILE]
  ramble finger LINE [--way open|usual] [--tempo N] [--avoid half] [--track N]
                    [--format text|json|musicxml|midi] [--out FILE]
${scaleUsage}
  ramble night FILE [--most low=5] [--least "neck block=20"] [--stay SECONDS] [--takes N]
                    [--format text|json] [--out FILE]

${playerUsage}

CHART is a file of chart text, MusicXML (.musicxml, .mxl) or ABC, or - for standard input. LINE is a file of note names,
a MIDI file (--track chooses a part), MusicXML with a bass part, or ABC, -, or the notes themselves ("Bb1 C2 D2"). --format of chart is another word for --to. --pin and --region-share may be given several times: a pin is
a note (Bb1, or Bb in any octave), a string (@II), or both, or root, open or stopped; bars count in playing order. --explain adds to the JSON what
every other choice would cost and how much room is left. A night's FILE is what the Night page saves; its wishes count for
the whole night, those given here in the place of its own; --stay is the longest stay anywhere.`;
