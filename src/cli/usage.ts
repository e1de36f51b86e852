// What is printed when somebody asks how to call it.
import { playerUsage } from './player';
import { scaleUsage } from './scale';

export const usage = `Usage:
  ramble walk CHART [--key K] [--tempo N] [--seed N] [--choruses N] [--avoid half,II]
                    [--temperature T] [--comfort C] [--stay BEATS] [--region-share low=0.1]
                    [--pin BAR.BEAT=NOTE@STRING] [--explain] [--devices] [--feel F] [--density D] [--ending round|final]
                    [--format text|json|musicxml|midi] [--out FILE]
  ramble chart CHART [--key K] [--to text|json|musicxml|abc] [--out FILE]
  ramble finger LINE [--way open|usual] [--tempo N] [--avoid half] [--track N]
                    [--format text|json|musicxml|midi] [--out FILE]
  ramble ways CHART --into BAR.BEAT [--on root|third|fifth|seventh] [--key K] [--tempo N] [--avoid half]
                    [--format text|json] [--out FILE]
  ramble devices CHART|LINE [--changes CHART] [--key K] [--seed N] [--choruses N] [--density D]
                    [--format text|json] [--out FILE]
${scaleUsage}

${playerUsage}

CHART is a file of chart text, MusicXML (.musicxml, .mxl) or ABC, or - for standard input. LINE is a file of note names,
a MIDI file (--track chooses a part), MusicXML with a bass part, or ABC, -, or the notes themselves ("Bb1 C2 D2"). --format of chart is another word for --to. --pin and --region-share may be given several times: a pin is
a note (Bb1, or Bb in any octave), a string (@II), or both, or root, open or stopped; bars count in playing order. --explain adds to the JSON what
every other choice would cost and how much room is left. ways gives every approach and device into the note of a beat, cheapest first. devices tells what the notes of a take are in their chords and what they do
together, or those of a LINE of your own over --changes; --devices of walk writes that above the staff in MusicXML.`;
