"""Run the command line as ``python -m labeler``."""

from labeler.cli import main

main()
