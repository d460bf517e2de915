"""What the whole stall holds, for the page to hang up and for the file that is opened on a phone."""

from __future__ import annotations

from pathlib import Path

from labeler.page.engine.day import packages
from labeler.page.engine.figures import allergens
from labeler.page.engine.paper import matrix
from labeler.page.engine.reading import Object, Text, title_of, without_path
from labeler.types import LabelerError

__all__ = ["stall_object"]


def stall_object(texts: tuple[Text, ...], market: str = "") -> Object:
    """The matrix of a stall, and of each food its allergens with their evidence, cautions and packages.

    Parameters
    ----------
    texts : tuple of Text
    market : str
        Whose list is asked about; empty takes the first recipe's.
    """
    found = matrix(texts, market)
    return found | {"details": [_food(Text(one.text, one.path, found["market"])) for one in texts]}


def _food(given: Text) -> Object:
    """One food of the stall, or why it cannot be read."""
    name = Path(given.path).name
    try:
        answer = allergens(given)
    except LabelerError as error:
        return {"name": name, "title": title_of(given.text), "refused": without_path(str(error), given.path)}
    return answer | {"name": name, "title": answer["text"], "packages": packages(given), "refused": ""}
