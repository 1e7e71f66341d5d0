"""Where the theme is: templates, styles and scripts of guides and hand-written pages."""

from __future__ import annotations

from pathlib import Path

import generator


def theme_folder() -> Path:
    """The folder of the theme that comes with this package.

    Installed, it lies inside the package; in a checkout it is ``overrides`` beside it.
    """
    package = Path(generator.__file__).parent
    installed = package / "theme"
    return installed if installed.is_dir() else package.parent / "overrides"
