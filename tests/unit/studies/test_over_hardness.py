"""A case over the hardness of its steel: regions, sentences, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simedge import read_case
from simedge.errors import BadInput
from simedge.inputs.case import Case
from simedge.inputs.load import MediumLoad
from simedge.inputs.steel import Steel
from simedge.studies.hardness_sentence import first_stretches, hardness_sentences
from simedge.studies.over_hardness import HardnessStudy, over_hardness


def case_in(grade: str, hardness_hrc: float, medium: str = "bone") -> Case:
    """Give the rack's kitchen knife with one face pressed by a medium."""
    work = MediumLoad(name="crooked", medium=medium, depth_in_cut_mm=0.3, side="left")
    knife = read_case("kitchen-knife-on-carrots")
    steel = Steel(grade=grade, hardness_hrc=hardness_hrc)
    return replace(knife, steel=steel, accuracy_percent=5.0, loads=(work,))


@pytest.fixture(scope="module")
def coarse() -> HardnessStudy:
    """Give a steel of coarse particles."""
    return over_hardness(case_in("D2", 60.0))


@pytest.fixture(scope="module")
def tough() -> HardnessStudy:
    """Give a tough one."""
    return over_hardness(case_in("S7", 56.0))


def test_the_cases_own_hardness_answers_as_a_run_does(coarse: HardnessStudy) -> None:
    (own,) = (point for point in coarse.points if point.hardness_hrc == 60.0)
    (answer,) = coarse.run.loads
    assert answer.verdict is not None
    assert own.factors[0] == answer.verdict.factors


def test_rolling_and_blunting_only_get_better_with_hardness(coarse: HardnessStudy) -> None:
    for kind in ("roll", "blunt"):
        values = [point.factors[0].of(kind).value for point in coarse.points]  # type: ignore[arg-type, union-attr]
        assert values == sorted(values)


def test_coarse_steel_breaks_where_tough_steel_rolls(
    coarse: HardnessStudy, tough: HardnessStudy
) -> None:
    def kinds(study: HardnessStudy) -> set[str]:
        found = [(point.hardness_hrc, point.factors[0]) for point in study.points]
        return {kind for kind, _, _ in first_stretches(found)}

    assert kinds(coarse) <= {"chip", "crumble"}
    assert kinds(tough) == {"roll"}


def test_hardness_covers_what_is_usual_and_no_more_than_data_hold(coarse: HardnessStudy) -> None:
    hardnesses = [point.hardness_hrc for point in coarse.points]
    assert hardnesses == sorted(set(hardnesses))
    assert coarse.usual_hrc is not None
    assert hardnesses[0] <= coarse.usual_hrc.low <= coarse.usual_hrc.high <= hardnesses[-1]
    own_points = over_hardness(case_in("O1", 60.0, "vegetables"))
    assert (own_points.points[0].hardness_hrc, own_points.points[-1].hardness_hrc) == (55.0, 62.0)


def test_the_sentence_names_regions_and_the_best(coarse: HardnessStudy) -> None:
    (sentence,) = hardness_sentences(coarse)
    assert sentence.startswith("crooked: comes through ")
    assert "first" in sentence
    assert sentence.endswith(".")


def test_a_strength_that_is_given_does_not_follow_hardness() -> None:
    case = replace(case_in("D2", 60.0), steel=Steel(yield_strength_mpa=2000.0))
    with pytest.raises(BadInput, match="must be given, without yield_strength_mpa"):
        over_hardness(case)
