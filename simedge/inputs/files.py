"""Reading cases and profiles: from a path, or by name from the library that comes along."""

from __future__ import annotations

from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Literal

from simedge.errors import BadInput, Problem
from simedge.inputs.case import Case
from simedge.inputs.door import inch_echoes, validated
from simedge.inputs.grinds import Apex, PrimaryGrind
from simedge.inputs.profile import Profile
from simedge.inputs.shown_values import one_line
from simedge.inputs.toml_source import TomlDocument, read_toml

Shelf = Literal["profiles", "cases"]


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
    return {path.stem: path for path in sorted(library_folder(shelf).rglob("*.toml"))}


def find_file(path_or_name: str | Path, shelf: Shelf, beside: Path | None = None) -> Path:
    """Find a file by its path, relative to a folder, or by its name in the library.

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
        A bare name that the library does not have.
    """
    path = Path(path_or_name)
    here = path if beside is None else beside / path
    if _exists(here) or path.suffix == ".toml" or len(path.parts) != 1:
        return here
    found = library_files(shelf)
    if str(path) in found:
        return found[str(path)]
    near = get_close_matches(str(path), found, n=3, cutoff=0.5)
    hint = f"did you mean {', '.join(near)}?" if near else f"there are {', '.join(found)}"
    raise BadInput(
        Problem(
            one_line(str(path_or_name)), f"is neither a file nor in the library's {shelf}; {hint}"
        )
    )


def _exists(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):  # a name that no file system takes
        return False


def read_profile(path_or_name: str | Path) -> Profile:
    """Read a profile from a TOML file or from the library.

    Raises
    ------
    BadInput
        All that is wrong with it, each with file and line.
    """
    return validated(Profile, read_toml(find_file(path_or_name, "profiles")))


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
    document = read_toml(path)
    problems: list[Problem] = []
    echoes = list(inch_echoes(document, Case))
    if isinstance(document.data.get("profile"), str):
        try:
            profile_document = read_toml(_profile_file(document, path))
            echoes += inch_echoes(profile_document, Profile)
            profile = validated(Profile, profile_document)
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
    try:
        found = find_file(document.data["profile"], "profiles", beside=case_path.parent)
    except BadInput as error:
        place = document.place_of(("profile",))
        raise BadInput(
            *(Problem(place, f'profile "{p.where}" {p.message}') for p in error.problems)
        ) from error
    if not _exists(found):
        raise BadInput(
            Problem(
                document.place_of(("profile",)),
                f'profile is "{one_line(document.data["profile"])}", but there is no file '
                f"{one_line(str(found))}; paths "
                "count from the case's folder",
            )
        )
    return found
