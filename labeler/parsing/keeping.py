"""How the whole is packed and kept: closed jars, cold, the cupboard, by the head, the notes and the last instructions.

A jar is where food is kept only where it ends there. One that food came in, is measured with or shaken in is a tool:
what goes on from it into another vessel, onto another food or over heat was never packed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from labeler.parsing.handling_words import Saying, sayings, words_of
from labeler.parsing.instructions.actions import Handler, Heat, Trait, action, has
from labeler.parsing.instructions.model import Instruction, Mark, Role
from labeler.parsing.model import NoteKind, Recipe

__all__ = ["Keeping", "read_keeping", "storage_beside_cold"]

_NO_BATH = frozenset({Heat.DRY, Heat.FAT, Heat.MICROWAVE})
"""Heat that no closed jar is put to."""
_PACKED_IN = ("makes", "net", "pack", "container")
_KEPT_NOTES = (NoteKind.STORAGE, NoteKind.TIP, NoteKind.NOTE)


@dataclass(frozen=True, slots=True)
class Keeping:
    """How the whole is packed and kept.

    Parameters
    ----------
    sealed : bool
        True where it goes into closed jars, bottles or cans, or is meant for the cupboard.
    cold : bool
        True where it is kept cold from the start.
    cold_on_label : bool
        True where the storage text that the label prints keeps it cold.
    room : str
        The words that keep it at room temperature; empty where nothing says so.
    fermented : bool
        True where it ferments in its own brine.
    vacuum : bool
        True where it is packed without air.
    measured_ph : float or None
        The pH that the recipe states as measured.
    """

    sealed: bool = False
    cold: bool = False
    cold_on_label: bool = False
    room: str = ""
    fermented: bool = False
    vacuum: bool = False
    measured_ph: float | None = None


def read_keeping(recipe: Recipe, done: Sequence[Sequence[Instruction]]) -> Keeping:
    """What a recipe's head, notes and instructions say of packing and keeping.

    Parameters
    ----------
    recipe : Recipe
    done : sequence of sequence of Instruction
        The instructions that are done, by part.
    """
    handling = [sentence.text for part in recipe.parts for sentence in part.handling]
    notes = [note.text for note in recipe.notes if note.kind in _KEPT_NOTES]
    on_label = _before_opening(str(recipe.head.get("storage") or ""))
    packed_in = " ".join(str(recipe.head.get(key, "")) for key in _PACKED_IN)
    kept = [on_label, *map(_before_opening, (*notes, *(text for text in handling if Saying.KEEPING in sayings(text))))]
    everything = " ".join((recipe.title, packed_in, *handling, *notes))
    told = frozenset[Saying]().union(*map(sayings, kept))
    fermented = Saying.FERMENTED in sayings(everything)
    in_jars = Saying.JARS in sayings(f"{recipe.title} {packed_in}")
    in_jars = in_jars or any({Saying.JARS, Saying.KEEPING} <= sayings(text) for text in (on_label, *notes))
    closed = any(Saying.CLOSED in sayings(text) for text in (packed_in, recipe.title, *handling, *kept))
    last = next((part for part in reversed(done) if part), ())
    cold = Saying.COLD in told or (not closed and _ends_cold(last))
    return Keeping(
        sealed=closed or in_jars or any(map(_ends_in_jars, done)),
        cold=cold and (Saying.ROOM not in told or fermented),
        cold_on_label=Saying.COLD in sayings(on_label),
        room=next(filter(None, (words_of(text, Saying.ROOM) for text in kept)), ""),
        fermented=fermented,
        vacuum=Saying.VACUUM in sayings(everything),
        measured_ph=_number(next((value for key, value in recipe.head.items() if str(key).lower() == "ph"), None)),
    )


def storage_beside_cold(text: str) -> str:
    """What of a storage text may stand beside “Keep refrigerated.”: every sentence but those that say merely cool."""
    sentences = re.split(r"(?<=[.;!])\s+", text.strip())
    return " ".join(one for one in sentences if Saying.COOL not in sayings(one) or Saying.COLD in sayings(one))


def _before_opening(text: str) -> str:
    """The text without what it says of an opened pack."""
    words = words_of(text, Saying.AFTER_OPENING)
    return re.sub(rf"{re.escape(words)}[^.;]*", "", text, count=1) if words else text


def _is_jar(vessel: str) -> bool:
    return Saying.JARS in sayings(vessel)


def _ends_in_jars(done: Sequence[Instruction]) -> bool:
    """Whether food is put into jars and stays there."""
    filled = next(
        (
            at
            for at in range(len(done) - 1, -1, -1)
            if _is_jar(done[at].vessel) and Trait.PACKS in action(done[at].action).traits
        ),
        None,
    )
    bottled = any(has(one.action, Trait.PUTS_AWAY) and _is_jar(one.verb) for one in done)
    return bottled or (filled is not None and not any(map(_goes_on, done[filled + 1 :])))


def _goes_on(one: Instruction) -> bool:
    """Whether an instruction takes what was put into a jar elsewhere: to another vessel, onto a food, over heat."""
    if _is_jar(one.vessel):
        return False
    if Trait.GOES_ON in action(one.action).traits:
        into = any(mention.role is Role.INTO for mention in one.mentions)
        over = one.particle == "over" and any(mention.role is Role.OBJECT for mention in one.mentions)
        return bool(one.vessel) or into or over
    return action(one.action).heat in _NO_BATH


def _ends_cold(done: Sequence[Instruction]) -> bool:
    """Whether the last thing that is done to the food is that it goes into the cold."""
    waits = [one for one in done if action(one.action).handler is Handler.LIE or has(one.action, Trait.PUTS_AWAY)]
    if not waits or Mark.FRIDGE not in waits[-1].marks:
        return False
    after = done[done.index(waits[-1]) + 1 :]
    return not any(action(one.action).heat is not Heat.NONE or _is_jar(one.vessel) for one in after)


def _number(value: object) -> float | None:
    found = re.search(r"\d+(?:[.,]\d+)?", str(value)) if value is not None else None
    return float(found[0].replace(",", ".")) if found else None
