"""Makes the fonts of the PDF: DejaVu Sans Condensed, cut down to the characters of CHARACTERS, without hints.

    pip install fonttools==4.68.0
    python3 subset.py /usr/share/fonts/truetype/dejavu      # Debian: fonts-dejavu-extra 2.37

Writes regular.ttf and bold.ttf, LICENSE.txt as the font states it, and characters.txt: a line per character with its code
and, for each font, the number of its glyph and its width in thousandths of the size.
"""

import io
import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

CHARACTERS = [
    (0x20, 0x7E),  # ASCII
    (0xA0, 0x17F),  # Latin of western and central Europe
    (0x2BB, 0x2BC),  # letters of Hawaiian
    (0x391, 0x3C9),  # Greek
    (0x2010, 0x2015),  # dashes
    (0x2018, 0x201E),  # quotation marks
    (0x2020, 0x2022),  # daggers, bullet
    (0x2026, 0x2026),
    (0x2032, 0x2033),  # prime, double prime
    (0x2044, 0x2044),
    (0x2070, 0x2089),  # superscripts and subscripts
    (0x2150, 0x215E),  # fractions
    (0x2190, 0x2193),  # arrows
    (0x2212, 0x2212),
    (0x2215, 0x2215),
    (0x221A, 0x221A),
    (0x221E, 0x221E),
    (0x222B, 0x222B),
    (0x2248, 0x2248),
    (0x2260, 0x2260),
    (0x2264, 0x2265),
    (0x25A0, 0x25A1),
    (0x2610, 0x2612),  # check boxes
    (0x2713, 0x2718),
    (0xFFFD, 0xFFFD),  # in place of every other character
]
FONTS = [("DejaVuSansCondensed.ttf", "regular.ttf"), ("DejaVuSansCondensed-Bold.ttf", "bold.ttf")]
HERE = Path(__file__).parent


def subset(source, target):
    """Writes the cut font; returns its characters with glyph and width."""
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.notdef_outline = True
    options.recalc_timestamp = False
    options.drop_tables += ["FFTM", "GDEF", "GPOS", "GSUB", "MATH", "OS/2", "gasp", "kern", "post"]
    font = TTFont(source, recalcTimestamp=False)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in CHARACTERS for code in range(first, last + 1)])
    subsetter.subset(font)
    out = io.BytesIO()
    font.save(out, reorderTables=True)
    target.write_bytes(out.getvalue())
    font = TTFont(target)
    per_em = font["head"].unitsPerEm
    widths = {name: round(width * 1000 / per_em) for name, (width, _) in font["hmtx"].metrics.items()}
    return {code: (font.getGlyphID(name), widths[name]) for code, name in font.getBestCmap().items()}


def main():
    folder = Path(sys.argv[1])
    regular, bold = (subset(folder / source, HERE / target) for source, target in FONTS)
    license = TTFont(folder / FONTS[0][0])["name"].getDebugName(13)
    (HERE / "LICENSE.txt").write_text("".join(line.rstrip() + "\n" for line in license.splitlines()))
    both = sorted(regular.keys() & bold.keys())
    lines = (f"{code:04X} {regular[code][0]} {regular[code][1]} {bold[code][0]} {bold[code][1]}\n" for code in both)
    (HERE / "characters.txt").write_text("".join(lines))


main()
