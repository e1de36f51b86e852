// The title line of a chart text.

const titleLine = /^[ \t]*title[ \t]*:[ \t]*(.*)$/im;

/** What the chart's own title line says; null when it has none or an empty one. */
export const titleOf = (chartText: string): string | null => titleLine.exec(chartText)?.[1]?.trim() || null;

/** The chart with another title: its title line is rewritten, or one is put before it. Line breaks become blanks. */
export function withTitle(chartText: string, title: string): string {
  const line = `Title: ${title.replace(/\s+/g, ' ').trim()}`;
  return titleLine.test(chartText) ? chartText.replace(titleLine, () => line) : `${line}\n${chartText}`;
}
