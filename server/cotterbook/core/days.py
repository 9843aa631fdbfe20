"""Calendar days: how long ago a date was. There is no clock in here; the moment is an argument."""

from typing import Any

MS_A_DAY = 86_400_000


def day_of(at_ms: int) -> tuple[int, int, int]:
    """(year, month, day) of a moment in ms since 1970, in UTC (the proleptic Gregorian calendar)."""
    # Days are counted from 1 March of the year 0, so that the leap day ends a year.
    days = at_ms // MS_A_DAY + 719_468
    era, day_of_era = days // 146_097, days % 146_097
    year = (day_of_era - day_of_era // 1_460 + day_of_era // 36_524 - day_of_era // 146_096) // 365
    day = day_of_era - (365 * year + year // 4 - year // 100)
    month = (5 * day + 2) // 153
    from_january = month + 3 if month < 10 else month - 9
    return (year + era * 400 + (1 if from_january <= 2 else 0), from_january, day - (153 * month + 2) // 5 + 1)


def read_day(date: Any) -> Any:
    """(year, month, day) of a date as 2026-05-31 that was checked on entry; None without one."""
    return None if date is None else (int(date[:4]), int(date[5:7]), int(date[8:]))


def whole_months(day: tuple[int, int, int], later: tuple[int, int, int]) -> int:
    """Whole months from one day to a later one; below 0 when it is earlier."""
    return (later[0] - day[0]) * 12 + later[1] - day[1] - (1 if later[2] < day[2] else 0)
