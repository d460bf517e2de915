"""The worksheet: every figure of a label and where it came from, line → food → grams → step → nutrient → rule → text.

`labeler.worksheet.build` gathers it, `model` says what it holds, `xlsx` and `as_json` write it.
"""

from labeler.worksheet.as_json import worksheet_bytes, worksheet_object
from labeler.worksheet.build import worksheet
from labeler.worksheet.model import Worksheet
from labeler.worksheet.xlsx import write_xlsx

__all__ = ["Worksheet", "worksheet", "worksheet_bytes", "worksheet_object", "write_xlsx"]
