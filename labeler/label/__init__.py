"""The label: what a label says (`LabelContent`), laid out on a page box and written as PDF.

Importing this package is cheap: reportlab is imported only when something is drawn.
"""

from labeler.label.compose import DoesNotFit, compose_label, draw_label
from labeler.label.content import LabelContent, NutritionRow, Run

__all__ = ["DoesNotFit", "LabelContent", "NutritionRow", "Run", "compose_label", "draw_label"]
