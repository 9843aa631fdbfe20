"""What the terminal says about pairing: the code, the address, and a QR code where there is one to scan."""

import io

import segno

from .book import DeviceBook
from .records import OWNER


def spaced(code: str) -> str:
    """A code as people read it aloud."""
    return f"{code[:4]} {code[4:]}"


def pairing_address(address: str, code: str) -> str:
    """The address that pairs a device: the code stands in the fragment, which no request carries."""
    return f"{address}/#/pair/{code}"


def first_owner(book: DeviceBook, address: str, now_ms: int) -> list[str]:
    """What to do where no device may pair others yet."""
    code = book.make_code(OWNER, now_ms)
    return [
        f"No device is on the list yet. Open {pairing_address(address, code)} on this computer, or type the code"
        f" {spaced(code)} on the page. It works once, within five minutes; `cotterbook pair` makes another.",
    ]


def left_behind(book: DeviceBook, before: str) -> list[str]:
    """What phones that know the address before are to do, and which of them said that they hold what is not sent."""
    said = [f"It was {before} before. Phones that know it don’t find this computer any more and are paired anew."]
    for each in book.devices():
        if each.revoked_ms is None and (each.unsent or each.unsent_photos):
            said.append(
                f"  {each.name} said last that it had not sent: entries {each.unsent or 0}, pictures"
                f" {each.unsent_photos or 0}. They stay there: open the old page on it, then Sending, Carry by file,"
                " and take that file in here.")
    return said


def invitation(code: str, address: str, minutes: int) -> list[str]:
    """A code for the terminal, with a QR code of its address."""
    url = pairing_address(address, code)
    drawn = io.StringIO()
    segno.make(url, micro=False).terminal(out=drawn, compact=True)
    return [
        f"Pairing code: {spaced(code)}. It works once, within {minutes} minutes.", f"Address: {url}",
        *drawn.getvalue().splitlines()]
