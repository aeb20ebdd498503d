#!/usr/bin/python3
"""Cuts the app's two fonts out of the system's Andika: subset-fonts.py SOURCE_FOLDER TARGET_FOLDER

Andika (SIL Open Font License 1.1) is drawn for beginning readers: a one-storey a, an I, l and 1
that differ. The licence reserves its name, and a subset is a modified version, so the cut fonts
carry a name of their own; copyright and licence stay in their name tables.
"""
import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

LATIN = [(0x20, 0x7E), (0xA0, 0x24F), (0x1E00, 0x1EFF)]
# Letters of African and American languages that stand in the phonetic blocks, and apostrophes
# that are letters.
LATIN_MORE = [0x253, 0x254, 0x256, 0x257, 0x259, 0x25B, 0x260, 0x263, 0x268, 0x269, 0x272, 0x275,
              0x283, 0x289, 0x28A, 0x28B, 0x28C, 0x292, 0x294, 0x2BB, 0x2BC, 0x2BE, 0x2BF, 0xA78B,
              0xA78C]
SIGNS = [(0x2C6, 0x2DD), (0x370, 0x3FF), (0x2000, 0x206F), (0x2070, 0x209C), (0x20A0, 0x20BF),
         (0x2150, 0x215F), (0x2190, 0x219B), (0x21D0, 0x21D5), (0x2202, 0x2287), (0x2308, 0x230B),
         0x2113, 0x2116, 0x2122, 0x2126, 0x21A8, 0x25CA, 0x25CC, 0x2713, 0xFFFD]
MARKS = [(0x300, 0x36F)]
CYRILLIC = [(0x400, 0x52F)]

REGULAR = LATIN + LATIN_MORE + SIGNS + MARKS + CYRILLIC
# Headings and labels. Names may need more: fall back to the regular font.
BOLD = [(0x20, 0x7E), (0xA0, 0x17F), 0x1A0, 0x1A1, 0x1AF, 0x1B0, (0x218, 0x21B), (0x1EA0, 0x1EF9),
        0x3C0, (0x2010, 0x2026), 0x2032, 0x2033, 0x2044, (0x2070, 0x208E), 0x20AC,
        (0x2190, 0x2199), 0x2212, 0x221A, 0x2248, 0x2260, 0x2264, 0x2265, 0x2713, 0xFFFD]
FAMILY = "Tallyround Sans"


def code_points(ranges):
    """The set of code points that a list of points and (first, last) pairs covers."""
    points = set()
    for item in ranges:
        first, last = item if isinstance(item, tuple) else (item, item)
        points.update(range(first, last + 1))
    return points


def rename(font, style):
    """Gives the font its own name and leaves copyright (0) and licence (13, 14) as they are."""
    names = font["name"]
    full = f"{FAMILY} {style}"
    own = {1: FAMILY, 2: style, 3: f"{full} subset", 4: full, 6: full.replace(" ", "")}
    names.names = [record for record in names.names if record.nameID in (0, 13, 14)]
    for identity, text in own.items():
        names.setName(text, identity, 3, 1, 0x409)


def cut(source, target, ranges, style):
    """Writes the subset; prints its size and how many characters it draws."""
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.glyph_names = False
    options.notdef_outline = True
    options.name_IDs = ["*"]
    options.drop_tables += ["GDEF", "GPOS", "GSUB", "Silt", "Feat", "Glat", "Gloc", "Sill", "gasp"]
    font = TTFont(source, recalcTimestamp=False)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=code_points(ranges))
    subsetter.subset(font)
    rename(font, style)
    font.save(target)
    print(f"{target.name}: {target.stat().st_size} bytes, {len(font.getBestCmap())} characters")


def main():
    source, target = Path(sys.argv[1]), Path(sys.argv[2])
    target.mkdir(parents=True, exist_ok=True)
    cut(source / "Andika-Regular.ttf", target / "regular.ttf", REGULAR, "Regular")
    cut(source / "Andika-Bold.ttf", target / "bold.ttf", BOLD, "Bold")


main()
