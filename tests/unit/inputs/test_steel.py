"""The steel library as data, what a case may say of its steel, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import exp
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from simedge.inputs import library_data as library
from simedge.inputs.hardness import hardness_curve, vickers_hardness, yield_strength
from simedge.inputs.problems import FieldProblems
from simedge.inputs.steel import Steel
from simedge.inputs.steel_properties import SteelProperties, steel_properties

# HRC and H/3 in MPa as published beside HV: an independent check of the typed-in HV.
H_OVER_3 = {
    40: 1281, 42: 1347, 44: 1419, 46: 1497, 48: 1582, 50: 1677, 51: 1726, 52: 1778, 53: 1831,
    54: 1886, 55: 1945, 56: 2004, 57: 2069, 58: 2135, 59: 2203, 60: 2278, 61: 2354, 62: 2439,
    63: 2524, 64: 2615, 65: 2720, 66: 2828, 67: 2942, 68: 3073,
}  # fmt: skip


def properties(**fields: Any) -> SteelProperties:
    return steel_properties(Steel(**fields))


def refusals(**fields: Any) -> dict[tuple[str | int, ...], str]:
    """Every refused field by its whole path, with its message."""
    with pytest.raises(ValidationError) as caught:
        Steel(**fields)
    found: dict[tuple[str | int, ...], str] = {}
    for error in caught.value.errors():
        reason = error.get("ctx", {}).get("error")
        if isinstance(reason, FieldProblems):
            found |= {(*error["loc"], *item.path): item.message for item in reason.items}
        else:
            found[error["loc"]] = error["msg"]
    return found


def tables_with_numbers(node: Any, where: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every table of a data file that holds a figure itself."""
    if isinstance(node, list):
        for place, each in enumerate(node):
            yield from tables_with_numbers(each, f"{where}[{place}]")
    elif isinstance(node, dict):
        if node.keys() & {"value", "low", "high", "points", "divisor"}:
            yield where, node
        for key, each in node.items():
            yield from tables_with_numbers(each, f"{where}.{key}")


@pytest.mark.parametrize("file_name", ["steels.toml", "hardness.toml", "media.toml"])
def test_every_figure_says_trust_source_and_spread(file_name: str) -> None:
    data = dict(library.read_data(file_name))
    columns = data.pop("columns", {})
    data.pop("allowed", None)  # bounds of what may be typed, not figures of a material
    figures = list(tables_with_numbers(data))
    assert len(figures) >= 6
    for where, figure in figures:
        told = {**columns.get(where.rsplit(".", 1)[-1], {}), **figure}
        assert told.get("trust") in {"S", "M", "D", "P"}, where
        assert told.get("source", "").strip(), where
        assert told.get("spread", "").strip(), where


def test_eighteen_grades_whose_designations_are_nobody_elses() -> None:
    grades = library.grades().values()
    assert len(grades) == 18
    names = [library.plain_name(n) for g in grades for n in (g.name, *g.designations)]
    assert len(names) == len(set(names))
    for grade in grades:
        assert grade.hardness_hrc.low < grade.hardness_hrc.high
        assert grade.fracture_toughness_mpa_sqrt_m.low < grade.fracture_toughness_mpa_sqrt_m.high
        assert 40 <= (grade.fracture_toughness_mpa_sqrt_m.at_hrc or 0) <= 68


def test_hardness_table_agrees_with_the_h_over_3_printed_beside_it() -> None:
    # 9.807 against 9.80665 and rounding of either column: 1 MPa at most.
    for hrc, third in H_OVER_3.items():
        assert vickers_hardness(hrc).single * 9.807 / 3 == pytest.approx(third, abs=1.0)


def test_hardness_table_has_every_whole_hrc_and_rises() -> None:
    points = hardness_curve("vickers_hardness").points
    assert [hrc for hrc, _ in points] == list(range(40, 69))
    assert all(low[1] < high[1] for low, high in pairwise(points))


@pytest.mark.parametrize(
    "written", ["D2", "d2", " D 2 ", "aisi d2", "AISI-D2", "1.2379", "EN 1.2379", "X153 CrMoV12"]
)
def test_grade_is_found_by_any_designation(written: str) -> None:
    assert Steel(grade=written, hardness_hrc=60) == Steel(grade="D2", hardness_hrc=60)


