"""`python -m builder` is the command `loadleaf`."""

from builder.cli import main

if __name__ == "__main__":  # worker processes read this module again
    main()
