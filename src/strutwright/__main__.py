"""``python -m strutwright``."""

from strutwright.cli import main

if __name__ == "__main__":
    main()
