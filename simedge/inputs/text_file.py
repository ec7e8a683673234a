"""A person's file as text: what is no file, no text or too large is refused in one line."""

from __future__ import annotations

import codecs
import stat
from difflib import get_close_matches
from itertools import islice
from pathlib import Path
from typing import Final, NoReturn

from simedge.errors import BadInput, Problem
from simedge.inputs.shown_values import one_line

#: The longest case of ours has some kilobytes; what is larger is another kind of file.
LARGEST_FILE_BYTES: Final = 1_000_000


def refuse_file(where: str, message: str) -> NoReturn:
    """Refuse a file, or a place in it."""
    raise BadInput(Problem(where, message)) from None


def read_text_file(file: Path, shown_name: str, *, ending: str, kind: str, question: str) -> str:
    """Read a person's file as text.

    Parameters
    ----------
    file : Path
        The file, of at most ``LARGEST_FILE_BYTES``; UTF-8, with or without a byte
        order mark.
    shown_name : str
        How messages name it.
    ending : str
        Of the files that belong here, such as ``.toml``.
    kind : str
        What the text must be, such as ``TOML text``.
    question : str
        What is asked of a file that is too large.

    Returns
    -------
    str
        Its text, line ends as they are.

    Raises
    ------
    BadInput
        One line, whatever is wrong: the file is missing (its nearest neighbours are
        named), is a folder, cannot be read, is too large, or is no UTF-8 text.
    """
    try:
        status = file.stat()
        if stat.S_ISDIR(status.st_mode):
            held = ", ".join(islice(sorted(one_line(p.name) for p in file.glob(f"*{ending}")), 3))
            refuse_file(
                shown_name, f"is a folder, but must be a file; it holds {held or f'no {ending}'}"
            )
        if not stat.S_ISREG(status.st_mode):  # a pipe could wait for ever, a device never end
            refuse_file(shown_name, "is a pipe or device, but must be an ordinary file")
        if status.st_size > LARGEST_FILE_BYTES:
            size_mb = status.st_size / 1e6
            refuse_file(shown_name, f"is {size_mb:.3g} MB, but must be at most 1 MB; {question}")
        with file.open("rb") as stream:
            raw = stream.read(LARGEST_FILE_BYTES + 1)  # it may have grown since
    except (FileNotFoundError, NotADirectoryError):
        refuse_file(shown_name, f"there is no such file; {_neighbours(file)}")
    except OSError as error:
        refuse_file(shown_name, f"cannot be read ({error.strerror}); check the name and its rights")
    except ValueError:  # a name with a NUL, or one that the system cannot encode
        refuse_file(shown_name, "is no name that a file can have")
    return _decoded(raw, shown_name, kind)


def _neighbours(file: Path) -> str:
    folder = one_line(str(file.parent), longest=400)
    try:
        # Some thousands are enough to help, and a huge folder must not take seconds.
        names = sorted(entry.name for entry in islice(file.parent.iterdir(), 5000))
    except OSError:
        return f"nor is there a folder {folder}"
    wanted = file.name.lower()
    by_lower = {name.lower(): name for name in names}
    near = [name for lower, name in by_lower.items() if lower.rpartition(".")[0] == wanted]
    near += [by_lower[lower] for lower in get_close_matches(wanted, by_lower, n=3, cutoff=0.7)]
    if near:
        return "did you mean " + " or ".join(one_line(n) for n in dict.fromkeys(near)) + "?"
    return f"nothing in {folder} has a name like it"


def _decoded(raw: bytes, shown_name: str, kind: str) -> str:
    raw = raw.removeprefix(codecs.BOM_UTF8)
    marked = raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE, codecs.BOM_UTF32_BE))
    zeros = [raw[half::2].count(0) for half in (0, 1)]  # Latin letters: every second byte
    if marked or (len(raw) > 3 and min(zeros) == 0 and max(zeros) > 0.4 * len(raw)):
        refuse_file(shown_name, "is UTF-16 or UTF-32 text, but must be UTF-8; save it as UTF-8")
    unprintable = len(raw.translate(None, bytes(range(32, 256)) + b"\t\n\r\f"))
    if 0 in raw or unprintable > 2 + len(raw) // 50:
        refuse_file(shown_name, f"is a binary file, but must be {kind}")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        byte = raw[error.start]
        refuse_file(
            f"{shown_name}:{line}", f"byte 0x{byte:02x} is not UTF-8; save the file as UTF-8"
        )
