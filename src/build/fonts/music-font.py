#!/usr/bin/python3
"""Makes the music font of the staff and the table of its sizes.

Input, both from the installed npm packages: the Bravura font that vexflow carries (SIL OFL 1.1, reserved name "Bravura")
and the Alegreya fonts (SIL OFL 1.1). Output:
  static/fonts/ramble-notes.woff2        the few glyphs we draw, under a name of their own as the licence asks
  static/fonts/ramble-notes-licence.txt  copyright line and licence
  shared/notation/music-font.json        sizes of those glyphs in staff spaces, widths of chord-symbol letters in em

Needs Debian's fonttools and python3-brotli: apt-get install fonttools python3-brotli
Run: /usr/bin/python3 src/build/fonts/music-font.py
"""

import base64
import io
import json
import re
from pathlib import Path

from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

ROOT = Path(__file__).resolve().parents[3]
MODULES = ROOT / 'node_modules'
FAMILY = 'Ramble Notes'

# SMuFL code points; names as in the standard.
STAFF_GLYPHS = {
    'fClef': 0xE062,
    'noteheadWhole': 0xE0A2,
    'noteheadHalf': 0xE0A3,
    'noteheadBlack': 0xE0A4,
    'noteheadXBlack': 0xE0A9,
    'augmentationDot': 0xE1E7,
    'flag8thUp': 0xE240,
    'flag8thDown': 0xE241,
    'flag16thUp': 0xE242,
    'flag16thDown': 0xE243,
    'accidentalFlat': 0xE260,
    'accidentalNatural': 0xE261,
    'accidentalSharp': 0xE262,
    'accidentalDoubleSharp': 0xE263,
    'accidentalDoubleFlat': 0xE264,
    'accidentalParensLeft': 0xE26A,
    'accidentalParensRight': 0xE26B,
    'restWhole': 0xE4E3,
    'restHalf': 0xE4E4,
    'restQuarter': 0xE4E5,
    'rest8th': 0xE4E6,
    'rest16th': 0xE4E7,
    'tuplet3': 0xE883,
    **{f'timeSig{digit}': 0xE080 + digit for digit in range(10)},
}
# Characters set among letters: the chord-symbol forms, sized to stand beside Alegreya's capitals and figures.
TEXT_GLYPHS = {'♭': 0xED60, '♮': 0xED61, '♯': 0xED62, '𝄪': 0xED63, '𝄫': 0xED64, '△': 0xE873}
TEXT_SCALE = 0.92
CHORD_LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789#()+-–/,.°ø½ '


def bravura() -> TTFont:
    source = (MODULES / 'vexflow/build/esm/src/fonts/bravura.js').read_text()
    packed = re.search(r'base64,([A-Za-z0-9+/=]+)', source)
    if packed is None:
        raise SystemExit('no font found in the vexflow package')
    return TTFont(io.BytesIO(base64.b64decode(packed.group(1))))


def bounds(font: TTFont, glyph: str):
    pen = BoundsPen(font.getGlyphSet())
    font.getGlyphSet()[glyph].draw(pen)
    return pen.bounds


def subset(font: TTFont) -> None:
    options = Options()
    options.layout_features = []
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.notdef_outline = True
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[*STAFF_GLYPHS.values(), *TEXT_GLYPHS.values()])
    subsetter.subset(font)


def set_among_letters(font: TTFont) -> None:
    """Gives the chord-symbol forms their Unicode characters, scaled."""
    names = font.getBestCmap()
    glyphs = font.getGlyphSet()
    for character, code in TEXT_GLYPHS.items():
        name = names[code]
        pen = TTGlyphPen(None)
        glyphs[name].draw(TransformPen(pen, (TEXT_SCALE, 0, 0, TEXT_SCALE, 0, 0)))
        width, _ = font['hmtx'][name]
        outline = pen.glyph()
        outline.recalcBounds(font['glyf'])
        font['glyf'][name] = outline
        font['hmtx'][name] = (round(width * TEXT_SCALE), outline.xMin)
        for table in font['cmap'].tables:
            if table.isUnicode():
                table.cmap.pop(code, None)
                if ord(character) <= 0xFFFF or table.format == 12:
                    table.cmap[ord(character)] = name


