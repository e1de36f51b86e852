// What lies on the pages of a PDF, told from its own text: how many pages, and how much is drawn on each.
import { inflateSync } from 'node:zlib';

/** Operators that put ink on a page (ISO 32000-1, table 51): text, fills and strokes; forms count as what they hold. */
const marks = /(?<=\s|^)(?:Tj|TJ|'|"|f\*?|F|S|s|B\*?|b\*?|Do)(?=\s|$)/g;

interface Objects {
  readonly text: (id: number) => string;
  readonly stream: (id: number) => string;
}

/** Objects by number, those in object streams too. */
function objectsOf(pdf: Buffer): { objects: Objects; ids: readonly number[] } {
  const source = pdf.toString('latin1');
  const heads = new Map<number, string>();
  const streams = new Map<number, string>();
  for (const match of source.matchAll(/(?:^|[\r\n])(\d+) \d+ obj\b([\s\S]*?)endobj/g)) {
    const id = Number(match[1]);
    const [head = ''] = match[2]!.split(/\bstream\r?\n/, 1);
    heads.set(id, head);
    const start = match[2]!.indexOf('stream');
    if (start < 0) continue;
    const begin = match[2]!.indexOf('\n', start) + 1;
    const end = match[2]!.lastIndexOf('endstream');
    const bytes = Buffer.from(match[2]!.slice(begin, end), 'latin1');
    try {
      streams.set(
        id,
        head.includes('FlateDecode') ? inflateSync(bytes).toString('latin1') : bytes.toString('latin1'),
      );
    } catch {
      // Pictures and fonts are packed otherwise; nothing is asked of them.
    }
  }
  for (const [id, head] of [...heads]) {
    if (!/\/Type\s*\/ObjStm/.test(head)) continue;
    const inside = streams.get(id) ?? '';
    const first = Number(/\/First (\d+)/.exec(head)?.[1]);
    const numbers = inside.slice(0, first).trim().split(/\s+/).map(Number);
    for (let at = 0; at < numbers.length; at += 2)
      heads.set(
        numbers[at]!,
        inside.slice(first + numbers[at + 1]!, first + (numbers[at + 3] ?? inside.length)),
      );
  }
  return {
    ids: [...heads.keys()],
    objects: { text: (id) => heads.get(id) ?? '', stream: (id) => streams.get(id) ?? '' },
  };
}

/** References in an entry: `/Contents 5 0 R`, `/Contents [5 0 R 6 0 R]`, `<< /X1 5 0 R >>`. */
const references = (text: string): readonly number[] =>
  [...text.matchAll(/(\d+) \d+ R/g)].map(([, id]) => Number(id));

/** Marks in a stream, with those of the forms that the page may draw. */
function marksOn(objects: Objects, page: number): number {
  const head = objects.text(page);
  const [contents = ''] = /\/Contents\s*(?:\[[^\]]*\]|\d+ \d+ R)/.exec(head) ?? [];
  const own = references(contents).map((id) => objects.stream(id));
  const seen = new Set<number>();
  const forms: string[] = [];
  const visit = (text: string): void => {
    for (const id of references(text)) {
      if (seen.has(id) || /\/Type\s*\/Pages?\b/.test(objects.text(id))) continue;
      seen.add(id);
      if (/\/Subtype\s*\/Form/.test(objects.text(id))) forms.push(objects.stream(id));
      if (/\/Resources|\/XObject|\/Subtype\s*\/Form/.test(objects.text(id))) visit(objects.text(id));
    }
  };
  visit(head);
  return [...own, ...forms].reduce((sum, stream) => sum + (stream.match(marks)?.length ?? 0), 0);
}

/** Marks on each page, in the order of the file. @throws Error where there is no page in it */
export function inkOnPages(pdf: Buffer): readonly number[] {
  const { objects, ids } = objectsOf(pdf);
  const pages = ids.filter((id) => /\/Type\s*\/Page\b(?!s)/.test(objects.text(id)));
  if (pages.length === 0) throw new Error('no page');
  return pages.map((page) => marksOn(objects, page));
}
