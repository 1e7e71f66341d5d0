"""Where the files are that every collection has: theme, pages, what forges and editors read."""

from __future__ import annotations

from pathlib import Path

import generator


def theme_folder() -> Path:
    """The folder of the theme: templates, styles and scripts of guides and hand-written pages.

    Installed, it lies inside the package; in a checkout it is ``overrides`` beside it.
    """
    return _folder("theme", "overrides")


def pages_folder() -> Path:
    """The folder of the hand-written pages: what can hurt, and the reference.

    Installed, it lies inside the package; in a checkout it is ``docs`` beside it.
    """
    return _folder("pages", "docs")


def forge_folder() -> Path:
    """The folder of what a forge reads: forms, templates, workflows.

    Installed, it lies inside the package; in a checkout it is ``.github`` beside it.
    """
    return _folder("forge", ".github")


def editor_folder() -> Path:
    """The folder of the settings of editors.

    Installed, it lies inside the package; in a checkout it is ``.vscode`` beside it.
    """
    return _folder("editor", ".vscode")


def _folder(installed: str, in_checkout: str) -> Path:
    package = Path(generator.__file__).parent
    folder = package / installed
    return folder if folder.is_dir() else package.parent / in_checkout
