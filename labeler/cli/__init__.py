"""The command line, by topic: each reads its input, makes one library call and shows the answer."""
