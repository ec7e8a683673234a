"""Reading cases and profiles: from a path, or by name from the library that comes along."""

from __future__ import annotations

from dataclasses import dataclass, replace
from difflib import get_close_matches
from itertools import islice
from pathlib import Path
from typing import Final, Literal

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.cross_section import CrossSection
from simedge.inputs.door import inch_echoes, validated
from simedge.inputs.grinds import Apex, PrimaryGrind
from simedge.inputs.key_paths import KeyPath
from simedge.inputs.profile import Profile
from simedge.inputs.shown_values import one_line, shown_value
from simedge.inputs.toml_source import TomlDocument, read_toml
from simedge.inputs.trace_files import (
    OUTLINE_ENDING,
    OUTLINE_KEY,
    read_outline,
    read_trace_table,
)
from simedge.inputs.traced import TracedProfile

Shelf = Literal["profiles", "cases"]
#: A profile may also be an outline: the points of a traced section.
_ENDINGS: Final = {"profiles": (".toml", OUTLINE_ENDING), "cases": (".toml",)}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadCase:
    """A case as read from its file.

    Attributes
    ----------
    case : Case
    name : str
        The file's name without its ending.
    echoes : tuple of str
        How lengths in inches were read.
    """

    case: Case
    name: str
    echoes: tuple[str, ...]


def library_folder(shelf: Shelf) -> Path:
    """Give the folder of the profiles or cases that come with simedge.

    They stand at the top of a checkout, and inside the package once installed.
    """
    package = Path(__file__).resolve().parent.parent
    installed = package / "library" / shelf
    return installed if installed.is_dir() else package.parent / shelf


def library_files(shelf: Shelf) -> dict[str, Path]:
    """Give the library's files of one shelf by their names, sorted."""
    files = library_folder(shelf).rglob("*")
    return {path.stem: path for path in sorted(files) if path.suffix in _ENDINGS[shelf]}


def find_file(path_or_name: str | Path, shelf: Shelf, beside: Path | None = None) -> Path:
    """Find a file by its path, relative to a folder, or by its name in the library.

    Standard input (``-``) is not read: messages name the lines of a file that stays.

    Parameters
    ----------
    path_or_name : str or Path
    shelf : {"profiles", "cases"}
    beside : Path or None
        The folder that a relative path counts from; None stands for the working folder.

    Returns
    -------
    Path
        Of a library file that exists, or the path as given: `read_toml` says what is
        wrong with it.

    Raises
    ------
    BadInput
        No name at all, or a bare name that the library does not have.
    """
    if not str(path_or_name).strip():
        raise BadInput(Problem(f"the {shelf[:-1]}'s name", "is empty; name a file"))
    if str(path_or_name) == "-":
        raise BadInput(Problem("-", "standard input is not read; name a file"))
    path = Path(path_or_name)
    here = path if beside is None else beside / path
    if _exists(here) or path.suffix in (".toml", OUTLINE_ENDING) or len(path.parts) != 1:
        return here
    found = library_files(shelf)
    if str(path) in found:
        return found[str(path)]
    near = [str(file) for file in _with_endings(here, shelf) if _exists(file)]
    near = near or get_close_matches(str(path), _names_beside(here), n=2, cutoff=0.7)
    near += get_close_matches(str(path), found, n=3, cutoff=0.5)
    meant = f"did you mean {', '.join(map(one_line, near))}?"
    hint = meant if near else f"there are {', '.join(found)}"
    raise BadInput(
        Problem(
            one_line(str(path_or_name)), f"is neither a file nor in the library's {shelf}; {hint}"
        )
    )


def _with_endings(path: Path, shelf: Shelf) -> list[Path]:
    return [path.parent / f"{path.name}{ending}" for ending in _ENDINGS[shelf]]


def _names_beside(path: Path) -> list[str]:
    """List some TOML files of a folder; a huge one must not take seconds."""
    try:
        return [file.name for file in islice(path.parent.glob("*.toml"), 1000)]
    except (OSError, ValueError):
        return []


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name that no file system takes
        return False


#: The kinds of file: tables that only one has, and what to do with it.
_KINDS: Final = {
    "profiles": (
        ("apex", "bevels", "primary_grind", OUTLINE_KEY),
        "is a profile, but a case is wanted; name it in a case (profile = ...), or measure it: "
        "simedge profile",
    ),
    "cases": (
        ("loads", "steel", "profile"),
        "is a case, but a profile is wanted; name the profile that it has, or run it: simedge run",
    ),
}


