"""The forms by the format that a rule names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from labeler.label.panels.content import PanelContent
from labeler.label.panels.pen import PanelPen
from labeler.label.panels.small import linear, linear_width, tabular, tabular_width
from labeler.label.panels.table import table, table_width
from labeler.label.panels.vertical import dual_column_width, in_sequence, vertical_width

__all__ = ["FORMS", "PanelForm"]


@dataclass(frozen=True, slots=True)
class PanelForm:
    """How one format is drawn, and the least width it needs [pt]."""

    draw: Callable[[PanelPen], None]
    width: Callable[[PanelContent], float]


FORMS: Mapping[str, PanelForm] = MappingProxyType(
    {
        "vertical": PanelForm(in_sequence, vertical_width),
        "dual column": PanelForm(in_sequence, dual_column_width),
        "tabular": PanelForm(tabular, tabular_width),
        "tabular small": PanelForm(tabular, tabular_width),
        "linear": PanelForm(linear, linear_width),
        "table": PanelForm(table, table_width),
    }
)
