// Files with signs of the form anywhere: brackets that close early or never, repeats without a beginning, jumps to nowhere.
import fc from 'fast-check';
import { attributes, barline, direction, dominant, harmony, rest, score } from './score';

const roots = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
const often = <T>(none: T, some: fc.Arbitrary<T>, weight: number): fc.Arbitrary<T> =>
  fc.oneof({ weight: 10 - weight, arbitrary: fc.constant(none) }, { weight, arbitrary: some });

const ending = (number: string, type: string): string => `<ending number="${number}" type="${type}"/>`;
const numbers = fc.constantFrom('1', '1', '2', '2', '3', '1, 2', '1,3');

const bar = fc.record({
  forward: often(false, fc.constant(true), 2),
  opens: often<string | null>(null, numbers, 3),
  closes: often<string | null>(null, fc.constantFrom('stop', 'discontinue'), 3),
  backward: often<string | null>(null, fc.constantFrom('', '', '', ' times="3"'), 3),
  double: often(false, fc.constant(true), 1),
  section: often<string | null>(
    null,
    fc.constantFrom('A', 'B', '1', 'Intro', 'Coda', 'Tag', 'Am7', '1st ending'),
    1,
  ),
  sign: often(
    '',
    fc
      .constantFrom('Fine', 'To Coda', 'D.C.', 'D.C. al Fine', 'D.S. al Coda', 'D.S.')
      .map((words) => direction(words)),
    1,
  ),
  mark: often(
    '',
    fc
      .constantFrom('<segno/>', '<coda/>')
      .map((type) => `<direction><direction-type>${type}</direction-type></direction>`),
    1,
  ),
});

/** MusicXML of one chord a bar. */
export const anyScoreForm: fc.Arbitrary<string> = fc
  .array(bar, { minLength: 2, maxLength: 12 })
  .map((bars) => {
    let open = '1';
    const measures = bars.map((one, index) => {
      if (one.opens !== null) open = one.opens;
      const left = `${one.opens === null ? '' : ending(one.opens, 'start')}${one.forward ? '<repeat direction="forward"/>' : ''}`;
      const right = [
        one.double ? '<bar-style>light-light</bar-style>' : '',
        one.closes === null ? '' : ending(open, one.closes),
        one.backward === null ? '' : `<repeat direction="backward"${one.backward}/>`,
      ].join('');
      return [
        index === 0 ? attributes() : '',
        left === '' ? '' : barline('left', left),
        one.section === null
          ? ''
          : `<direction><direction-type><rehearsal>${one.section}</rehearsal></direction-type></direction>`,
        one.mark,
        harmony(roots[index % 7]!, dominant),
        rest(8),
        one.sign,
        right === '' ? '' : barline('right', right),
      ].join('');
    });
    return score([{ measures }]);
  });

const abcLine = fc.constantFrom(
  '|', '|', '|', '|', '|', '||', '|:', ':|', ':|', '::', '|1', ':|2', '| [1', ':| [2', '|1,3', '[2', ':|3', '|]', '|\nP:B\n', '|\n',
); // prettier-ignore
const abcSign = fc.constantFrom('', '', '', '', '', '', '!segno!', '!coda!', '!fine!', '!dacoda!', '!D.C.!', '!D.S.!', '"^D.C. al Fine"', '"^D.S. al Coda"'); // prettier-ignore

/** ABC of one chord a bar. */
export const anyAbcForm: fc.Arbitrary<string> = fc
  .array(fc.tuple(abcSign, abcLine), { minLength: 2, maxLength: 12 })
  .map((bars) => {
    const music = bars.map(([sign, line], index) => `${sign}"${roots[index % 7]!}7"z8 ${line}`).join(' ');
    return `X:1\nT:Any\nM:4/4\nL:1/8\nK:C\n${music}\n`;
  });