def test_52100_at_60_hrc_by_hand() -> None:
    made = properties(grade="52100", hardness_hrc=60)
    assert made.name == "52100 (100Cr6)"
    assert made.hardness_hv == 697
    flow = 9.807 * 697 / 3.2  # 2136 MPa
    assert made.yield_strength_mpa == pytest.approx(flow, rel=1e-12)
    assert made.yield_low_mpa == pytest.approx(0.9 * flow, rel=1e-12)
    assert made.yield_high_mpa == pytest.approx(1.1 * flow, rel=1e-12)
    assert made.tensile_strength_mpa == pytest.approx(9.807 * 697 / 3, rel=1e-12)
    assert (made.youngs_modulus_mpa, made.poissons_ratio) == (207e3, 0.29)
    assert made.largest_carbide_um == library.Band(2, 2)
    assert made.flaw_um == library.Band(1, 2)
    assert made.short_crack_factor == library.Band(1, 1)
    assert made.particle_toughness_mpa_sqrt_m == library.Band(2.2, 3.7)
    assert (made.grindability, made.density_g_per_cm3) == (1.0, 7.8)
    assert made.remarks == ()


@pytest.mark.parametrize(
    ("hrc", "vickers", "factor"),
    [(45, 446, 3.65), (50, 513, 3.65), (52, 544, 3.47), (55, 595, 3.2), (66, 865, 3.2)],
)
def test_yield_line_has_no_step(hrc: float, vickers: float, factor: float) -> None:
    made = properties(grade="80CrV2", hardness_hrc=hrc)
    assert made.yield_strength_mpa == pytest.approx(9.807 * vickers / factor, rel=1e-12)


@pytest.mark.parametrize("hrc", range(40, 51))
def test_yield_line_keeps_to_the_published_fit_where_that_holds(hrc: int) -> None:
    # Pavlina & Van Tyne 2008; the data text promises 2 % below 50 HRC.
    published = -90.7 + 2.876 * vickers_hardness(hrc).single
    assert yield_strength(None, hrc).single == pytest.approx(published, rel=0.02)


@pytest.mark.parametrize(("hrc", "high"), [(62, 1.10), (62.5, 1.25), (65, 1.25)])
def test_yield_band_widens_above_62_hrc(hrc: float, high: float) -> None:
    made = properties(grade="M2", hardness_hrc=hrc)
    assert made.yield_low_mpa == pytest.approx(0.9 * made.yield_strength_mpa, rel=1e-12)
    assert made.yield_high_mpa == pytest.approx(high * made.yield_strength_mpa, rel=1e-12)


@pytest.mark.parametrize(
    ("hrc", "flow", "trust"),
    [(50, 1350, "S"), (51, 1440, "D"), (55, 1800, "S"), (57, 1940, "D"), (61, 2175, "D")],
)
def test_o1_keeps_its_own_points(hrc: float, flow: float, trust: str) -> None:
    made = properties(grade="O1", hardness_hrc=hrc)
    assert made.yield_strength_mpa == pytest.approx(flow, rel=1e-12)
    origin = next(each for each in made.origins if each.quantity == "yield strength")
    assert origin.trust == trust
    assert "O1 data sheet" in origin.source


def test_between_points_is_interpolated_and_said() -> None:
    made = properties(grade="52100", hardness_hrc=60.5)
    assert made.hardness_hv == pytest.approx((697 + 720) / 2, rel=1e-12)
    assert len(made.remarks) == 1
    assert "60.5 HRC" in made.remarks[0]
    assert "interpolated" in made.remarks[0]
    assert next(o for o in made.origins if o.quantity == "hardness").trust == "D"


def test_tensile_strength_is_the_standards_to_59_hrc_and_derived_above() -> None:
    assert properties(grade="1095", hardness_hrc=59).tensile_strength_mpa == 2420
    assert properties(grade="420", hardness_hrc=43).tensile_strength_mpa == (1340 + 1430) / 2
    above = properties(grade="1095", hardness_hrc=60)
    assert next(o for o in above.origins if o.quantity == "tensile strength").trust == "D"


def test_toughness_falls_with_hardness() -> None:
    band = properties(grade="D2", hardness_hrc=62).fracture_toughness_mpa_sqrt_m
    assert band is not None
    assert band.low == pytest.approx(17 * exp(-0.16), rel=1e-12)  # 14.49
    assert band.high == pytest.approx(25 * exp(-0.16), rel=1e-12)
    assert properties(grade="D2", hardness_hrc=60).fracture_toughness_mpa_sqrt_m == library.Band(
        17, 25
    )


