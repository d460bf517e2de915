"""What enters where, in what share, and what leaves and why: the method bound to the foods of the lines."""
