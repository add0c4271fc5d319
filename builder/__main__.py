"""`python -m builder` is the command `loadleaf`."""

from builder.cli import main

main()
