"""``simedge verify``: what it says, the files that it leaves, and how it ends."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from simedge.cli.main import main
from simedge.studies.verify import suite
from simedge.studies.verify.check import Check, Comparison

Capture = pytest.CaptureFixture[str]
QUICK = ["wedge-constants", "two-slope-table"]
BAD = Check(
    key="bad",
    title="One & two <are> three",
    source="nobody",
    reason="None.",
    compare=lambda: (
        Comparison(what="sum", computed=2.0, reference=3.0, unit="mm", tolerance=0.1),
        Comparison(what="none", computed=float("nan"), reference=1.0, unit="", tolerance=0.1),
    ),
)


def broken() -> tuple[Comparison, ...]:
    raise ValueError("no <numbers> today")


BROKEN = Check(key="broken", title="Broken", source="nobody", reason="None.", compare=broken)


def words(text: str) -> str:
    return " ".join(text.split())


def test_checks_that_hold(capsys: Capture) -> None:
    assert main(["verify", *QUICK]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert words(said.out).startswith("All 2 checks hold: 29 numbers lie as close to published")
    assert re.search(r"wedge-constants +17 +[-+]\S+\s%\s+5e-06\s%\s+holds\s+< 0.1 s", said.out)


def test_the_list_tells_every_key_and_runs_none(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(suite, "run_check", pytest.fail)
    assert main(["verify", "--list"]) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"{len(suite.CHECKS)} checks; ")
    assert all(f"\n{check.key} " in said for check in suite.CHECKS)


def test_an_unknown_key_is_told_with_the_nearest(capsys: Capture, tmp_path: Path) -> None:
    assert main(["verify", "wedge-konstants", "--out", str(tmp_path / "answer")]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert 'KEY: is "wedge-konstants", but no check is called that' in said.err
    assert 'did you mean "wedge-constants"?' in said.err
    assert not (tmp_path / "answer").exists()


def test_a_check_that_fails_ends_with_one(capsys: Capture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(suite, "CHECKS", (suite.CHECKS[0], BAD, BROKEN))
    assert main(["verify"]) == 1
    said = words(capsys.readouterr().out)
    assert said.startswith("2 of 3 checks fail: bad, broken.")
    assert "bad fails: One & two <are> three" in said
    assert "sum: computed 2 mm, reference 3 mm, difference -33 %, allowed 10 %" in said
    assert "none: computed nan, reference 1, difference no number" in said
    assert "stopped by ValueError: no <numbers> today" in said


class _Page(HTMLParser):
    """Collects what the page's elements are."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attributes
        if tag not in ("meta", "link", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def read_page(file: Path) -> tuple[str, _Page]:
    text = file.read_text(encoding="utf-8")
    page = _Page()
    page.feed(text)
    assert page.open == []
    return text, page


def test_the_report_is_one_page_that_needs_nothing(tmp_path: Path, capsys: Capture) -> None:
    assert main(["verify", *QUICK, "--out", str(tmp_path / "answer")]) == 0
    assert "report: " in capsys.readouterr().out
    text, page = read_page(tmp_path / "answer" / "verify.html")
    assert not {"script", "link", "img", "iframe"} & set(page.tags)
    assert "http" not in text
    assert ("lang", "en") in page.attributes
    assert page.tags.count("table") == page.tags.count("caption") == 3
    assert page.tags.count("title") == 1
    # targets of the links are there
    links = [value for key, value in page.attributes if key == "href"]
    assert links == [f"#{key}" for key in QUICK]
    assert {("id", key) for key in QUICK} <= set(page.attributes)
    for told in ("0.51179939", "J.H. Michell", "eight printed digits", "prefers-color-scheme"):
        assert told in text
    assert text.count(">holds<") == 2 + 2 + 29
    assert "FAILS" not in text


def test_a_failure_is_a_word_in_the_report(
    tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(suite, "CHECKS", (BAD, BROKEN))
    assert main(["verify", "--out", str(tmp_path)]) == 1
    text, _ = read_page(tmp_path / "verify.html")
    assert text.count(">FAILS<") == 2 + 2 + 2
    assert "One &amp; two &lt;are&gt; three" in text
    assert "no &lt;numbers&gt; today" in text
    document = json.loads((tmp_path / "verify.json").read_text("utf-8"), parse_constant=pytest.fail)
    assert document["verdict"] == "fails"
    assert document["checks"][0]["comparisons"][1]["computed"] is None
    assert document["checks"][1]["broken"] == "ValueError: no <numbers> today"


def test_the_document_holds_all_numbers(tmp_path: Path, capsys: Capture) -> None:
    assert main(["verify", *QUICK, "--out", str(tmp_path)]) == 0
    document = json.loads((tmp_path / "verify.json").read_text("utf-8"), parse_constant=pytest.fail)
    assert document["made_by"] == "simedge"
    assert document["schema_version"] == 1
    assert document["verdict"] == "holds"
    assert [check["key"] for check in document["checks"]] == QUICK
    first = document["checks"][0]
    assert set(first) == {
        *("key", "title", "source", "reason", "verdict", "broken", "comparisons"),
    }
    assert set(first["comparisons"][0]) == {
        *("what", "computed", "reference", "unit", "tolerance", "absolute"),
        *("difference", "verdict"),
    }
    assert len(first["comparisons"]) == 17


def test_twice_the_same_bytes(tmp_path: Path, capsys: Capture) -> None:
    contents = []
    for _ in range(2):
        assert main(["verify", *QUICK, "--out", str(tmp_path)]) == 0
        contents.append([(tmp_path / name).read_bytes() for name in ("verify.html", "verify.json")])
    assert contents[0] == contents[1]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["verify.html", "verify.json"]


def test_a_strangers_file_is_left_alone(tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "verify.html").write_text("mine", encoding="utf-8")
    assert main(["verify", *QUICK, "--out", str(tmp_path)]) == 2
    assert "verify.html, but no earlier answer of simedge" in capsys.readouterr().err
    assert (tmp_path / "verify.html").read_text(encoding="utf-8") == "mine"


def test_text_stands_out_from_its_ground() -> None:
    """WCAG 2: contrast of text at least 7, of lines at least 3, by light and in the dark."""
    template = Path(suite.__file__).parents[2] / "output" / "templates" / "verify.html"
    grounds = re.findall(
        r"--paper: (#\w+); --ink: (#\w+); --quiet: (#\w+); --line: (#\w+)",
        template.read_text(encoding="utf-8"),
    )
    assert len(grounds) == 3  # light, dark, print
    for paper, ink, quiet, line in grounds:
        assert contrast(ink, paper) >= 7.0
        assert contrast(quiet, paper) >= 7.0
        assert contrast(line, paper) >= 3.0


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
