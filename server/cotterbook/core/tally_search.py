"""The search behind the tally check: which sets of slips fit, one, two or three at once, and how many there are.

A set of slips, at most one a line, fits when what it leaves of the difference is no
more than the half width and the own uncertainties that it brings in. Most slips
bring none in ("plain"): with the others ("wide") chosen, the sum of the plain ones has to
lie in a fixed window, and of sorted shifts those that fit lie side by side. So of m
plain slips the pairs are counted in m steps and the triples in m * m / 2, without
looking at each. Those with two slips of one line are counted apart and taken off.

Triples are looked for piece by piece: whoever asks may do something else between.
"""

from typing import Any

# Decimal figures are no exact doubles: a millionth of a gram is no difference.
CLOSE = 1e-6
# Beyond so many, sets are counted and no longer listed: they tell nothing.
MOST_LISTED = 1000


class Search:
    """The slips of a search, sorted by their shifts, and what they have to explain, in grams."""

    def __init__(self, slips: list[Any], difference: float, half_width: float):
        self.difference, self.half_width = difference, half_width
        self.wide: list[Any] = [slip for slip in slips if slip.own]
        self.plain: list[Any] = [slip for slip in slips if not slip.own]
        self.shifts: list[float] = [slip.shift for slip in self.plain]
        self.lines: dict[str, list[float]] = {}
        for slip in self.plain:
            self.lines.setdefault(slip.line["key"], []).append(slip.shift)
        self._keys = sorted(self.lines)

    def window(self, chosen: list[Any]) -> tuple[float, float]:
        """From what to what the plain slips have to add up beside those chosen, in grams."""
        left = self.difference - sum([slip.shift for slip in chosen])
        width = self.half_width + sum([slip.own for slip in chosen]) + CLOSE
        return left - width, left + width

    def few(self, size: int) -> tuple[int, Any]:
        """How many single slips or pairs fit, and a list of them, None beyond MOST_LISTED."""
        low, high = self.window([])
        count = _many(self.shifts, low, high) if size == 1 else self._apart(low, high)
        for place in range(len(self.wide)):
            count += self._with_wide(place, size)
        if count > MOST_LISTED:
            return count, None
        found = [[self.plain[place] for place in places] for places in (_ones, _twos)[size - 1](self.shifts, low, high)]
        for place in range(len(self.wide)):
            found += self._sets_with_wide(place, size)
        return count, [chosen for chosen in found if _of_different_lines(chosen)]

    def begin_threes(self) -> dict[str, Any]:
        """Triples, none looked for yet: {"at", "count", "found": orders of the slips of each, None beyond MOST_LISTED}.

        Plain JSON, to be given to `more_threes` until "at" is None.
        """
        return {"at": 0, "count": 0, "found": []}

    def more_threes(self, so_far: dict[str, Any], steps: int) -> dict[str, Any]:
        """The same after about so many steps more; "at" is None when all was looked for."""
        at, count, found = so_far["at"], so_far["count"], so_far["found"]
        lines, plain, wide = len(self._keys), len(self.plain), len(self.wide)
        while at < lines + plain + wide and steps > 0:
            if at < lines:
                # What several slips of one line would make is taken off first, so that the count only rises then.
                own = self.lines[self._keys[at]]
                count -= _not_apart(own, self.shifts, *self.window([]))
                steps -= 16 * len(own) ** 2
            elif at < lines + plain:
                more = self._with_first(at - lines)
                count += more
                steps -= lines + plain - at + 8
                if more and found is not None:
                    found = _listed(found, self._sets_with_first(at - lines))
            else:
                place = at - lines - plain
                more = self._with_wide(place, 3)
                count += more
                steps -= plain + 40 * (wide - place) + (wide - place) ** 2
                if more and found is not None:
                    found = _listed(found, self._sets_with_wide(place, 3))
            at += 1
        return {"at": None if at == lines + plain + wide else at, "count": count, "found": found}

    def part_done(self, so_far: dict[str, Any]) -> float:
        """Which part of the triples was looked for, from 0 to 1; the first slips have the most others beside them."""
        lines, plain = len(self._keys), len(self.plain)
        if so_far["at"] is None:
            return 1.0
        left = min(plain, max(0, lines + plain - so_far["at"]))
        return 1.0 - (left / plain) ** 2 if plain else 0.0

    def _apart(self, low: float, high: float, without: str = "") -> int:
        """Pairs of plain slips of two lines, with none of the line `without`."""
        shifts = self.shifts
        if without in self.lines:
            shifts = [slip.shift for slip in self.plain if slip.line["key"] != without]
        same = [_pairs(self.lines[key], low, high) for key in self.lines if key != without]
        return _pairs(shifts, low, high) - sum(same)

    def _with_first(self, place: int) -> int:
        """Triples of which this plain slip shifts least; those of one line are in it too."""
        low, high = self.window([self.plain[place]])
        return _pairs(self.shifts, low, high, place + 1)

    def _sets_with_first(self, place: int) -> list[Any]:
        first = self.plain[place]
        low, high = self.window([first])
        pairs = _twos(self.shifts, low, high, place + 1)
        found = [[first, self.plain[one], self.plain[two]] for one, two in pairs]
        return [chosen for chosen in found if _of_different_lines(chosen)]

    def _with_wide(self, place: int, size: int) -> int:
        """Sets with this wide slip and none of the wide ones before it."""
        first = self.wide[place]
        low, high = self.window([first])
        key = first.line["key"]
        if size == 1:
            return 1 if low <= 0.0 <= high else 0
        count = self._apart(low, high, key) if size == 3 else self._one_more([first])
        for two in range(place + 1, len(self.wide)):
            both = [first, self.wide[two]]
            if both[1].line["key"] == key:
                continue
            if size == 2:
                count += self._fits(both)
                continue
            count += self._one_more(both)
            for three in range(two + 1, len(self.wide)):
                chosen = both + [self.wide[three]]
                count += self._fits(chosen) if _of_different_lines(chosen) else 0
        return count

    def _one_more(self, chosen: list[Any]) -> int:
        """Plain slips of other lines that fit beside those chosen."""
        low, high = self.window(chosen)
        own = [_many(self.lines.get(slip.line["key"], []), low, high) for slip in chosen]
        return _many(self.shifts, low, high) - sum(own)

    def _fits(self, chosen: list[Any]) -> int:
        low, high = self.window(chosen)
        return 1 if low <= 0.0 <= high else 0

    def _sets_with_wide(self, place: int, size: int) -> list[Any]:
        """The sets that `_with_wide` counts."""
        found = []
        for others in _choices(self.wide[place + 1 :], size - 1):
            chosen = [self.wide[place]] + others
            low, high = self.window(chosen)
            for places in (_none, _ones, _twos)[size - len(chosen)](self.shifts, low, high):
                found.append(chosen + [self.plain[each] for each in places])
        return [chosen for chosen in found if _of_different_lines(chosen)]