def test_flaw_runs_from_half_the_carbide_to_all_of_it() -> None:
    coarse = properties(grade="D2", hardness_hrc=60)
    assert coarse.flaw_um == library.Band(10, 50)
    assert coarse.short_crack_factor == library.Band(0.5, 0.8)
    fine = properties(grade="1095", hardness_hrc=60)
    assert fine.flaw_um == library.Band(1, 1.5)  # half of 1.5 is less than a scratch
    clean = properties(grade="1.4568", hardness_hrc=46, yield_strength_mpa=1400)
    assert (clean.largest_carbide_um, clean.flaw_um) == (None, library.Band(1, 1))


@pytest.mark.parametrize(("carbide", "factor"), [(9.9, (1, 1)), (10, (0.5, 0.8))])
def test_short_crack_factor_begins_at_10_um(carbide: float, factor: tuple[float, float]) -> None:
    made = properties(grade="52100", hardness_hrc=60, largest_carbide_um=carbide)
    assert made.short_crack_factor == library.Band(*factor)
    assert made.flaw_um == library.Band(carbide / 2, carbide)


def test_what_the_case_gives_is_taken_as_it_stands() -> None:
    given = {
        "yield_strength_mpa": 2000, "tensile_strength_mpa": 2200, "youngs_modulus_gpa": 200,
        "poissons_ratio": 0.3, "fracture_toughness_mpa_sqrt_m": 20, "flaw_um": 5,
        "largest_carbide_um": 12, "short_crack_factor": 0.7, "particle_toughness_mpa_sqrt_m": 3,
    }  # fmt: skip
    made = properties(grade="52100", hardness_hrc=60, **given)
    assert made.yield_low_mpa == made.yield_strength_mpa == made.yield_high_mpa == 2000
    assert (made.tensile_strength_mpa, made.youngs_modulus_mpa) == (2200, 200e3)
    assert made.poissons_ratio == 0.3
    assert made.fracture_toughness_mpa_sqrt_m == library.Band(20, 20)
    assert made.flaw_um == library.Band(5, 5)
    assert made.largest_carbide_um == library.Band(12, 12)
    assert made.short_crack_factor == library.Band(0.7, 0.7)
    assert made.particle_toughness_mpa_sqrt_m == library.Band(3, 3)
    told = [origin for origin in made.origins if origin.source == "given in the case"]
    assert len(told) == len(given)
    assert {origin.trust for origin in told} == {"given"}


def test_steel_without_grade_needs_only_its_strength() -> None:
    made = properties(yield_strength_mpa=1800)
    assert made.yield_strength_mpa == 1800
    assert made.fracture_toughness_mpa_sqrt_m is None
    assert (made.tensile_strength_mpa, made.density_g_per_cm3) == (None, None)
    assert any("chipping cannot be judged" in remark for remark in made.remarks)


def test_1_4568_is_not_converted_even_with_hardness() -> None:
    made = properties(grade="1.4568", hardness_hrc=46, yield_strength_mpa=1400)
    assert made.hardness_hrc == 46
    assert made.hardness_hv is None
    assert made.tensile_strength_mpa is None


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"grade": "D2", "hardness_hrc": 64}, "outside the 55 to 62 HRC usual for D2"),
        (
            {"grade": "D2", "hardness_hrc": 60, "poissons_ratio": 0.499},
            "the largest tension does not",
        ),
        ({"grade": "D2", "hardness_hrc": 60, "poissons_ratio": 0.35}, "steels have 0.27 to 0.30"),
        ({"grade": "O1", "hardness_hrc": 58}, "58 HRC lies between the yield points"),
        ({"grade": "D2", "hardness_hrc": 60, "youngs_modulus_gpa": 300}, "190 to 210 GPa"),
        ({"grade": "D2", "hardness_hrc": 60, "yield_strength_mpa": 900}, "7.6 times the yield"),
        ({"grade": "D2", "hardness_hrc": 60, "yield_strength_mpa": 2400}, "below the yield"),
        ({"grade": "D2", "yield_strength_mpa": 2000}, "quoted for 60 HRC"),
    ],
)
def test_what_deserves_a_warning_gets_one(fields: dict[str, Any], words: str) -> None:
    (remark,) = properties(**fields).remarks
    assert words in remark


def points(*pairs: tuple[float, float]) -> list[dict[str, float]]:
    return [{"hardness_hrc": hard, "yield_strength_mpa": strong} for hard, strong in pairs]


