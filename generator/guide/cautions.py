"""What can hurt, in sentences, each said once on a page and before the step it belongs to."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from gettext import NullTranslations

from generator.trade.hazard import SIGNAL_WORDS, Hazard, SignalWord

Caution = tuple[str, tuple[str, ...]]
"""A signal word (ANSI Z535.4) and the sentences under it."""


class Said:
    """The cautions of one page: a hazard already said is not said again."""

    def __init__(self, t: NullTranslations) -> None:
        self._t = t
        self._said: set[Hazard] = set()

    def first(self, hazards: Iterable[Hazard]) -> tuple[Caution, ...]:
        """The cautions among these that the page has not said yet, strongest first."""
        fresh = frozenset(hazards) - self._said
        self._said |= fresh
        return _told(self._t, fresh)


@lru_cache(maxsize=512)
def _told(t: NullTranslations, hazards: frozenset[Hazard]) -> tuple[Caution, ...]:
    """The cautions of some hazards; pages with the same ones share it, and its HTML."""
    words = sentences(t)
    told: dict[str, list[str]] = {}
    for hazard in sorted(hazards, key=_STRONGEST_FIRST.index):
        told.setdefault(SIGNAL_WORDS[hazard].value, []).append(words[hazard])
    return tuple((word, tuple(each)) for word, each in told.items())


_STRONGEST_FIRST = sorted(Hazard, key=lambda hazard: list(SignalWord).index(SIGNAL_WORDS[hazard]))


@lru_cache
def sentences(t: NullTranslations) -> dict[Hazard, str]:
    """What is said of each hazard."""
    _ = t.gettext
    return {
        Hazard.HIGH_VOLTAGE: _(
            "High-voltage vehicle: in ready state the engine starts by itself. Switch off, take "
            "the key away from the vehicle, and do not touch orange cables."
        ),
        Hazard.UNDER_VEHICLE: _(
            "Never go under a vehicle that stands on a jack alone. Level ground, stands at the "
            "maker's points, wheels chocked; eye protection on."
        ),
        Hazard.EXHAUST_GAS: _(
            "Exhaust gas kills. Run the engine outdoors, or with the exhaust extracted."
        ),
        Hazard.HOT_EXHAUST: _(
            "Exhaust parts burn the skin, through gloves too, long after a run. Let them cool to "
            "the temperature of the air."
        ),
        Hazard.MOVING_PARTS: _(
            "Fans and belts move without warning, fans with the ignition off too. Keep hands, "
            "hair, sleeves and leads away."
        ),
        Hazard.FUEL_LINE: _(
            "A fuel line runs here. No flame, no sparks, no hot work; do not bend or open it."
        ),
        Hazard.AIRBAG_WIRING: _(
            "Airbag wiring runs here. Do not probe, unplug or bend it; the vehicle's literature "
            "says how to make the system safe."
        ),
        Hazard.LOAD_CARRYING: _(
            "This part carries load. Vehicle on its wheels, on level ground; undo both ends "
            "evenly, and do not drive without it."
        ),
        Hazard.PENETRATING_FLUID: _(
            "Penetrating fluid burns. Only on cold metal, never near a flame; eye protection on."
        ),
        Hazard.SHARP_EDGE: _("Sharp edges: gloves on."),
        Hazard.SENSING_CELL: _(
            "Put the ohmmeter on the two heater terminals only. Its current can damage the cell "
            "behind the others, so do not find terminals by trying."
        ),
        Hazard.SILICONE: _(
            "No silicone sealant or silicone spray near the intake or the exhaust: it ruins the "
            "new sensor."
        ),
    }
