"""``simedge new``: five plain questions make a case file, and run it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import click

from simedge.cli.run import named_folder
from simedge.errors import BadInput, Problem

SIDES = {"straight": "both", "crooked": "left", "left": "left", "right": "right", "both": "both"}
LEVELS = {"easy": "low", "usual": "typical", "hard": "high", "low": "low", "high": "high"}


@click.command()
@click.option("--out", "folder", callback=named_folder, help="Folder for the files.")
def new(folder: Path | None) -> int:
    """Ask five plain questions, write a commented case file and run it."""
    from simedge.cli.run import answer_case
    from simedge.inputs.files import read_case_file

    _check_working_folder()
    answers = ask()
    text = case_text(answers)
    path = _free_name(answers["name"])
    path.write_text(text, encoding="utf-8")
    click.echo(f"wrote {path}: change a number there and run it again with: simedge run {path}")
    click.echo()
    read = read_case_file(path)
    return answer_case(read.case, read.name, read.echoes, folder, as_json=False)


def _check_working_folder() -> None:
    """Refuse a folder that takes no file before anybody has answered five questions for it."""
    import tempfile

    try:
        with tempfile.TemporaryFile(dir=Path.cwd()):
            pass
    except OSError as error:
        message = f"takes no file ({error.strerror}); change to another one"
        raise BadInput(Problem("the working folder", message)) from error


def ask() -> dict[str, Any]:
    """Ask the five questions, each again until its answer can be read."""
    from simedge.inputs.files import library_files, read_profile

    knives = [name for name in library_files("profiles") if not name.startswith("chisel")]
    click.echo("Five questions; press Enter to take what stands in brackets.")
    click.echo(f"The knives of the loan rack: {', '.join(library_files('profiles'))}.")

    def knife(text: str) -> str:
        read_profile(text)
        return text

    name = _asked("1. Which knife? A name from the rack, or a profile file", knives[0], knife)
    profile = read_profile(name)
    angles = _asked_angles(profile)
    steel = _asked("3. Which steel, and how hard in HRC?", "52100 60", parse_steel)
    work = _asked(
        '4. What work? A medium and the depth in the cut in mm ("simedge media" lists them)',
        "hard wood 0.5",
        parse_work,
    )
    manner = _asked(
        "5. How hard, and straight or crooked? easy, usual or hard; straight, crooked or both",
        "usual both",
        parse_manner,
    )
    return {
        "name": f"{Path(name).stem}-in-{work['medium']}".replace(" ", "-"),
        "profile": profile,
        "file": name,
        "angles": angles,
        **steel,
        **work,
        **manner,
    }


def _asked(question: str, default: str, parse: Any) -> Any:
    while True:
        text = click.prompt(question, default=default)
        try:
            return parse(str(text).strip())
        except BadInput as error:
            click.echo(f"   {error}")
        except ValueError as error:
            click.echo(f"   {error}")


def _asked_angles(profile: Any) -> tuple[tuple[float, float, float | None], ...] | None:
    """Ask for other bevels; None where the profile's own are meant, or it was traced."""
    if not hasattr(profile, "bevels"):
        click.echo("2. Its edge is the one that was traced.")
        return None
    usual = _angles_as_written(profile)
    angles: tuple[tuple[float, float, float | None], ...] = _asked(
        "2. Its edge? Degrees per side, apex first: 11, or a micro-bevel with its height in mm "
        "before it: 15 x 0.08, 11",
        usual,
        parse_angles,
    )
    return None if angles == parse_angles(usual) else angles


def _angles_as_written(profile: Any) -> str:
    parts = []
    for bevel in profile.bevels:
        left, right = bevel.sides_deg
        angle = f"{left:g}" if left == right else f"{left:g}/{right:g}"
        parts.append(f"{angle} x {bevel.height_mm:g}" if bevel.height_mm else angle)
    return ", ".join(parts) or "as ground"