def _of_different_lines(chosen: list[Any]) -> bool:
    return len({slip.line["key"] for slip in chosen}) == len(chosen)


def _listed(found: list[Any], more: list[Any]) -> Any:
    """The list with more sets, by the orders of their slips; None when they are too many to list."""
    if len(found) + len(more) > MOST_LISTED:
        return None
    return found + [[slip.order for slip in chosen] for chosen in more]


def _choices(wide: list[Any], most: int) -> Any:
    """All sets of up to `most` of them, the empty one first."""
    yield []
    for one in range(len(wide) if most else 0):
        for others in _choices(wide[one + 1 :], most - 1):
            yield [wide[one]] + others


def _not_apart(own: list[float], shifts: list[float], low: float, high: float) -> int:
    """Triples that fit with two or three of them from one line, whose shifts are `own`."""
    count = sum([_pairs(own, low - own[one], high - own[one], one + 1) for one in range(len(own) - 2)])
    for one in range(len(own)):
        for two in range(one + 1, len(own)):
            least, most = low - own[one] - own[two], high - own[one] - own[two]
            count += _many(shifts, least, most) - _many(own, least, most)
    return count


def _many(shifts: list[float], low: float, high: float) -> int:
    """How many shifts lie from `low` to `high`."""
    return _place_of(shifts, high, True) - _place_of(shifts, low, False)


def _place_of(shifts: list[float], wanted: float, behind: bool) -> int:
    """The place of the first shift that is not below what is wanted, or with `behind` above it."""
    first, last = 0, len(shifts)
    while first < last:
        middle = (first + last) // 2
        if shifts[middle] < wanted or behind and shifts[middle] == wanted:
            first = middle + 1
        else:
            last = middle
    return first


def _pairs(shifts: list[float], low: float, high: float, first: int = 0) -> int:
    """How many pairs of places from `first` on have shifts that add up to low..high."""
    if len(shifts) - first < 2:
        return 0
    # What is too small to fit even with the largest, and what is too large for the first, is passed over at once.
    first = max(first, _place_of(shifts, low - shifts[-1], False))
    here = shifts[min(first, len(shifts) - 1)]
    count, top, bottom = 0, _place_of(shifts, high - here, True), _place_of(shifts, low - here, False)
    for one in range(first, len(shifts) - 1):
        here, after = shifts[one], one + 1
        most = high - here
        while top > after and shifts[top - 1] > most:
            top -= 1
        if top <= after:
            break
        least = low - here
        while bottom > after and shifts[bottom - 1] >= least:
            bottom -= 1
        count += top - (bottom if bottom > after else after)
    return count


def _none(shifts: list[float], low: float, high: float) -> Any:
    return [()] if low <= 0.0 <= high else []


def _ones(shifts: list[float], low: float, high: float) -> Any:
    return [(place,) for place in range(_place_of(shifts, low, False), _place_of(shifts, high, True))]


def _twos(shifts: list[float], low: float, high: float, first: int = 0) -> Any:
    """Pairs of places from `first` on whose shifts add up to low..high."""
    top = len(shifts) - 1
    for one in range(first, len(shifts) - 1):
        here = shifts[one]
        most = high - here
        while top > one and shifts[top] > most:
            top -= 1
        if top <= one:
            return
        least, two = low - here, top
        while two > one and shifts[two] >= least:
            yield (one, two)
            two -= 1
