"""What a guide says of itself: its sources and photos, who stands behind it, how far it is."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from generator.profile.fields import Address, DateText, Name, PhotoPath, Prose, Words
from generator.profile.part import Part


class SourceKind(StrEnum):
    """What stands behind a value."""

    MAKER = "maker"
    MEASUREMENT = "measurement"
    COMMON_PRACTICE = "common-practice"


class Source(Part):
    """Where specifications come from, declared once."""

    title: Words = Field(description="What it is called.", examples=["Carrow workshop manual"])
    kind: SourceKind = Field(
        description="Maker's literature, a measurement, common practice.", examples=["maker"]
    )
    edition: Words | None = Field(None, description="Edition or date.", examples=["third printing"])
    locator: Words | None = Field(
        None, description="Section, page or table in it.", examples=["section 17"]
    )


class Photo(Part):
    """A photo or a drawing, and the step that it stands beside."""

    file: PhotoPath = Field(
        description="Its file, as seen from the profile's folder: JPEG, PNG or WebP.",
        examples=["photos/carrow-sensor.jpg"],
    )
    at: Words = Field(
        description="The way to what it belongs to: a sensor, its connector, an obstacle, a step.",
        examples=[
            "obstacles.engine-cover.steps.1",
            "sensors.bank-1-position-1",
            "sensors.bank-1-position-1.connector.latch",
        ],
    )
    caption: Words = Field(description="The sentence under it.", examples=["Seen from below."])
    shows: Words = Field(
        description="What is to be seen on it, for a reader who does not see it.",
        examples=["The sensor's hex, left of the pipe, its wires going up."],
    )


class Status(StrEnum):
    """How far a profile is."""

    DRAFT = "draft"
    PUBLISHED = "published"


class Exempted(Part):
    """A warning of the check that is wrong about this vehicle, and why."""

    rule: Name = Field(
        description="The rule, as the check names it in brackets.", examples=["hex-for-thread"]
    )
    at: Words | None = Field(
        None,
        description="The way to what it is wrong about; left out, the whole profile.",
        examples=["obstacles.engine-cover.undo.1"],
    )
    reason: Prose = Field(
        description="Why it is wrong here.", examples=["Measured on three cars: 12 mm."]
    )


class Guide(Part):
    """Who stands behind the guide, and where it is talked about."""

    checked_on: DateText | None = Field(
        None, description="When it was last checked on a vehicle.", examples=["2026-03-14"]
    )
    confirmed_by: Words | None = Field(
        None,
        description="A second person, who did the job by it.",
        examples=["second technician of the owners' club"],
    )
    credits: list[Words] = Field(
        [], description="Who wrote it and kept it.", examples=[["workshop evening, owners' club"]]
    )
    licence: Words | None = Field(
        None, description="The licence of what it says.", examples=["CC BY-SA 4.0"]
    )
    discussion: Address | None = Field(
        None,
        description="Where it is discussed.",
        examples=["https://forum.example/thread/1"],
    )
