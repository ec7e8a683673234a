"""``simedge run``: one knife in one piece of work."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from simedge.errors import BadInput, Problem

if TYPE_CHECKING:
    from simedge.inputs.case import Case

OUT_FOLDER = Path("simedge-out")
#: How deep in the cut where nothing is said, mm.
USUAL_DEPTH_MM = 0.5
#: Which option a field of the case came from.
OPTION_OF_FIELD: dict[tuple[str | int, ...], str] = {
    ("steel", "grade"): "--steel",
    ("steel", "hardness_hrc"): "--hrc",
    ("steel",): "--steel",
    ("support", "clamp_depth_mm"): "--clamp",
    ("accuracy_percent",): "--accuracy",
    ("tolerated_damage_um",): "--tolerate",
}
LOAD_OPTIONS = {
    "medium": "--medium",
    "depth_in_cut_mm": "--depth",
    "side": "--side",
    "level": "--level",
    "friction": "--friction",
    "hand_force_n": "--hand-force",
}


def named_folder(
    _context: click.Context, _option: click.Parameter, text: str | None
) -> Path | None:
    """Take a folder's name; the empty text of an unset shell variable is none."""
    if text is not None and not text.strip():
        raise BadInput(Problem("--out", "is empty; name a folder, or . for this one"))
    if text is not None and text.startswith("-"):  # the next option, taken for a folder's name
        raise BadInput(Problem("--out", f"is {text}, which looks like an option; name a folder"))
    return None if text is None else Path(text)


@click.command()
@click.argument("case", required=False)
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
@click.option("--json", "as_json", is_flag=True, help="Print result.json instead of the tables.")
@click.option("--check", is_flag=True, help="End with 1 if the edge does not come through.")
@click.option("--dps", type=float, help="Edge bevel, degrees per side: a run without a case file.")
@click.option("--profile", help="Instead of --dps: a profile, or a traced outline (CSV).")
@click.option("--micro", type=float, help="Micro-bevel, degrees per side.")
@click.option("--micro-height", type=float, help="Height of the micro-bevel, mm.  [0.1]")
@click.option("--behind-edge", type=float, help="Thickness behind the edge bevel, mm.  [0.4]")
@click.option("--height", type=float, help="Edge to spine, mm.  [30]")
@click.option("--spine", type=float, help="Thickness at the spine, mm.  [3]")
@click.option("--radius-um", type=float, help="Radius of the apex, µm.  [1]")
@click.option("--steel", help='Open designation, see "simedge steels".')
@click.option("--hrc", type=float, help="Hardness, HRC.")
@click.option("--medium", help='What is cut, see "simedge media".')
@click.option("--depth", type=float, help="Depth in the cut, mm.  [0.5]")
@click.option("--side", type=click.Choice(["left", "right", "both"]), help="Face that is pressed.")
@click.option("--level", type=click.Choice(["low", "typical", "high"]), help="Of the medium.")
@click.option("--friction", type=float, help="Of the medium on the faces.  [0.3]")
@click.option("--hand-force", type=float, help="What the hand gives, N.  [100]")
@click.option("--clamp", type=float, help="Depth from which the blade is held, mm.  [the spine]")
@click.option("--accuracy", type=float, help="Accuracy aimed at, percent.  [1]")
@click.option("--tolerate", help="Damage that nobody minds, µm, or words for it.  [5]")
def run(case: str | None, folder: Path | None, as_json: bool, check: bool, **options: Any) -> int:
    """Say whether an edge comes through the work of a CASE, with pictures and files.

    CASE is a TOML file or the name of a case that comes along. Without one, write the edge down
    by options: --dps 7 --micro 11 --micro-height 0.1 --steel 52100 --hrc 60 --medium "hard wood"
    --depth 0.5. Without --side both the straight and the crooked cut are run. With --profile the
    edge is that of a profile, by its name or file, or of a traced outline; --radius-um then puts
    another apex on it.
    """
    from simedge.inputs.files import read_case_file

    given = {key: value for key, value in options.items() if value is not None}
    if case is not None:
        if given:
            names = ", ".join("--" + key.replace("_", "-") for key in given)
            raise click.UsageError(f"{names} cannot be given beside a case file; edit the file")
        read = read_case_file(case)
        return answer_case(read.case, read.name, read.echoes, folder, as_json, check=check)
    edge = "profile" if "profile" in given else "dps"
    missing = [key for key in (edge, "steel", "hrc", "medium") if key not in given]
    if missing:
        names = ", ".join("--" + key for key in missing)
        raise click.UsageError(
            f"give a CASE, or the edge by options: {names} missing (simedge run --help)"
        )
    made, echoes = case_from_options(given)
    name = re.sub(r"[^a-z0-9]+", "-", made.title.lower()).strip("-")
    return answer_case(made, name, echoes, folder, as_json, check=check)


