"""Run the command line as ``python -m planner``."""

from planner.cli import main

if __name__ == "__main__":
    main()