def test_a_persons_own_table_takes_the_place_of_ours() -> None:
    own = points((58, 2000), (60, 2150), (62, 2180))
    made = properties(grade="O1", hardness_hrc=60, yield_points=own, yield_points_source="tests")
    assert (made.yield_low_mpa, made.yield_strength_mpa, made.yield_high_mpa) == (2150,) * 3
    (origin,) = (o for o in made.origins if o.quantity == "yield strength")
    assert (origin.trust, origin.source) == ("given", "tests")
    assert made.remarks == ()
    between = properties(grade="O1", hardness_hrc=61, yield_points=own)
    assert between.yield_strength_mpa == 2165  # half way
    (origin,) = (o for o in between.origins if o.quantity == "yield strength")
    assert (origin.trust, origin.source) == ("D", "given in the case; linear between its points")
    assert "interpolated" in between.remarks[0]


def test_a_steel_that_nobody_knows_may_have_a_table() -> None:
    made = properties(hardness_hrc=60, yield_points=points((58, 2000), (60, 2150)))
    assert (made.name, made.yield_strength_mpa) == ("steel without a grade", 2150)
    # its hardness does not convert to strength by the standard, but it was measured
    made = properties(grade="1.4568", hardness_hrc=46, yield_points=points((44, 1300), (48, 1500)))
    assert (made.yield_strength_mpa, made.hardness_hv) == (1400, None)


@pytest.mark.parametrize(
    ("own", "path", "message"),
    [
        (points((58, 2000)), (), "has 1 point, but a table needs two"),
        ([], (), "has 0 points"),
        (points((58, 2000), (58, 2100)), (1, "hardness_hrc"), "is 58 HRC, as the point before"),
        (points((60, 2150), (58, 2000)), (1, "hardness_hrc"), "must rise"),
        (points((58, 2150), (60, 2000)), (1, "yield_strength_mpa"), "2150 MPa at a lower"),
        (points((56, 1900), (58, 2000), (58, 2000)), (2, "hardness_hrc"), "keep one"),
        (points((58, 2.0), (60, 2150)), (0, "yield_strength_mpa"), "did you mean 2000 MPa?"),
        (points((653, 2000), (697, 2150)), (0, "hardness_hrc"), "did you mean 58 HRC?"),
        (points((5, 200), (60, 2150)), (0, "hardness_hrc"), "must lie in [20, 70] HRC, where"),
    ],
)
def test_a_table_that_cannot_be_read_is_refused(
    own: list[dict[str, float]], path: tuple[str | int, ...], message: str
) -> None:
    said = refusals(grade="O1", hardness_hrc=60, yield_points=own)
    assert message in said["yield_points", *path]


def test_a_table_is_not_read_beyond_its_ends_nor_beside_a_strength() -> None:
    own = points((58, 2000), (60, 2150))
    said = refusals(grade="O1", hardness_hrc=61, yield_points=own)
    assert "yield_points run from 58 to 60 HRC" in said[("hardness_hrc",)]
    assert "is missing" in refusals(grade="O1", yield_points=own)[("hardness_hrc",)]
    said = refusals(grade="O1", hardness_hrc=60, yield_points=own, yield_strength_mpa=2000)
    assert "keep one of the two" in said[("yield_points",)]


@pytest.mark.parametrize("grade", list(library.grades()))
def test_usual_steels_are_not_nagged_about(grade: str) -> None:
    extra = {} if library.grades()[grade].hardness_converts else {"yield_strength_mpa": 1400}
    hrc = library.grades()[grade].hardness_hrc.low
    made = properties(grade=grade, hardness_hrc=hrc, poissons_ratio=0.3, **extra)
    # O1 has points of its own, at 55 and 60 HRC about the 57 where it is first used
    assert [remark for remark in made.remarks if "between" not in remark] == []
    assert len(made.remarks) == (grade == "O1")
    assert all(o.value and o.source and o.trust for o in made.origins)


