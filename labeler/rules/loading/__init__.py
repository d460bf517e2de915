"""Reading rule files strictly: the file, the keys of each kind of rule, the values, and names between rules."""
