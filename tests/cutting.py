"""A network that closes a connection in the middle of a request: what a phone sends on its way out of reach."""

import asyncio
import contextlib
import queue
import re
import threading
from collections.abc import Iterator

LENGTH = re.compile(rb"(?i)\r\ncontent-length: *([0-9]+)\r\n")
CUT = re.compile(rb"(?i)\r\nx-cut: *([0-9.e-]+)\r\n")
PIECE = 65_536


@contextlib.contextmanager
def cutting_proxy(target_port: int) -> Iterator["Cutting"]:
    """A proxy on this computer. It passes all on to `target_port`, whether that answers or not, but of a request with
    the header X-Cut only that fraction of its body: then both sides find the connection closed.
    """
    cutting = Cutting(target_port)
    told: queue.Queue[tuple[int, asyncio.AbstractEventLoop, asyncio.Event]] = queue.Queue()

    async def serve() -> None:
        server = await asyncio.start_server(cutting.pass_on, "127.0.0.1", 0)
        stop = asyncio.Event()
        told.put((server.sockets[0].getsockname()[1], asyncio.get_running_loop(), stop))
        await stop.wait()
        server.close()

    thread = threading.Thread(target=lambda: asyncio.run(serve()))
    thread.start()
    cutting.port, loop, stop = told.get()
    try:
        yield cutting
    finally:
        loop.call_soon_threadsafe(stop.set)
        thread.join()


class Cutting:
    """The proxy: the port that it listens on, and how many requests it has cut."""

    def __init__(self, target_port: int) -> None:
        self.target_port, self.port, self.cuts = target_port, 0, 0

    async def pass_on(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """One connection, until either side ends it or a request is cut."""
        try:
            answers, onward = await asyncio.open_connection("127.0.0.1", self.target_port)
        except OSError:
            writer.close()
            return
        back = asyncio.ensure_future(pass_back(answers, writer))
        try:
            while await self.pass_request(reader, onward):
                pass
        except (asyncio.IncompleteReadError, OSError):
            pass
        finally:
            back.cancel()
            # Not close(): that waits for what a killed server takes no more, and the socket would outlive the storm.
            onward.transport.abort()
            writer.close()

    async def pass_request(self, reader: asyncio.StreamReader, onward: asyncio.StreamWriter) -> bool:
        """One request; False when it was cut."""
        head = await reader.readuntil(b"\r\n\r\n")
        onward.write(head)
        length, cut = LENGTH.search(head), CUT.search(head)
        left = int(length[1]) if length else 0
        if cut:
            self.cuts += 1
            left = int(left * float(cut[1]))
        while left:
            piece = await reader.readexactly(min(left, PIECE))
            onward.write(piece)
            await onward.drain()
            left -= len(piece)
        return not cut


async def pass_back(answers: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
    """All answers, as they come."""
    with contextlib.suppress(OSError):
        while piece := await answers.read(PIECE):
            writer.write(piece)
            await writer.drain()
    writer.close()
