// <harmony> elements to chords.
import { chordFromMusicXml, degreeTypes, type XmlDegree } from '../../../music';
import type { ImportProblems } from './problems';
import type { SketchChord } from './sketch';
import { childNamed, childrenNamed, numberOf, spanOf, textOf, type XmlNode } from './xml';

/** "Bb" from step and alter; an alter of other than whole semitones up to two makes it unreadable. */
function noteText(node: XmlNode | undefined, prefix: 'root' | 'bass'): string | null {
  const step = node && textOf(node, `${prefix}-step`);
  if (!node || step === undefined) return null;
  const alter = numberOf(node, `${prefix}-alter`) ?? 0;
  if (!Number.isInteger(alter) || Math.abs(alter) > 2) return `${step}?`;
  return `${step.toUpperCase()}${(alter < 0 ? 'b' : '#').repeat(Math.abs(alter))}`;
}

function readDegrees(nodes: readonly XmlNode[]): XmlDegree[] {
  return nodes.flatMap((node) => {
    const value = numberOf(node, 'degree-value');
    const type = degreeTypes.find((one) => one === textOf(node, 'degree-type'));
    if (value === undefined || type === undefined) return [];
    return [{ value, alter: numberOf(node, 'degree-alter') ?? 0, type }];
  });
}

/** Several chords over one another stand in one element; the first is what is before the second root. */
function firstChord(node: XmlNode): readonly XmlNode[] {
  const starts = node.children.flatMap(({ name }, index) =>
    /^(root|numeral|function)$/.test(name) ? [index] : [],
  );
  return starts.length > 1 ? node.children.slice(starts[0], starts[1]) : node.children;
}

/** The chord of a <harmony>; null when it cannot be read, which is told. */
export function readHarmony(
  node: XmlNode,
  tick: number,
  bar: string,
  problems: ImportProblems,
): SketchChord | null {
  const own: XmlNode = { ...node, children: firstChord(node) };
  if (own.children.length < node.children.length && childrenNamed(node, 'kind').length > 1) {
    problems.add('harmony-stacked', node, { bar });
  }
  const kind = childNamed(own, 'kind');
  const place = {
    tick,
    isAlternate: node.attributes['type'] === 'alternate',
    optional: childNamed(node, 'level')?.attributes['parentheses'] === 'yes',
    span: spanOf(node),
  };
  if (kind?.text === 'none') return { ...place, chord: null };
  const root = noteText(childNamed(own, 'root'), 'root');
  if (root === null) {
    problems.add('harmony-numeral', node, { bar });
    return null;
  }
  const reading = chordFromMusicXml({
    root,
    kind: kind?.text ?? '',
    kindText: kind?.attributes['text'] ?? null,
    degrees: readDegrees(childrenNamed(own, 'degree')),
    bass: noteText(childNamed(own, 'bass'), 'bass'),
  });
  if (reading.kind === 'chord') {
    for (const remark of reading.remarks) problems.addRemark(remark, node);
    return { ...place, chord: reading.chord };
  }
  if (reading.kind === 'no chord') return { ...place, chord: null };
  const symbol = `${root}${kind?.attributes['text'] ?? ` ${kind?.text ?? ''}`}`;
  problems.add('chord-unread', node, { bar, symbol });
  return null;
}