def case_from_options(given: dict[str, Any]) -> tuple[Case, tuple[str, ...]]:
    """Build a case from the options of a quick run, and tell the defaults that were taken."""
    from simedge.cli.quick_edge import quick_edge
    from simedge.inputs.case import Case
    from simedge.inputs.door import validated_arguments

    edge = quick_edge(given)
    sides = {"both": "straight", "left": "crooked, left face", "right": "crooked, right face"}
    chosen = [given["side"]] if "side" in given else ["both", "left"]
    optional = {
        field: given[key]
        for key, field in (
            ("level", "level"),
            ("friction", "friction"),
            ("hand_force", "hand_force_n"),
        )
        if key in given
    }
    loads = [
        {
            "name": sides[side],
            "medium": given["medium"],
            "depth_in_cut_mm": given.get("depth", USUAL_DEPTH_MM),
            "side": side,
            **optional,
        }
        for side in chosen
    ]
    data = {
        "title": f"{edge.words} in {given['medium']}",
        "profile": edge.profile,
        "steel": {"grade": given["steel"], "hardness_hrc": given["hrc"]},
        "support": {"clamp_depth_mm": given["clamp"]} if "clamp" in given else {},
        "accuracy_percent": given.get("accuracy", 1.0),
        **({"tolerated_damage_um": tolerated(given["tolerate"])} if "tolerate" in given else {}),
        "loads": loads,
    }
    places = {**OPTION_OF_FIELD, **edge.places}
    for index in range(len(loads)):
        for field, option in LOAD_OPTIONS.items():
            places[("loads", index, field)] = option
    taken = [*edge.taken]
    if "depth" not in given:
        taken.append(f"{USUAL_DEPTH_MM:g} mm deep in the cut")
    echoes = (f"taken where nothing was said: {', '.join(taken)}",) if taken else ()
    return validated_arguments(Case, data, places), echoes


def tolerated(text: str) -> float | str:
    """Take a number where one is written; words are left to the case.

    >>> tolerated("12.5"), tolerated("felt on the nail")
    (12.5, 'felt on the nail')
    """
    try:
        return float(text)
    except ValueError:
        return text


def answer_case(
    case: Case,
    name: str,
    echoes: tuple[str, ...],
    folder: Path | None,
    as_json: bool,
    *,
    check: bool = False,
) -> int:
    """Run a case, write its files and print its answer; 1 where a check fails."""
    from simedge.output.answer_folder import prepare_folder, write_answer
    from simedge.output.result_json import result_text
    from simedge.output.terminal import console, print_run
    from simedge.runs.run import run_case

    # a case called "..toml" must not put its answer in somebody's working folder
    target = OUT_FOLDER / (name.strip(". ") or "case") if folder is None else folder
    prepare_folder(target, make_parents=folder is None)
    done = run_case(case)
    files = write_answer(done, target)
    code = 1 if check and not done.comes_through else 0
    if as_json:
        click.echo(result_text(done), nl=False)
        return code
    out = console()
    print_run(done, out)
    for echo in echoes:
        out.print(echo)
    out.print()
    out.print(f"picture: {files[0]}")
    out.print(f"also in {target}: {', '.join(path.name for path in files[1:])}")
    return code
