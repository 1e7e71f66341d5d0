"""What a spanner or socket measures across flats, by the thread of the nut or bolt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

TOLERANCE_MM: Final = 0.3
"""An inch size stands for the metric one it nearly is, 7/8 in for 22 mm: common practice."""


@dataclass(frozen=True, slots=True)
class HexSeries:
    """Sizes across flats that go together: what they are on, and the table they were read in.

    `sizes_mm` are pairs of thread diameter and size across flats; an `internal` one is the size of
    the key, not of a socket.
    """

    name: str
    source: str
    sizes_mm: tuple[tuple[float, float], ...]
    internal: bool = False


@dataclass(frozen=True, slots=True)
class HexSize:
    """A size across flats and the series it belongs to."""

    across_flats_mm: float
    series: HexSeries


_BOLTS = "BOLTS open library of standard parts, data/hex.blt"
_WORKBENCH = "FreeCAD Fasteners workbench tables"
_WAREHOUSE = "bd_warehouse 0.4.0 fastener tables"

SERIES: Final = (
    HexSeries(
        "ISO",
        f"ISO 4014, {_BOLTS}; nuts alike by ISO 4032, {_WAREHOUSE}",
        ((4, 7), (5, 8), (6, 10), (8, 13), (10, 16), (12, 18), (14, 21), (16, 24), (18, 27),
         (20, 30), (22, 34), (24, 36)),
    ),
    HexSeries(
        "DIN",
        f"DIN 931 and 933, {_BOLTS}; some tables give ISO 4017 as 22 mm at M14 too",
        ((5, 8), (6, 10), (8, 13), (10, 17), (12, 19), (14, 22), (16, 24), (18, 27), (20, 30),
         (22, 32)),
    ),
    HexSeries(
        "small flange",
        f"ISO 4162 and 15071, {_WORKBENCH}; M12 with 16 mm by EN 1662, {_WAREHOUSE}",
        ((5, 7), (6, 8), (8, 10), (10, 13), (12, 15), (12, 16), (14, 18), (16, 21)),
    ),
    HexSeries(
        "flange nut",
        f"hexagon nuts with flange, {_WAREHOUSE}; they differ from ISO 4032 at M10 only",
        ((10, 15),),
    ),
    HexSeries(
        "JIS",
        "JIS B 1180 and 1181, small and older series, from memory",
        ((6, 10), (8, 12), (10, 14), (10, 17), (12, 17), (12, 19)),
    ),
    HexSeries(
        "wheel",
        "wheel bolts and nuts: common practice, no source",
        ((12, 17), (12, 19), (12, 21), (14, 17), (14, 19), (14, 21), (14, 22)),
    ),
    HexSeries(
        "socket head",
        f"ISO 4762, {_WAREHOUSE}",
        ((4, 3), (5, 4), (6, 5), (8, 6), (10, 8), (12, 10), (14, 12), (16, 14), (20, 17), (24, 19)),
        internal=True,
    ),
    HexSeries(
        "button head",
        f"ISO 7380-1, {_WAREHOUSE}, its upper limits rounded to the key",
        ((4, 2.5), (5, 3), (6, 4), (8, 5), (10, 6), (12, 8), (16, 10)),
        internal=True,
    ),
)  # fmt: skip
"""Every series. Those from memory or without a source only widen what counts as typical."""

_SIZES: Final[Mapping[float, tuple[HexSize, ...]]] = {
    diameter: tuple(
        HexSize(across_flats, series)
        for series in SERIES
        for of_diameter, across_flats in series.sizes_mm
        if of_diameter == diameter
    )
    for diameter in sorted({each for series in SERIES for each, _ in series.sizes_mm})
}


def typical_sizes(diameter_mm: float) -> tuple[HexSize, ...]:
    """Every typical size across flats for a thread, in the order of `SERIES`; empty if unknown."""
    return _SIZES.get(diameter_mm, ())


def matching_sizes(diameter_mm: float, across_flats_mm: float) -> tuple[HexSize, ...]:
    """The typical sizes that a stated one is, within `TOLERANCE_MM`."""
    return tuple(
        size
        for size in typical_sizes(diameter_mm)
        if abs(size.across_flats_mm - across_flats_mm) <= TOLERANCE_MM
    )


def diameters_for(across_flats_mm: float) -> tuple[float, ...]:
    """The diameters of thread that a size across flats is typical for, rising."""
    return tuple(diameter for diameter in _SIZES if matching_sizes(diameter, across_flats_mm))
