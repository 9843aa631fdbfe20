"""Putting things in order. The phone's own `sorted` takes the square of their number for what is in order already.

MicroPython sorts by a quicksort whose pivot is the last item, and asks for the key at every comparison: a thousand
parts that come in order cost it a million keys. Lists that grow with the log are ordered by this instead.
"""

from typing import Any


def in_order(items: Any, key: Any, reverse: bool = False) -> list[Any]:
    """The items by their keys, those with equal keys as they came; `reverse` for the largest first.

    A natural merge sort: stretches that are in order already are merged two by two, so what is in order costs one
    comparison an item, and anything else n log n. Each key is asked for once.
    """
    given: list[Any] = list(items)
    if len(given) < 2:
        return given
    keyed = [(key(item), item) for item in given]
    if reverse:
        keyed.reverse()
    runs = _runs(keyed)
    while len(runs) > 1:
        runs = [_merged(runs[i], runs[i + 1]) if i + 1 < len(runs) else runs[i] for i in range(0, len(runs), 2)]
    found = [pair[1] for pair in runs[0]] if runs else []
    if reverse:
        found.reverse()
    return found


def _runs(keyed: list[Any]) -> list[list[Any]]:
    """Stretches of pairs whose keys do not fall."""
    runs: list[list[Any]] = []
    for pair in keyed:
        if runs and not pair[0] < runs[-1][-1][0]:
            runs[-1].append(pair)
        else:
            runs.append([pair])
    return runs


def _merged(left: list[Any], right: list[Any]) -> list[Any]:
    """Both in one order; of equal keys the left one first."""
    found: list[Any] = []
    i, j = 0, 0
    while i < len(left) and j < len(right):
        if right[j][0] < left[i][0]:
            found.append(right[j])
            j += 1
        else:
            found.append(left[i])
            i += 1
    return found + left[i:] + right[j:]
