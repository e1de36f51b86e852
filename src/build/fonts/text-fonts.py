#!/usr/bin/python3
"""Makes the text fonts of the first picture: the letters of western European languages with the features in use.

Input: the Latin files of the Alegreya and Alegreya Sans packages (SIL OFL 1.1, no reserved names). Small capitals, old-style
figures and what else the program never sets are left out. Output: static/fonts/<name>.woff2, about two thirds of the size.
The other letters of the packages stay as they are; a page fetches them only when a text needs them.

Needs Debian's fonttools and python3-brotli: apt-get install fonttools python3-brotli
Run: /usr/bin/python3 src/build/fonts/text-fonts.py
"""

from pathlib import Path

from fontTools.subset import Options, Subsetter, load_font, save_font

ROOT = Path(__file__).resolve().parents[3]
PACKAGES = ROOT / 'node_modules/@fontsource'

FONTS = [
    ('alegreya', '500-italic'),
    ('alegreya', '700-normal'),
    ('alegreya-sans', '400-normal'),
    ('alegreya-sans', '500-normal'),
    ('alegreya-sans', '700-normal'),
]
# As the unicode-range of these faces in src/ui/shared/fonts.css.
RANGES = [(0x0020, 0x007E), (0x00A0, 0x00FF), (0x0131, 0x0131), (0x0152, 0x0153), (0x02BB, 0x02BC), (0x02C6, 0x02C6),
          (0x02DA, 0x02DA), (0x02DC, 0x02DC), (0x2000, 0x206F), (0x20AC, 0x20AC), (0x2122, 0x2122), (0x2191, 0x2191),
          (0x2193, 0x2193), (0x2212, 0x2212), (0x2215, 0x2215)]
FEATURES = ['ccmp', 'kern', 'liga', 'lnum', 'locl', 'mark', 'pnum', 'tnum']

for package, style in FONTS:
    options = Options(layout_features=FEATURES, flavor='woff2', hinting=False, desubroutinize=True)
    font = load_font(PACKAGES / package / 'files' / f'{package}-latin-{style}.woff2', options)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in RANGES for code in range(first, last + 1)])
    subsetter.subset(font)
    save_font(font, ROOT / 'static/fonts' / f'{package}-{style}.woff2', options)
