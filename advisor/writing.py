"""Files written: whole or not at all, in the place that the user named, with nothing left lying about.

A link is followed and stays a link. A device or a pipe is written to. A file keeps its mode; the text is made ready
without a name where the system can do that (O_TMPFILE of Linux), so that a kill leaves nothing behind.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import stat
import sys
from pathlib import Path

from advisor.errors import InputError, Problem

_OPEN_FILE = re.compile(r"/(?:dev|proc/self)/fd/(\d+)")
_OWN_NAMES = {"/dev/stdin": 0, "/dev/stdout": 1, "/dev/stderr": 2}
_NEW = "advisor-new"  # ends the name of a file that is not whole yet
_MOST_LINKS = 40


def write_whole(path: Path, content: str | bytes, like: Path | None = None) -> None:
    """Write a file so that it is there whole or not at all; InputError where it cannot be written.

    A new file takes its mode from `like`, a file that is there keeps its own unless `like` is named.
    """
    data = content.encode("utf-8", "replace") if isinstance(content, str) else content
    try:
        number = _own(path)
        if number is not None:
            _pour(os.dup(number), data)
            return
        target = Path(os.path.realpath(path))
        try:
            there = os.stat(path)
        except FileNotFoundError:
            there = None
        if there is None or stat.S_ISREG(there.st_mode):
            _replace(target, data, os.stat(like) if like else there, there is not None)
        elif stat.S_ISDIR(there.st_mode):
            raise IsADirectoryError(errno.EISDIR, "it is a folder")
        else:
            _pour(os.open(path, os.O_WRONLY), data)
    except (OSError, ValueError) as error:  # ValueError: a name with a byte of zero
        reason = (getattr(error, "strerror", None) or "no file can have this name").lower()
        raise InputError([Problem(str(path), 0, 0, f"cannot be written: {reason}.")]) from error


def _own(path: Path) -> int | None:
    """The number of a file that this process holds open already, such as /dev/stdout; links are followed.

    Opened anew it would begin at the start again; replaced, what the shell has opened would be lost.
    """
    at = os.path.abspath(path)
    for _ in range(_MOST_LINKS):
        if at in _OWN_NAMES:
            return _OWN_NAMES[at]
        if found := _OPEN_FILE.fullmatch(at):
            return int(found[1])
        if not os.path.islink(at):
            return None
        at = os.path.normpath(os.path.join(os.path.dirname(at), os.readlink(at)))
    return None


def _pour(handle: int, data: bytes) -> None:
    """Write to what is open, and close it; a reader who went away is no mistake."""
    sys.stdout.flush()
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
    except BrokenPipeError:
        return


def _replace(target: Path, data: bytes, like: os.stat_result | None, there: bool) -> None:
    folder = target.parent
    _sweep(target)
    named = folder / f".{target.name[:50]}.{os.getpid()}.{_NEW}"
    handle, nameless = _new_file(folder, named)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            if like is not None:
                _take_after(file.fileno(), like)
            if nameless and not there:
                try:
                    _name(file.fileno(), target)
                    return
                except FileExistsError:
                    pass  # somebody was quicker; then it is replaced
            if nameless:
                _name(file.fileno(), named)  # from here to the next line is when a kill leaves a name behind
                os.replace(named, target)
                return
        os.replace(named, target)  # closed before: some systems rename no open file
    except BaseException:
        named.unlink(missing_ok=True)
        raise


def _new_file(folder: Path, named: Path) -> tuple[int, bool]:
    """A file to write, and whether it has no name yet."""
    if hasattr(os, "O_TMPFILE") and os.path.isdir("/proc/self/fd"):
        try:
            return os.open(folder, os.O_TMPFILE | os.O_WRONLY, 0o666), True
        except OSError as error:
            if error.errno not in (errno.EOPNOTSUPP, errno.EISDIR, errno.EINVAL):
                raise
    return os.open(named, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666), False


def _name(handle: int, path: Path) -> None:
    # With a folder's handle Python calls linkat, which follows the link in /proc; link would not.
    folder = os.open("/proc/self/fd", os.O_RDONLY)
    try:
        os.link(str(handle), path, src_dir_fd=folder, follow_symlinks=True)
    finally:
        os.close(folder)


def _take_after(handle: int, like: os.stat_result) -> None:
    """Owner, where that is allowed, and mode of the file that was there."""
    if hasattr(os, "fchown"):
        with contextlib.suppress(OSError):
            os.fchown(handle, like.st_uid, like.st_gid)
    if hasattr(os, "fchmod"):
        os.fchmod(handle, stat.S_IMODE(like.st_mode) & 0o777)


def _sweep(target: Path) -> None:
    """Remove what a run that was killed has left of this file."""
    mark = re.compile(rf"\.{re.escape(target.name[:50])}\.(\d+)\.{_NEW}")
    for name in os.listdir(target.parent):
        found = mark.fullmatch(name)
        if found and not _runs(int(found[1])):
            (target.parent / name).unlink(missing_ok=True)


def _runs(process: int) -> bool:
    if process == os.getpid():
        return False  # of an earlier process with this number
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True
