"""`python -m journal`: the same as the command `journal`."""

from journal.cli.main import main

main(prog_name="journal")
