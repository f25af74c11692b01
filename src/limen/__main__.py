"""`python -m limen`."""

from limen.cli.main import main

main()
