"""Texts that depend on what the reader has chosen: units of measure, side of the wheel.

Every version is computed here and stands in the page; the reader's choice only shows one of them.
Without a choice, or without a script, the text that holds for everyone is shown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from gettext import NullTranslations

from markupsafe import escape

from generator.guide import figures
from generator.trade.place import Wheel
from generator.trade.torque import TorqueRange, TorqueUnit

# Below this, US customary wrenches are marked in lbf·in, above in lbf·ft:
# common practice, no source
INCHES_BELOW_NM = 20.0
WHEELS = {Wheel.LEFT: "left-wheel", Wheel.RIGHT: "right-wheel"}


class ReaderChoice(str):
    """A text for everyone that, in a page, gives way to the version the reader has chosen.

    As a string it is the text for everyone, so it may stand wherever plain text does.
    """

    __slots__ = ("_about", "_html", "_versions")
    _about: str
    _html: str
    _versions: dict[str, str]

    def __new__(cls, everyone: str, about: str, versions: Mapping[str, str]) -> ReaderChoice:
        """`about` names the choice (units, wheel); `versions` are texts by CSS class."""
        text = super().__new__(cls, everyone)
        text._about = about
        text._versions = dict(versions)
        text._html = ""
        return text

    def __html__(self) -> str:
        """All versions as spans; those that need a choice are hidden until it is made."""
        if not self._html:
            everyone = f'<span class="any-{self._about}">{escape(str(self))}</span>'
            self._html = everyone + "".join(
                f'<span class="{name}" hidden>{escape(text)}</span>'
                for name, text in self._versions.items()
            )
        return self._html


def by_units(everyone: str, metric: str, us: str) -> ReaderChoice:
    """A text for both units, for metric and for US customary units."""
    return ReaderChoice(everyone, "units", {"metric": metric, "us": us})


def torque_text(
    stated: TorqueRange, t: NullTranslations, told: Callable[[str], str] = str
) -> ReaderChoice:
    """A sentence that holds a torque, in N·m, in US customary units, and in both for everyone.

    Each is rounded into the stated range, to steps of a wrench.
    """
    metric, us = (
        figures.with_unit(figures.torque(stated, unit, t), unit.value)
        for unit in (TorqueUnit.NEWTON_METRE, us_unit(stated))
    )
    return by_units(told(f"{metric} ({us})"), told(metric), told(us))


def length_text(length_mm: float, t: NullTranslations) -> ReaderChoice:
    """A length in mm, with inches second, or first for US customary."""
    metric, us = _lengths(length_mm, t)
    both = f"{metric} ({us})"
    return by_units(both, both, f"{us} ({metric})")


def narrow_length_text(
    length_mm: float, t: NullTranslations, told: Callable[[str], str] = str
) -> ReaderChoice:
    """A sentence that holds a length in one unit, where there is no room for two."""
    metric, us = _lengths(length_mm, t)
    return by_units(told(metric), told(metric), told(us))


def _lengths(length_mm: float, t: NullTranslations) -> tuple[str, str]:
    """A length in mm, and in inches to two decimals: 25.4 mm by definition."""
    return (
        figures.with_unit(figures.short(length_mm, t), "mm"),
        figures.with_unit(figures.number(length_mm / 25.4, 2, t), "in"),
    )


def us_unit(stated: TorqueRange) -> TorqueUnit:
    """The US customary unit of a torque: lbf·in for small ones, lbf·ft otherwise."""
    small = stated.high_nm < INCHES_BELOW_NM
    return TorqueUnit.POUND_FORCE_INCH if small else TorqueUnit.POUND_FORCE_FOOT


def by_wheel(steering: Iterable[Wheel], told: Callable[[list[Wheel]], str]) -> str:
    """A text for all sides of the wheel that exist, and for each one where they differ."""
    sides = list(steering)
    everyone = told(sides)
    versions = {WHEELS[wheel]: told([wheel]) for wheel in dict.fromkeys(sides)}
    if set(versions.values()) == {everyone}:
        return everyone
    return ReaderChoice(everyone, "wheel", versions)