def parse_angles(text: str) -> tuple[tuple[float, float, float | None], ...]:
    """Read bevels, apex first: left and right angle, and a height in mm or None.

    >>> parse_angles("15 x 0.08, 11")
    ((15.0, 15.0, 0.08), (11.0, 11.0, None))
    """
    if text == "as ground":
        return ()
    bevels = []
    for part in text.split(","):
        matched = re.fullmatch(
            r"\s*([\d.]+)(?:\s*/\s*([\d.]+))?(?:\s*(?:x|by|\*)\s*([\d.]+)(?:\s*mm)?)?\s*", part
        )
        if matched is None:
            raise ValueError(
                f'"{part.strip()}" is no bevel; write 11, or 15 x 0.08 for 15 degrees per side '
                "over 0.08 mm, with a dot for the decimals"
            )
        left = float(matched[1])
        right = float(matched[2]) if matched[2] else left
        bevels.append((left, right, float(matched[3]) if matched[3] else None))
    if any(height is None for _, _, height in bevels[:-1]):
        raise ValueError("every bevel but the last needs its height in mm: 15 x 0.08, 11")
    return tuple(bevels)


def parse_steel(text: str) -> dict[str, Any]:
    """Read a grade and a hardness."""
    from simedge.inputs.door import validated_arguments
    from simedge.inputs.steel import Steel

    grade, _, hardness = text.replace("HRC", "").strip().rpartition(" ")
    try:
        hrc = float(hardness)
    except ValueError:
        raise ValueError("write the grade and the hardness, as in 52100 60") from None
    where: dict[tuple[str | int, ...], str] = {("grade",): "steel", ("hardness_hrc",): "hardness"}
    validated_arguments(Steel, {"grade": grade.strip(), "hardness_hrc": hrc}, where)
    return {"grade": grade.strip(), "hardness_hrc": hrc}


def parse_work(text: str) -> dict[str, Any]:
    """Read a medium and a depth."""
    from simedge.inputs.medium import find_medium

    medium, _, depth = text.removesuffix("mm").strip().rpartition(" ")
    try:
        depth_mm = float(depth)
    except ValueError:
        raise ValueError("write what is cut and how deep in mm, as in hard wood 0.5") from None
    try:
        found = find_medium(medium.strip())
    except KeyError as error:
        raise ValueError(f"the medium {error.args[0]}") from None
    return {"medium": found.name, "depth_in_cut_mm": depth_mm}


def parse_manner(text: str) -> dict[str, Any]:
    """Read how hard, and straight or crooked, in any order.

    >>> parse_manner("crooked hard")
    {'level': 'high', 'sides': ('left',)}
    """
    level: str = "typical"
    sides: tuple[str, ...] = ("both", "left")
    for word in re.split(r"[\s,]+", text.lower().strip()):
        if word == "both":
            sides = ("both", "left")
        elif word in LEVELS:
            level = LEVELS[word]
        elif word in SIDES:
            sides = (SIDES[word],)
        elif word not in ("usual", "and"):
            raise ValueError(
                f'"{word}" is not understood; write easy, usual or hard, and straight, crooked or '
                "both"
            )
    return {"level": level, "sides": sides}


def _text(words: str) -> str:
    r"""Write text as TOML takes it: JSON's escapes are among TOML's.

    >>> print(_text('the "old" knife'))
    "the \"old\" knife"
    """
    return json.dumps(words)


def _free_name(name: str) -> Path:
    """Give a file name that is not taken: nothing of the person's is overwritten."""
    stem = re.sub(r"[^a-z0-9-]+", "-", name.lower()).strip("-")
    path, number = Path(f"{stem}.toml"), 2
    while path.exists():
        path, number = Path(f"{stem}-{number}.toml"), number + 1
    return path


