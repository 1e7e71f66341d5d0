"""What a spanner or socket measures across flats, by the thread of the nut or bolt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

TOLERANCE_MM: Final = 0.3
"""An inch size stands for the metric one it nearly is, 7/8 in for 22 mm: common practice."""


@dataclass(frozen=True, slots=True)
class HexSeries:
    """Sizes across flats that go together: what they are on, and the table they were read in.

    `sizes_mm` is across flats by diameter of thread; `internal` is the key's size, not the
    socket's.
    """

    name: str
    source: str
    sizes_mm: Mapping[float, float]
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
        MappingProxyType(
            {4: 7, 5: 8, 6: 10, 8: 13, 10: 16, 12: 18, 14: 21, 16: 24, 18: 27, 20: 30, 22: 34,
             24: 36}
        ),
    ),
    HexSeries(
        "DIN",
        f"DIN 931 and 933, {_BOLTS}; some tables give ISO 4017 as 22 mm at M14 too",
        MappingProxyType({5: 8, 6: 10, 8: 13, 10: 17, 12: 19, 14: 22, 16: 24, 18: 27, 20: 30,
                          22: 32}),
    ),
    HexSeries(
        "small flange",
        f"ISO 4162 and 15071, {_WORKBENCH}",
        MappingProxyType({5: 7, 6: 8, 8: 10, 10: 13, 12: 15, 14: 18, 16: 21}),
    ),
    HexSeries(
        "small flange, EN",
        f"EN 1662, {_WAREHOUSE}; it differs from ISO 4162 at M12 only",
        MappingProxyType({12: 16}),
    ),
    HexSeries(
        "flange nut",
        f"EN 1661 (printed there as DIN 1665), {_WAREHOUSE}; it differs from ISO 4032 at M10 only",
        MappingProxyType({10: 15}),
    ),
    HexSeries(
        "JIS small",
        "JIS B 1180 and 1181 annexes, from memory",
        MappingProxyType({6: 10, 8: 12, 10: 14, 12: 17}),
    ),
    HexSeries(
        "JIS old",
        "older JIS series, from memory",
        MappingProxyType({10: 17, 12: 19}),
    ),
    HexSeries(
        "socket head",
        f"ISO 4762, {_WAREHOUSE}",
        MappingProxyType({4: 3, 5: 4, 6: 5, 8: 6, 10: 8, 12: 10, 14: 12, 16: 14, 20: 17, 24: 19}),
        internal=True,
    ),
    HexSeries(
        "button head",
        f"ISO 7380-1, {_WAREHOUSE}, its upper limits rounded to the key",
        MappingProxyType({4: 2.5, 5: 3, 6: 4, 8: 5, 10: 6, 12: 8, 16: 10}),
        internal=True,
    ),
)  # fmt: skip
"""Every series, external ones first. Those from memory only widen what counts as typical."""

_SIZES: Final[Mapping[float, tuple[HexSize, ...]]] = {
    diameter: tuple(
        HexSize(series.sizes_mm[diameter], series)
        for series in SERIES
        if diameter in series.sizes_mm
    )
    for diameter in sorted({each for series in SERIES for each in series.sizes_mm})
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
