"""Puts fonts into one file, a collection.

    collection.py OUT.ttc FONT..."""

import sys

from fontTools.ttLib import TTCollection, TTFont

out = TTCollection()
out.fonts = [TTFont(path) for path in sys.argv[2:]]
out.save(sys.argv[1])
