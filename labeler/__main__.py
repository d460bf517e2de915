"""Run the command line as ``python -m labeler``."""

from labeler.cli.main import main

main()
