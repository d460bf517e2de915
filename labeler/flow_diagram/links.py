"""Arrows from part to part, and from parts that are served into the dish: down the gutter at the left."""

from __future__ import annotations

from labeler.flow_diagram.layout import Columns, Placed, Scale
from labeler.flow_diagram.model import Arrow, FlowPicture
from labeler.flow_diagram.pen import FLOW, DiagramPen, head
from labeler.label.paper import words

__all__ = ["Link", "draw_links", "links"]

_LINK = 6.0
"""Width of the widest such arrow [pt]."""

Link = tuple[int, int | None, int]
"""An arrow from part to part: the one that goes, the one that takes it (None: the dish), which of its inflows."""


def links(picture: FlowPicture) -> list[Link]:
    found: list[Link] = []
    for at, part in enumerate(picture.parts):
        found += [(one.part, at, place) for place, one in enumerate(part.inflows) if one.part is not None]
        if part.served and at < len(picture.parts) - 1:
            found.append((at, None, 0))
    return sorted(found, key=lambda link: (link[0], len(picture.parts) if link[1] is None else link[1], link[2]))


def draw_links(pen: DiagramPen, picture: FlowPicture, scale: Scale, columns: Columns, placed: Placed) -> None:
    """Arrows from a part as made to where another part, or the dish, takes it: down the gutter at the left."""
    for channel, (source, target, which) in enumerate(links(picture)):
        x = columns.gutter + 10.0 * channel + 4.0
        foot = placed.parts[source].row_of(None)
        y = foot.y + foot.top + foot.height - 2.0
        block = f"link {channel}"
        to = "the dish" if target is None else picture.parts[target].title
        load = picture.parts[source].made if target is None else picture.parts[target].inflows[which].load
        pen.arrows[block] = Arrow(words(f"{picture.parts[source].title} → {to}"), load, source)
        if target is None:
            width = min(_LINK, scale.width(picture.parts[source].made))
            end = placed.y
            pen.across(columns.lanes, x - width / 2, y, width, FLOW, block)
            pen.down(x, y - width / 2, end - head(width)[1] + 0.5, width, FLOW, block)
            pen.head_down(x, end, width, FLOW, block)
            continue
        inflow = picture.parts[target].inflows[which]
        row = placed.parts[target].row_of(inflow.to)
        listed = next(one for one in row.listed if one.inflow is inflow)
        end, width = row.y + listed.y, min(_LINK, listed.width)
        pen.across(columns.lanes, x - width / 2, y, width, FLOW, block)
        pen.down(x, min(y, end) - width / 2, max(y, end) + width / 2, width, FLOW, block)
        tip = columns.names - 2.0
        pen.across(x - width / 2, tip - head(width)[1] + 0.5, end, width, FLOW, block)
        pen.head_across(tip, end, width, FLOW, block)
