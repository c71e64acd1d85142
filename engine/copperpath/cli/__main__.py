"""`python -m copperpath.cli` is the `copperpath` command."""

from copperpath.cli.main import main

main()
