"""How long an honest phone waits for its sync while others hold connections that they have stopped using.

python3 tests/bench/stalled.py [CONNECTIONS]; prints milliseconds, alone and beside them, and their ratio.
"""

import json
import socket
import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from examples import STRIP, entry
from running import HttpClient, RunningServer, new_id

SYNCS = 50


def sync_ms(client, first):
    """Milliseconds of each of SYNCS syncs that bring one entry."""
    found = []
    for number in range(first, first + SYNCS):
        body = {"version": "0.1.0", "device": new_id(), "strips": {STRIP: {"cursor": 0, "entries": [entry(number)]}}}
        began = time.perf_counter()
        status, _ = client.ask_json("/api/sync", body)
        found.append((time.perf_counter() - began) * 1000)
        assert status == 200
    return found


def stall(server, client, whole):
    """A connection whose request stops in the middle: of its head, or of its body."""
    connection = socket.create_connection(("127.0.0.1", server.port))
    head = f"POST /api/sync HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nContent-Length: 900\r\n"
    head += "".join(f"{name}: {value}\r\n" for name, value in client.headers.items())
    connection.sendall((head + ("\r\n{" if whole else "")).encode())
    return connection


def main(count):
    with tempfile.TemporaryDirectory() as folder:
        server = RunningServer(Path(folder) / "data").start()
        try:
            honest, stuck = (HttpClient(server.port, server.pair("hand")) for _ in range(2))
            honest.hello()
            stuck.hello()
            alone = sync_ms(honest, 0)
            stalled = [stall(server, stuck, number % 2 == 0) for number in range(count)]
            beside = sync_ms(honest, SYNCS)
            for each in stalled:
                each.close()
        finally:
            server.stop()
    result = {"stalled": count}
    for name, found in (("alone", alone), ("beside", beside)):
        result |= {f"{name}_median_ms": round(statistics.median(found), 1), f"{name}_longest_ms": round(max(found), 1)}
    result["ratio_of_medians"] = round(statistics.median(beside) / statistics.median(alone), 2)
    print(json.dumps(result))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 64)
