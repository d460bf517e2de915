"""Streams that are used again: a brine that becomes a dressing, drippings that go into the gravy; each only once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Mixture, join
from labeler.flow.model import Departure, Flow, FromUnlisted, PartFlow, Portion, Unlisted
from labeler.foods.matching.name_words import words
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.sub_recipes import kept_key
from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.instructions.model import Span

__all__ = ["NamedStream", "dependencies", "named", "part_named", "receiving", "stream_named"]

_DRIPPINGS = frozenset(words("drippings")) | frozenset(words("pan juices"))


@dataclass
class NamedStream:
    """What left a part under one name, and what is left of it: stock and drippings may both be the gravy.

    Parameters
    ----------
    name : str
        What the cook calls it.
    entries : tuple of LedgerEntry
        The streams as they left.
    part : str
        Title of the part that it left.
    into : str
        Title of the part that it is meant for; empty where only a line can ask for it.
    left : array (draws,)
        Share that nothing has taken yet.
    """

    name: str
    entries: tuple[LedgerEntry, ...]
    part: str
    into: str
    left: Array
    reused: float = 0.0

    @property
    def mix(self) -> Mixture:
        """All of it as it left."""
        return join([entry.mix for entry in self.entries])

    @property
    def dripped(self) -> bool:
        """Whether it has dripped from food."""
        return all(entry.stream == "dripped" for entry in self.entries)

    def take(self, share: Array, times: float) -> LedgerEntry:
        """Take a share of the whole, `times` over; what is taken is not there any more."""
        self.left = np.maximum(0.0, self.left - share * times)
        self.reused = min(1.0, self.reused + float(share[0]) * times)
        mix = self.mix.scaled(share)
        loose = mix.renamed([replace(item, phase="dissolved" if item.phase else "") for item in mix.items])
        return LedgerEntry("added", loose, self.name)


def named(departed: Sequence[tuple[Departure, LedgerEntry]], part: str) -> list[NamedStream]:
    """What left a part and others may ask for; what nobody can name is not there."""
    found: dict[tuple[str, str], NamedStream] = {}
    for departure, entry in departed:
        name = departure.name or ("drippings" if entry.stream == "dripped" else "")
        if not name:
            continue
        one = found.setdefault(
            (name, departure.into), NamedStream(name, (), part, departure.into, np.ones(entry.mix.draws))
        )
        one.entries = (*one.entries, entry)
    return list(found.values())


def receiving(flow: PartFlow, caught: Sequence[LedgerEntry], *, line: int) -> PartFlow:
    """The flow of a part that other parts send their drippings or their brine to.

    They go into the first thing that is heated, as they would on a stove, else into the first that is done at all.

    Parameters
    ----------
    flow : PartFlow
    caught : sequence of LedgerEntry
    line : int
        Of the part's heading.
    """
    for entry in caught:
        source = FromUnlisted(len(flow.unlisted))
        one = Unlisted(entry.name, None, entry.grams, Span(line), "from another part")
        flow = replace(flow, unlisted=(*flow.unlisted, one))
        heated = [at for at, node in enumerate(flow.nodes) if action(node.action).heat is not Heat.NONE]
        at = heated[0] if heated else 0
        if not flow.nodes:
            flow = replace(flow, dish=(*flow.dish, source))
            continue
        node = replace(flow.nodes[at], inputs=(*flow.nodes[at].inputs, Portion(source)))
        flow = replace(flow, nodes=(*flow.nodes[:at], node, *flow.nodes[at + 1 :]))
    return flow


def part_named(name: str, titles: Sequence[str]) -> str | None:
    """The title that some words mean: the same words, else the first title that has them all."""
    wanted = kept_key(name)
    if not wanted:
        return None
    keys = {title: kept_key(title) for title in titles}
    exact = next((title for title, key in keys.items() if key == wanted), None)
    return exact or next((title for title, key in keys.items() if wanted <= key), None)


def stream_named(line: WeighedLine, streams: Sequence[NamedStream], part: str) -> NamedStream | None:
    """The stream of another part that a line names, or None for an ordinary food."""
    if line.kept is not None:
        name = kept_key(line.kept.name)
        there = [one for one in streams if one.part == line.kept.part]
        return next((one for one in there if kept_key(one.name) == name), there[0] if len(there) == 1 else None)
    own = kept_key(line.line.name) or kept_key(line.line.text)
    for stream in streams:
        if stream.part == part or not own:
            continue
        if stream.dripped and own & _DRIPPINGS and own <= _DRIPPINGS | kept_key(stream.part):
            return stream
    return None


def dependencies(weighed: WeighedRecipe, flow: Flow) -> Mapping[int, Sequence[int]]:
    """For each part the parts whose streams it uses, by place."""
    titles = [part.title for part in weighed.parts]
    needs: dict[int, list[int]] = {}
    roasts: list[int] = []
    for at, part in enumerate(flow.parts):
        for departure in part.leaves:
            goal = part_named(departure.into, titles) if departure.into else None
            if goal is not None and goal != titles[at]:
                needs.setdefault(titles.index(goal), []).append(at)
        if any(action(node.action).heat in (Heat.DRY, Heat.FAT) for node in part.nodes):
            roasts.append(at)
    for at, lines in enumerate(weighed.parts):
        for line in lines.lines:
            if line.kept is not None and line.kept.part in titles:
                needs.setdefault(at, []).append(titles.index(line.kept.part))
            elif line.part is None and kept_key(line.line.name) & _DRIPPINGS:
                needs.setdefault(at, []).extend(source for source in roasts if source != at)
    return needs
