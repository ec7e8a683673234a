"""What README quotes is what its commands say."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from simedge.cli.main import main

README = Path(__file__).parents[2] / "README.md"
#: A fenced block of commands, or quoted lines.
PIECES = re.compile(
    r"^```\n(?P<commands>(?:simedge .*\n)+)```$|(?P<quote>(?:^> .*\n)+)", re.MULTILINE
)


def as_one_line(text: str) -> str:
    """Take the line breaks out."""
    return " ".join(text.split())


def quoted() -> Iterator[tuple[str, tuple[str, ...]]]:
    """Give each quote with the commands in front of it, the nearest first."""
    commands: list[str] = []
    for piece in PIECES.finditer(README.read_text(encoding="utf-8")):
        if piece["commands"]:
            commands = [*piece["commands"].splitlines(), *commands][:4]
        else:
            words = re.sub(r"^> ", "", piece["quote"], flags=re.MULTILINE)
            yield as_one_line(words), tuple(commands)


QUOTES = tuple(quoted())
said: dict[str, str] = {}


def output_of(command: str, capsys: pytest.CaptureFixture[str]) -> str:
    """Run a command once and give what it prints."""
    if command not in said:
        main(shlex.split(command)[1:])
        said[command] = as_one_line(capsys.readouterr().out)
    return said[command]


def test_there_are_quotes() -> None:
    assert len(QUOTES) >= 9


@pytest.mark.slow
@pytest.mark.usefixtures("no_files")
@pytest.mark.parametrize("quote", range(len(QUOTES)), ids=lambda n: QUOTES[n][0][:40])
def test_a_quote_is_what_a_command_in_front_of_it_says(
    quote: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    words, commands = QUOTES[quote]
    assert any(words in output_of(command, capsys) for command in commands), commands
