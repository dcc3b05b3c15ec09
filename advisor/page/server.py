"""The page on this machine: an address, as many workers as cores, and a clean end on a signal."""

from __future__ import annotations

import os
import socket
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from advisor.errors import InputError, Problem

LOOPBACK = ("127.0.0.1", "localhost", "::1")
_ALL = ("0.0.0.0", "::", "")


def serve(
    place: Path | None, address: str, port: int, names: Sequence[str] = (), browser: bool = True, workers: int = 0
) -> None:
    """Serve until a signal comes. InputError where the address is taken or the place holds no plan."""
    import uvicorn

    from advisor.page.answers import prepare
    from advisor.page.app import make_app
    from advisor.page.folder import Folder
    from advisor.page.workers import Workers

    folder = Folder(place) if place is not None else None
    listening = _listen(address, port)
    port = listening.getsockname()[1]
    pool = Workers(workers or max(2, os.cpu_count() or 1), prepare)
    app = make_app(hosts(address, port, names), pool, folder)
    own = "localhost" if address in LOOPBACK else address
    shown = f"http://{f'[{own}]' if ':' in own else own}:{port}/"
    if address not in LOOPBACK:
        print(f"Careful: whoever reaches {address} can use this page and read what is in its folder.", file=sys.stderr)
    print(f"The page is at {shown} (Ctrl+C ends it)", flush=True)
    if browser:
        import webbrowser

        webbrowser.open(shown)
    config = uvicorn.Config(app, log_level="warning", lifespan="on", ws="none", server_header=False, access_log=False,
                            timeout_keep_alive=5, timeout_graceful_shutdown=3, limit_concurrency=400)  # fmt: skip
    uvicorn.Server(config).run(sockets=[listening])


def hosts(address: str, port: int, names: Iterable[str] = ()) -> list[str]:
    """The names under which a browser may call the page, as they stand in its Host line."""
    own = [*LOOPBACK, *([] if address in _ALL else [address])]
    plain = [f"[{name}]" if ":" in name else name for name in own]
    return [*(f"{name}:{port}" for name in plain), *(plain if port == 80 else ()), *names]


def _listen(address: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    one = socket.socket(family, socket.SOCK_STREAM)
    one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        one.bind((address, port))
        one.listen(128)  # whoever comes while the rules are read waits
    except (OSError, OverflowError) as error:
        one.close()
        reason = (getattr(error, "strerror", None) or "no such port").lower()
        raise InputError(
            [Problem(f"{address}:{port}", 0, 0, f"cannot be listened at: {reason}. Try --port 0.")]
        ) from error
    return one
