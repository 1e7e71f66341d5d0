"""What the look of a sensor's tip points at, and what to cure before a new one goes in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from gettext import NullTranslations

from generator.trade.fouling import FOULING, Fouling, Look


@dataclass(frozen=True, slots=True)
class FoulingView:
    """(look, cause, cure) of a fouled tip and a clean one, and (cause, checks) to confirm it by."""

    rows: list[tuple[str, str, str]]
    confirm: list[tuple[str, str]]
    basis: str


@lru_cache
def fouling_view(t: NullTranslations) -> FoulingView:
    """What the access page says of a sensor's tip; the same on every vehicle."""
    _ = t.gettext
    fouled = [
        (_sentence(look, t), _sentence(found.cause, t), _cure(found, t))
        for look, found in FOULING.items()
    ]
    clean = (_sentence(Look.CLEAN, t), _("Nothing; it may still be worn out"), "–")
    confirm = [
        (_sentence(found.cause, t), _capital("; ".join(_(check) for check in found.confirm)))
        for found in FOULING.values()
    ]
    return FoulingView([*fouled, clean], confirm, _sentence(Fouling.basis, t))


def _cure(found: Fouling, t: NullTranslations) -> str:
    cure = _sentence(found.cure_first, t)
    if not found.sensor_recovers:
        return cure
    return t.gettext("%(cure)s; the same sensor often comes clean by itself") % {"cure": cure}


def _sentence(text: str, t: NullTranslations) -> str:
    return _capital(t.gettext(text))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
