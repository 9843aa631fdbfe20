"""What a phone's camera reads from our QR codes, by another people's reader: zxing-cpp (ISO/IEC 18004)."""

import pytest
import zxingcpp
from PIL import Image

from cotterbook.devices.greeting import invitation
from cotterbook.devices.routes import qr_rows

ADDRESSES = [
    "http://192.168.1.20:8352", "https://cotterbook-ab12.local:8351/#/pair/04817263",
    f"https://{'x' * 60}.{'y' * 60}.example:65535/#/pair/99999999"]
PIXELS_A_MODULE = 4
# Light where the terminal prints, by upper and lower half (Unicode, block elements U+2580 to U+2588).
HALVES = {" ": (0, 0), "\u2580": (1, 0), "\u2584": (0, 1), "\u2588": (1, 1)}


def read(rows, light):
    """What the reader finds in a picture of these rows of modules."""
    picture = Image.new("L", (len(rows[0]), len(rows)))
    picture.putdata([255 if module == light else 0 for row in rows for module in row])
    size = picture.width * PIXELS_A_MODULE, picture.height * PIXELS_A_MODULE
    return [(found.format, found.text) for found in zxingcpp.read_barcodes(picture.resize(size, Image.NEAREST))]


@pytest.mark.parametrize("address", ADDRESSES)
def test_the_page_s_code_is_its_address(address):
    assert read(qr_rows(address), "0") == [(zxingcpp.BarcodeFormat.QRCode, address)]


@pytest.mark.parametrize("address", ["http://127.0.0.1:8350", "https://cotterbook-ab12.local:8351"])
def test_the_terminal_s_code_is_the_address_it_says(address):
    _, said, *drawn = invitation("04817263", address, 5)
    assert said == f"Address: {address}/#/pair/04817263"
    rows = [[HALVES[letter][half] for letter in line] for line in drawn for half in (0, 1)]
    assert read(rows, 1) == [(zxingcpp.BarcodeFormat.QRCode, said.removeprefix("Address: "))]
