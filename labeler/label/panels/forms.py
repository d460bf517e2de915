"""The forms by the format that a rule names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from labeler.label.panels.content import PanelContent
from labeler.label.panels.pen import Pen
from labeler.label.panels.small import linear, linear_width, tabular, tabular_width
from labeler.label.panels.table import table, table_width
from labeler.label.panels.vertical import dual_column_width, in_sequence, vertical_width

__all__ = ["FORMS", "Form"]


@dataclass(frozen=True, slots=True)
class Form:
    """How one format is drawn, and the least width it needs [pt]."""

    draw: Callable[[Pen], None]
    width: Callable[[PanelContent], float]


FORMS: Mapping[str, Form] = MappingProxyType(
    {
        "vertical": Form(in_sequence, vertical_width),
        "dual column": Form(in_sequence, dual_column_width),
        "tabular": Form(tabular, tabular_width),
        "tabular small": Form(tabular, tabular_width),
        "linear": Form(linear, linear_width),
        "table": Form(table, table_width),
    }
)
