"""Official nutrition panels, drawn from the market's own rules; the generic table is in `labeler.label.table`."""
