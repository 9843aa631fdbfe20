"""Ctrl-C or SIGTERM while a long command runs, remembered until it is looked at."""

import signal
from types import FrameType
from typing import Any


class Stopping:
    """Within it both end the command by KeyboardInterrupt, at once or at the next `look`.

    Python prints and forgets what is raised while it tidies up or is called back by a library in C. A person who
    pressed Ctrl-C just then would wait for the end of what was to be stopped.
    """

    def __init__(self) -> None:
        self._asked = False
        self._before: dict[signal.Signals, Any] = {}

    def __enter__(self) -> "Stopping":
        for number in (signal.SIGINT, signal.SIGTERM):
            self._before[number] = signal.signal(number, self._ask)
        return self

    def __exit__(self, *_: object) -> None:
        for number, handler in self._before.items():
            signal.signal(number, handler)

    def _ask(self, _number: int, _frame: FrameType | None) -> None:
        self._asked = True
        raise KeyboardInterrupt

    def look(self) -> None:
        """End here if that was asked for."""
        if self._asked:
            raise KeyboardInterrupt
