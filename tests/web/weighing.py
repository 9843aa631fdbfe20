"""The form for weighing the whole machine, filled in by hand."""

from typing import Any

LABELS = {
    "front": "Under the front wheel", "rear": "Under the rear wheel", "fuel": "Fuel in the tank, litres",
    "spread": "Give or take, litres", "rider": "Rider on it, with clothes and helmet",
    "higher": "Front wheel stood higher by, mm", "raised": "Rear axle raised by, mm",
}  # fmt: skip


def write(page: Any, **fields: str) -> None:
    """Each field by its short name in `LABELS`, as typed."""
    for name, text in fields.items():
        page.get_by_label(LABELS[name], exact=True).fill(text)
