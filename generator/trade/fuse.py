"""Colour of a blade fuse by its rating.

The convention of ISO 8820-3:2010 (types C medium and F miniature); the standard's own table was
not seen, the words are those of an open chart of blade fuses published by a parts retailer.
"""

_CHARTED = {
    0.5: "dark blue",
    1.0: "black",
    2.0: "grey",
    3.0: "violet",
    4.0: "pink",
    5.0: "tan",
    7.5: "brown",
    10.0: "red",
    15.0: "blue",
    20.0: "yellow",
    25.0: "clear",
    30.0: "green",
}
_FROM_MEMORY = {35.0: "blue-green", 40.0: "orange"}
FUSE_COLOURS = _CHARTED | _FROM_MEMORY


def fuse_colour(rating_a: float) -> str | None:
    """The colour of a blade fuse of this rating, or None for a rating without one.

    The rating moulded into the fuse outranks its colour. 35 and 40 A are from memory.
    """
    return FUSE_COLOURS.get(rating_a)
