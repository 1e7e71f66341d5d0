"""From the text of a vehicle profile to a checked :class:`Profile`, or to findings.

``tree`` reads YAML with positions, ``quantity`` reads numbers with units, ``model`` declares
the format, ``rules`` check what one field alone cannot know, ``mending`` lets them run on a faulty
profile, ``migrations`` brings older formats up to date, and ``reading`` joins them.
"""

from generator.profile.finding import Finding, Place, Severity
from generator.profile.model import Profile
from generator.profile.reading import ProfileFile, read_profile, read_text

__all__ = ["Finding", "Place", "Profile", "ProfileFile", "Severity", "read_profile", "read_text"]
