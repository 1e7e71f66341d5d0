"""What every part of a profile is, and a value that a source states."""

from __future__ import annotations

from typing import Any, Generic, TypeVar

from pydantic import BaseModel, ConfigDict, Field, model_validator

from generator.profile.fields import Name

T = TypeVar("T")


class Part(BaseModel):
    """A part of a profile: its keys are these and no others, and it never changes."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Stated(Part, Generic[T]):
    """A specification, with the source that states it; plain text is a value without source."""

    value: T = Field(description="The value with its unit.")
    source: Name | None = Field(
        None, description="The source, by its name under `sources`.", examples=["manual"]
    )

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, data: Any) -> Any:
        return {"value": data} if isinstance(data, str) else data