def _check_kind(document: TomlDocument, shelf: Shelf) -> None:
    """Refuse, in one line, a case where a profile is wanted, and the reverse."""
    for kind, (tables, told) in _KINDS.items():
        own = any(table in document.data for table in _KINDS[shelf][0])
        if kind != shelf and not own and any(table in document.data for table in tables):
            raise BadInput(Problem(document.shown_name, f"{told} {document.shown_name}"))


def read_profile(path_or_name: str | Path) -> CrossSection:
    """Read a profile from a TOML file, from a traced outline (CSV), or from the library.

    Raises
    ------
    BadInput
        All that is wrong with it, each with file and line.
    """
    return _read_profile(find_file(path_or_name, "profiles"))[0]


def _read_profile(path: Path) -> tuple[CrossSection, tuple[str, ...]]:
    """Read a profile, and how its inches were read."""
    if path.suffix.lower() == OUTLINE_ENDING:
        return read_outline(path), ()
    document = read_toml(path)
    _check_kind(document, "profiles")
    if OUTLINE_KEY in document.data:
        return _read_trace(document, ()), ()
    return validated(Profile, document), inch_echoes(document, Profile)


def _read_trace(document: TomlDocument, table: KeyPath) -> TracedProfile:
    folder = Path() if document.path is None else document.path.parent
    return read_trace_table(
        document, table, lambda name: find_file(name, "profiles", beside=folder)
    )


def read_case(path_or_name: str | Path) -> Case:
    """Read a case from a TOML file or from the library.

    Parameters
    ----------
    path_or_name : str or Path
        A file, or the name of a case that comes with simedge.

    Returns
    -------
    Case

    Raises
    ------
    BadInput
        All that is wrong with it and with its profile, each with file and line.
    """
    return read_case_file(path_or_name).case


def read_case_file(path_or_name: str | Path) -> ReadCase:
    """Read a case with its name and how its inches were read; see `read_case`."""
    path = find_file(path_or_name, "cases")
    if path.suffix.lower() == OUTLINE_ENDING:
        told = "is a traced outline, but a case is wanted; run it with: simedge run --profile"
        raise BadInput(Problem(one_line(str(path), 400), f"{told} {one_line(str(path), 400)}"))
    document = read_toml(path)
    _check_kind(document, "cases")
    problems: list[Problem] = []
    echoes = list(inch_echoes(document, Case))
    named = document.data.get("profile", {})
    traced = isinstance(named, dict) and OUTLINE_KEY in named
    if traced or not isinstance(named, dict):
        profile: CrossSection
        try:
            if traced:
                profile = _read_trace(document, ("profile",))
            else:
                profile, read_so = _read_profile(_profile_file(document, path))
                echoes += read_so
        except BadInput as error:
            problems += error.problems
            # the rest of the case is still checked, against a blade that anything fits
            profile = Profile(
                height_mm=1000.0, apex=Apex(sharp=True), primary_grind=PrimaryGrind(dps=1.0)
            )
        document = replace(document, data={**document.data, "profile": profile})
    try:
        case = validated(Case, document)
    except BadInput as error:
        problems += error.problems
    if problems:
        raise BadInput(*problems)
    return ReadCase(case=case, name=path.stem, echoes=tuple(echoes))


def _profile_file(document: TomlDocument, case_path: Path) -> Path:
    named, place = document.data["profile"], document.place_of(("profile",))
    if not isinstance(named, str) or not named.strip():
        rule = "must be the name or file of a profile in quotes, or one table, [profile]"
        raise BadInput(Problem(place, f"profile is {shown_value(named)}, but {rule}"))
    try:
        found = find_file(named, "profiles", beside=case_path.parent)
    except BadInput as error:
        raise BadInput(
            *(Problem(place, f'profile "{p.where}" {p.message}') for p in error.problems)
        ) from error
    if not _exists(found):
        home = " (~ is not understood here)" if named.startswith("~") else ""
        raise BadInput(
            Problem(
                place,
                f"profile is {shown_value(named)}, but there is no file {one_line(str(found))}; "
                f"paths count from the case's folder{home}",
            )
        )
    if found.is_dir():
        raise BadInput(
            Problem(place, f"profile is {shown_value(named)}, but that is a folder; name a file")
        )
    return found
