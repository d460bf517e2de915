"""The weight or the volume that the head of a recipe says the batch comes to: ``makes: 1.2 kg``."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.cooking.executor import PartRun
from labeler.cooking.state.density import volume, water_density
from labeler.cooking.state.ledger import Stage
from labeler.cooking.steps.measured import weigh_heap
from labeler.flow.model import FromNode, Port, Source
from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.instructions.figures import find_quantities
from labeler.types import Interval, Problem

__all__ = ["settle_yield"]

# Two weighings agree, and a batch weighs what went in, within so much. Common practice, no source.
_HEAVIER = 1.05
_NEAR = 0.9  # a stated volume is rough: so much less than there is may be how it was measured
_DRIVES_OFF = frozenset({Heat.WET, Heat.DRY, Heat.FAT, Heat.MICROWAVE, Heat.BY_PLACE})


def settle_yield(
    run: PartRun, said: str, served: Sequence[str], *, times: float, line: int, market: str
) -> list[Stage]:
    """Let what the head says the batch comes to settle a part that is served; the stages that it adds.

    Parameters
    ----------
    run : PartRun
        The part, executed.
    said : str
        The measure as written ("1.2 kg", "about 2 litres").
    served : sequence of str
        Titles of the parts that are served; of several nobody knows which was weighed, and none is settled.
    times : float
        How often the part is made for the whole recipe.
    line : int
        Of its heading.
    market : str
        Whose cups and spoons.

    A weight that stands under the part wins over the head's.
    """
    found = find_quantities(f"makes {said}", market=market)
    grams = found.grams.scaled(1.0 / times) if found.grams is not None else None
    millilitres = found.millilitres.scaled(1.0 / times) if found.millilitres is not None else None
    title = run.flow.title
    if grams is None and millilitres is None:
        return []
    if len(served) > 1:
        if title == served[-1]:
            message = (
                f"“{said}” in the head may be of “{served[0]}” or of “{title}”, and is not used. "
                "Write “> weighs 1.2 kg” under the part that was weighed."
            )
            run.problems.append(Problem("yield-of-which", message, line))
        return []
    if run.measured is not None:
        if grams is not None and not _agree(grams, run.measured):
            message = (
                f"“{title}” weighs {run.measured.best:.4g} g under its heading and {grams.best:.4g} g by "
                f"“{said}” in the head; the first counts. Keep the one that was weighed last."
            )
            run.problems.append(Problem("yield-twice", message, line))
        return []
    before = float(run.kept.total_mass[0])
    if millilitres is not None and _cannot_lose(run, millilitres):
        message = (
            f"“{said}” in the head is less than the {before:.4g} g that are in the dish, and what is heated does not "
            "hold so much water; it is not used. Weigh the batch and write “> weighs 1.2 kg” under its steps."
        )
        run.problems.append(Problem("yield-smaller", message, line))
        return []
    stages = weigh_heap(run, grams=grams, millilitres=millilitres, text=f"makes {said}", line=line)
    if grams is not None and grams.low > _HEAVIER * before:
        message = (
            f"“{said}” in the head is more than the {before:.4g} g that went in; the difference counts as water "
            "taken up. Add the line that is missing, or weigh the batch again."
        )
        run.problems.append(Problem("yield-heavier", message, line))
    return stages


def _cannot_lose(run: PartRun, millilitres: Interval) -> bool:
    """Whether a stated volume asks for more water to go than there is in what was heated."""
    now = float(volume(run.kept)[0])
    over = (now - millilitres.high) * float(water_density(20.0)) / 1000.0
    return millilitres.high < _NEAR * now and over > _water_heated(run)


def _water_heated(run: PartRun) -> float:
    """Water [g] in all that passes a node of heat, as it was put in."""
    nodes = run.flow.nodes
    heated: set[Source] = set()
    stack: list[Source] = [FromNode(at) for at, node in enumerate(nodes) if action(node.action).heat in _DRIVES_OFF]
    while stack:
        source = stack.pop()
        if source in heated:
            continue
        heated.add(source)
        if isinstance(source, FromNode):
            stack += [portion.source for portion in nodes[source.node].inputs]
            stack += [FromNode(source.node)] if source.port is not Port.KEPT else []
    mixes = [mix for source, mix in run.stock.lines.items() if source in heated]
    return sum(float(mix.constituent("water")[0].sum()) for mix in mixes)


def _agree(one: Interval, other: Interval) -> bool:
    """Whether two weighings of the same thing agree within `_HEAVIER`."""
    return max(one.low, other.low) <= _HEAVIER * min(one.high, other.high)