@pytest.mark.parametrize(
    ("fields", "path", "message"),
    [
        (
            {"grade": "52101", "hardness_hrc": 60},
            "grade",
            'is "52101", but no such steel is known; did you mean "52100"? '
            '("simedge steels" lists all)',
        ),
        (
            {"grade": "unobtainium", "hardness_hrc": 60},
            "grade",
            'is "unobtainium", but no such steel is known; "simedge steels" lists all',
        ),
        (
            {"grade": 52100, "hardness_hrc": 60},
            "grade",
            'is 52100, but a designation is text; write "52100", in quotes',
        ),
        (
            {"hardness_hrc": 60},
            "grade",
            "is missing, but a steel is told by its grade or by its strength; give grade and "
            "hardness_hrc, or yield_strength_mpa",
        ),
        (
            {"grade": "D2"},
            "hardness_hrc",
            "is missing, but the strength of D2 follows from it; give it (55 to 62 HRC is "
            "usual), or yield_strength_mpa",
        ),
        (
            {"grade": "1.4568", "hardness_hrc": 46},
            "yield_strength_mpa",
            "is missing, but ASTM E140 does not convert the hardness of 1.4568 (precipitation "
            "hardening) to strength; give yield_strength_mpa",
        ),
        (
            {"grade": "D2", "hardness_hrc": 68.1},
            "hardness_hrc",
            "is 68.1 HRC, but the hardness table runs from 40 to 68 HRC and nothing is "
            "extrapolated; choose a hardness in that range, or leave it out and give "
            "yield_strength_mpa",
        ),
        (
            {"grade": "D2", "hardness_hrc": 697},
            "hardness_hrc",
            "is 697 HRC, but the hardness table runs from 40 to 68 HRC and nothing is "
            "extrapolated; did you mean 60 HRC? that looks like HV",
        ),
        (
            {"grade": "O1", "hardness_hrc": 63},
            "hardness_hrc",
            "is 63 HRC, but the yield points of O1 run from 50 to 62 HRC and nothing is "
            "extrapolated; choose a hardness in that range, or leave it out and give "
            "yield_strength_mpa",
        ),
        (
            {"yield_strength_mpa": 2},
            "yield_strength_mpa",
            "is 2 MPa, but must lie in [50, 6000] MPa; did you mean 2000 MPa? that looks like GPa",
        ),
        (
            {"yield_strength_mpa": 36},
            "yield_strength_mpa",
            "is 36 MPa, but must lie in [50, 6000] MPa; did you mean 248 MPa? that looks like ksi",
        ),
        (
            {"yield_strength_mpa": 6001},
            "yield_strength_mpa",
            "is 6001 MPa, but must lie in [50, 6000] MPa; hardened steels have 1200 to 2800 MPa",
        ),
        (
            {"yield_strength_mpa": 2000, "youngs_modulus_gpa": 210000},
            "youngs_modulus_gpa",
            "is 210000 GPa, but must lie in [50, 1000] GPa; did you mean 210 GPa? that looks "
            "like MPa",
        ),
        (
            {"yield_strength_mpa": 2000, "flaw_um": 0.02},
            "flaw_um",
            "is 0.02 µm, but must lie in [0.1, 1000] µm; did you mean 20 µm? that looks like mm",
        ),
        (
            {"yield_strength_mpa": 2000, "tensile_strength_mpa": 1800},
            "tensile_strength_mpa",
            "is 1800 MPa, but cannot be less than yield_strength_mpa, 2000 MPa; are the two "
            "exchanged?",
        ),
    ],
)
def test_refusals_say_value_rule_and_what_to_do(
    fields: dict[str, Any], path: str, message: str
) -> None:
    assert refusals(**fields) == {(path,): message}


@pytest.mark.parametrize("ratio", [0.5, 0.7, -1, -2])
def test_impossible_poissons_ratio_is_refused(ratio: float) -> None:
    assert set(refusals(yield_strength_mpa=2000, poissons_ratio=ratio)) == {("poissons_ratio",)}


@pytest.mark.parametrize("field", list(library.read_data("steels.toml")["allowed"]))
@pytest.mark.parametrize("value", [0, -1.0])
def test_nothing_of_a_steel_is_zero_or_negative(field: str, value: float) -> None:
    assert set(refusals(**{"yield_strength_mpa": 2000, field: value})) == {(field,)}


@pytest.mark.parametrize("value", ["60", True, float("nan"), float("inf"), 10**400])
def test_numbers_are_neither_coerced_nor_infinite(value: object) -> None:
    assert set(refusals(grade="D2", hardness_hrc=value)) == {("hardness_hrc",)}


def test_all_problems_are_told_at_once_under_the_path_of_the_table() -> None:
    assert set(refusals(grade="D3", hardness_hrc=30, youngs_modulus_gpa=0)) == {
        ("grade",),
        ("hardness_hrc",),
        ("youngs_modulus_gpa",),
    }
    assert "hardnes" in str(refusals(grade="D2", hardness_hrc=60, hardnes=61))


def test_steel_is_read_from_a_table_and_can_be_a_key() -> None:
    read = TypeAdapter(Steel).validate_python({"grade": "100Cr6", "hardness_hrc": 60})
    assert {read: 1}[Steel(grade="52100", hardness_hrc=60.0)] == 1
