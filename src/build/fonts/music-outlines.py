#!/usr/bin/python3
"""Makes the table of outlines of the music font: pictures for programs that do not load fonts draw its glyphs as paths.

Input: static/fonts/ramble-notes.woff2, as made by music-font.py. Output: shared/notation/music-outlines.json, one SVG path
a glyph, in thousandths of the font size, y down.

Needs Debian's fonttools and python3-brotli: apt-get install fonttools python3-brotli
Run: /usr/bin/python3 src/build/fonts/music-outlines.py
"""

import json
from pathlib import Path

from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont

ROOT = Path(__file__).resolve().parents[3]


def main() -> None:
    font = TTFont(ROOT / 'static/fonts/ramble-notes.woff2')
    glyphs = font.getGlyphSet()
    scale = 1000 / font['head'].unitsPerEm
    outlines = {}
    for code, name in sorted(font.getBestCmap().items()):
        # The staff's own signs; those that stand among letters are text.
        if not 0xE000 <= code <= 0xF8FF:
            continue
        pen = SVGPathPen(glyphs, ntos=lambda number: str(round(number)))
        glyphs[name].draw(TransformPen(pen, (scale, 0, 0, -scale, 0, 0)))
        outlines[f'{code:04X}'] = pen.getCommands()
    table = {
        'about': 'Outlines of the music glyphs as SVG paths in thousandths of the font size, y down. '
        'Made by src/build/fonts/music-outlines.py.',
        'source': 'outlines of static/fonts/ramble-notes.woff2, a subset of Bravura 1.392 (SIL Open Font License 1.1)',
        'glyphs': outlines,
    }
    target = ROOT / 'shared/notation/music-outlines.json'
    target.write_text(json.dumps(table, ensure_ascii=False, indent=2) + '\n')


main()
