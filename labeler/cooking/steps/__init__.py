"""What is done at each kind of node: models applied, phases parted."""