def rename(font: TTFont) -> None:
    postscript = FAMILY.replace(' ', '')
    new = {1: FAMILY, 3: f'{postscript}-subset', 4: FAMILY, 6: postscript}
    for record in font['name'].names:
        if record.nameID in new:
            record.string = new[record.nameID]


def ensure_format_12(font: TTFont) -> None:
    """Characters beyond U+FFFF need the wide character map."""
    from fontTools.ttLib.tables._c_m_a_p import CmapSubtable

    if any(table.format == 12 for table in font['cmap'].tables):
        return
    wide = CmapSubtable.newSubtable(12)
    wide.platformID, wide.platEncID, wide.language = 3, 10, 0
    wide.cmap = dict(font.getBestCmap())
    font['cmap'].tables.append(wide)


def letter_widths(path: str, letters: str) -> dict:
    """Advance of each character in em, with lining figures, as the style sheets ask for them."""
    font = TTFont(MODULES / path)
    lining = {}
    for record in font['GSUB'].table.FeatureList.FeatureRecord:
        if record.FeatureTag in ('lnum', 'tnum'):
            for index in record.Feature.LookupListIndex:
                for table in font['GSUB'].table.LookupList.Lookup[index].SubTable:
                    if record.FeatureTag == 'lnum':
                        lining.update(getattr(getattr(table, 'ExtSubTable', table), 'mapping', {}))
    names, unit = font.getBestCmap(), font['head'].unitsPerEm
    widths = {}
    for letter in letters:
        if ord(letter) in names:
            name = names[ord(letter)]
            widths[letter] = round(font['hmtx'][lining.get(name, name)][0] / unit, 3)
    return widths


def main() -> None:
    font = bravura()
    copyright_text = str(font['name'].getDebugName(13)).encode('mac_roman', 'replace').decode('utf-8', 'replace')
    subset(font)
    ensure_format_12(font)
    set_among_letters(font)
    rename(font)
    font.flavor = 'woff2'
    target = ROOT / 'static/fonts'
    target.mkdir(parents=True, exist_ok=True)
    font.save(target / 'ramble-notes.woff2')

    licence = (MODULES / '@fontsource/alegreya/LICENSE').read_text()
    body = licence[licence.index('-----------------------------------------------------------') :]
    (target / 'ramble-notes-licence.txt').write_text(
        f'{FAMILY} is a subset of a music font, renamed and with six characters scaled.\n\n'
        f'{copyright_text.split("This Font")[0].strip()}\n\n'
        'This Font Software is licensed under the SIL Open Font License, Version 1.1.\n'
        'This license is copied below, and is also available with a FAQ at:\n'
        'http://scripts.sil.org/OFL\n\n\n'
        f'{body}'
    )

    names, unit = font.getBestCmap(), font['head'].unitsPerEm / 4
    glyphs = []
    for name, code in STAFF_GLYPHS.items():
        left, bottom, right, top = bounds(font, names[code])
        width = font['hmtx'][names[code]][0]
        glyphs.append(
            {
                'name': name,
                'code': f'{code:04X}',
                'advance': round(width / unit, 3),
                'left': round(left / unit, 3) + 0.0,
                'right': round(right / unit, 3),
                'bottom': round(bottom / unit, 3),
                'top': round(top / unit, 3),
            }
        )
    music_letters = {
        character: round(font['hmtx'][names[ord(character)]][0] / font['head'].unitsPerEm, 3)
        for character in TEXT_GLYPHS
    }
    serif = letter_widths('@fontsource/alegreya/files/alegreya-latin-700-normal.woff2', CHORD_LETTERS)
    sans = letter_widths('@fontsource/alegreya-sans/files/alegreya-sans-latin-500-normal.woff2', CHORD_LETTERS)
    table = {
        'about': 'Sizes of the music glyphs in staff spaces (up positive), and advances of letters in em with lining '
        'figures. Made by src/build/fonts/music-font.py.',
        'source': 'measured from the outlines of Bravura 1.392, Alegreya 700 and Alegreya Sans 500 (npm packages)',
        'glyphs': glyphs,
        'serif': {**serif, **music_letters},
        'sans': {**sans, **music_letters},
    }
    out = ROOT / 'shared/notation/music-font.json'
    out.parent.mkdir(parents=True, exist_ok=True)
    out.write_text(json.dumps(table, ensure_ascii=False, indent=2) + '\n')


main()
