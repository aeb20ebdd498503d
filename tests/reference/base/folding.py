"""Writes folding.txt: how Python's unicodedata (the Unicode Character Database) folds each letter
that search folds: compatibility decomposition, marks (Mn) away, case folded.

    python3 folding.py > folding.txt
"""
import unicodedata


def folded(letter):
    apart = unicodedata.normalize("NFKD", letter)
    return "".join(c for c in apart if unicodedata.category(c) != "Mn").casefold()


print(f"# Unicode {unicodedata.unidata_version}: letter, folded")
for first, last in ((0xC0, 0x24F), (0x386, 0x3CE), (0x400, 0x45F), (0x1E00, 0x1EFF)):
    for code in range(first, last + 1):
        letter = chr(code)
        if unicodedata.category(letter) in ("Lu", "Ll", "Lt"):
            print(f"{letter} {folded(letter)}")
