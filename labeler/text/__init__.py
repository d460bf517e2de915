"""English nouns and words, for every package that reads names: plurals and word stems."""
