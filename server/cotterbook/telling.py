"""What a command prints: an output that nobody reads on, or that has no room, stops nothing that is being done."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

_failed: list[OSError] = []


def tell(text: str) -> None:
    """Print a line, or several, at once."""
    with _noting():
        print(text, flush=True)


def untold() -> OSError | None:
    """Why something that was to be printed could not be; None where all was, or where the reader had enough."""
    with _noting():
        sys.stdout.flush()
    # Whoever reads no further, such as head, has closed the pipe.
    return next((error for error in _failed if not isinstance(error, BrokenPipeError)), None)


@contextmanager
def _noting() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        _failed.append(error)
        # What waits to be printed goes nowhere, or it would fail once more at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
