"""The door for the browser on this computer: plain HTTP on 127.0.0.1, passed on to the pages over TLS.

A browser takes http://127.0.0.1 for secure, so the PC needs no certificate of ours. Bytes go through as they are; the
far end is held to the very certificate that this process serves.
"""

import asyncio
import contextlib
import ssl
import threading
from pathlib import Path

from ..settings import HOST

PIECE = 65_536
MOST_CONNECTIONS = 256
# X509_V_FLAG_NO_CHECK_TIME of OpenSSL, for which Python has no name.
NO_CHECK_TIME = 0x200000


def context_for(chain: Path) -> ssl.SSLContext:
    """A client that trusts the first certificate of this file and no other."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname = False  # the certificate itself is pinned; it need not name 127.0.0.1
    # It is the very one whatever the clock says; with a flat battery that stands years back.
    context.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN | NO_CHECK_TIME
    begin, end = "-----BEGIN CERTIFICATE-----", "-----END CERTIFICATE-----"
    text = chain.read_text(encoding="ascii")
    context.load_verify_locations(cadata=text[text.index(begin) : text.index(end) + len(end)] + "\n")
    return context


def open_door(port: int, pages_port: int, chain: Path) -> None:
    """Pass connections on, in a thread of its own, as long as this process lives."""
    threading.Thread(
        target=lambda: asyncio.run(_serve(port, pages_port, context_for(chain))), name="loopback", daemon=True).start()


async def _serve(port: int, pages_port: int, context: ssl.SSLContext) -> None:
    places = asyncio.Semaphore(MOST_CONNECTIONS)

    async def connected(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        async with places:
            with contextlib.suppress(OSError):  # either end may go at any moment
                to_pages = await asyncio.open_connection(HOST, pages_port, ssl=context)
                await asyncio.gather(_pass_on(reader, to_pages[1]), _pass_on(to_pages[0], writer))
        writer.close()

    server = await asyncio.start_server(connected, HOST, port)
    async with server:
        await server.serve_forever()


async def _pass_on(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
    try:
        while piece := await reader.read(PIECE):
            writer.write(piece)
            await writer.drain()
    finally:
        # TLS knows no half-closed connection: when one end has nothing more to say, both are done.
        writer.close()