def case_text(answers: dict[str, Any]) -> str:
    """Write the case file, with a comment where a person may want to change something."""
    profile = answers["profile"]
    lines = [
        "schema = 1",
        f"title = {_text(profile.name + ' in ' + answers['medium'])}",
        "accuracy_percent = 1.0       # how closely the stress is computed; smaller takes longer",
        'tolerated_damage_um = 5.0    # damage that nobody minds; or "felt on the nail"',
        "",
        *(
            _profile_lines(profile, answers["angles"])
            if hasattr(profile, "bevels")
            else [f"profile = {_text(answers['file'])}"]
        ),
        "",
        "[steel]",
        f'grade = "{answers["grade"]}"           # simedge steels lists them',
        f"hardness_hrc = {answers['hardness_hrc']:g}",
        "",
        "# [support]",
        "# clamp_depth_mm = 12.0       # held from there on; without it, at the spine",
    ]
    for side in answers["sides"]:
        lines += [
            "",
            "[[loads]]",
            f'name = "{"straight cut" if side == "both" else "crooked cut"}"',
            f'medium = "{answers["medium"]}"        # simedge media lists them',
            f"depth_in_cut_mm = {answers['depth_in_cut_mm']:g}",
            f'side = "{side}"              # the face that is pressed: left, right or both',
            f'level = "{answers["level"]}"          # low, typical or high of the medium',
            "friction = 0.3               # drags the faces towards the spine",
            "hand_force_n = 100.0         # one hand; two hands or body weight: 250",
        ]
    return "\n".join(lines) + "\n"


def _profile_lines(profile: Any, angles: Any) -> list[str]:
    apex = profile.apex
    if apex.radius_um is not None:
        tip = f"radius_um = {apex.radius_um!r}            # sharp knife 0.3 to 0.5, dull 5 to 10"
    elif apex.land_um is not None:
        tip = f"land_um = {apex.land_um!r}"
    else:
        tip = "sharp = true"
    lines = ["[profile]", f"name = {_text(profile.name)}", f"source = {_text(profile.source)}"]
    for key, note in (
        ("height_mm", "# edge to spine"),
        ("spine_thickness_mm", "# at the spine"),
    ):
        value = getattr(profile, key)
        if value is not None:
            lines.append(f"{f'{key} = {value!r}':<28} {note}")
    lines += ["", "[profile.apex]", tip]
    bevels = profile.bevels if angles is None else _asked_bevels(profile, angles)
    for bevel in bevels:
        lines += ["", "[[profile.bevels]]", f"name = {_text(bevel.name)}"]
        if bevel.kind != "flat":
            lines.append(f'kind = "{bevel.kind}"')
        lines += _numbers(bevel, _BEVEL_NOTES)
    grind = profile.primary_grind
    lines += ["", "[profile.primary_grind]", f'kind = "{grind.kind}"']
    return lines + _numbers(grind, _GRIND_NOTES)


#: The numbers of a bevel and of a grind, in the order of the file, with what a person may want
#: to know of each.
_BEVEL_NOTES = {
    "dps": "degrees per side",
    "left_dps": "degrees, the left side",
    "right_dps": "degrees, the right side",
    "bulge_um": "of the arc from its chord, per side",
    "height_mm": "along the blade",
    "ends_at_thickness_mm": "thickness behind this bevel",
}
_GRIND_NOTES = {
    "dps": "degrees per side",
    "left_dps": "degrees, the left side",
    "right_dps": "degrees, the right side",
    "left_fraction": "share of the left side",
    "wheel_radius_mm": "of the wheel that hollowed it",
    "bulge_mm": "of the arc from its chord, per side",
    "grind_height_mm": "from the edge to where the grind ends",
}


def _numbers(record: Any, notes: dict[str, str]) -> list[str]:
    """Write the numbers of a record that are given."""
    given = {key: value for key in notes if (value := getattr(record, key)) is not None}
    return [f"{f'{key} = {value!r}':<28} # {notes[key]}" for key, value in given.items()]


def _asked_bevels(profile: Any, angles: Any) -> list[Any]:
    """Give the flat bevels that were asked for; the file's own reader judges their numbers."""
    own = profile.bevels
    behind = own[-1].ends_at_thickness_mm if own else None
    made = []
    for index, (left, right, height) in enumerate(angles):
        last = index == len(angles) - 1
        made.append(
            SimpleNamespace(
                name="edge bevel"
                if last
                else "micro-bevel"
                if index == 0
                else f"bevel {index + 1}",
                kind="flat",
                dps=left if left == right else None,
                left_dps=None if left == right else left,
                right_dps=None if left == right else right,
                bulge_um=None,
                height_mm=height,
                ends_at_thickness_mm=None if height is not None else behind or 0.4,
            )
        )
    return made
