"""Run the command line as ``python -m reviewkit``."""

from reviewkit.cli.app import main

if __name__ == "__main__":
    main()
