"""The worksheet: every figure of a label and where it came from, line → food → grams → step → nutrient → rule → text.

`labeler.worksheet.builder.worksheet` gathers it, `model` says what it holds, `xlsx.write_xlsx` and
`as_json.worksheet_object` write it.
"""
