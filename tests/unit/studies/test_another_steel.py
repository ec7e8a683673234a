"""Another steel in the same shape: what it takes, what shape it would need, what is a tie."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simedge import another_steel, read_case, read_profile
from simedge.errors import BadInput
from simedge.inputs.case import Case
from simedge.inputs.library_data import grades
from simedge.inputs.load import MediumLoad
from simedge.inputs.profile import Profile
from simedge.inputs.steel import Steel
from simedge.inputs.steel_properties import steel_properties
from simedge.runs.quick import quick_first_yield, quick_judge, quick_run
from simedge.section.outline import build_outline
from simedge.strength.load_factors import Judge
from simedge.strength.verdict import tolerated_cut_mm
from simedge.studies.another_steel import AnotherSteelStudy
from simedge.studies.another_steel_sentence import (
    ANGLE,
    THICKNESS,
    another_steel_sentences,
    needed_cell,
)
from simedge.studies.reground import (
    edge_dps,
    thickness_behind_edge_mm,
    with_bevels_turned,
    with_profile,
    with_thickness_behind_edge,
)
from simedge.studies.same_survival import Bench, angle_regrind, needed
from simedge.studies.steel_choice import chosen_steels, usual_steel

A2, S7 = Steel(grade="A2", hardness_hrc=60.0), Steel(grade="S7", hardness_hrc=56.0)
SOFTER = Steel(grade="52100", hardness_hrc=54.0)


def crooked_in_bone() -> Case:
    """Give the rack's pruning knife, of one bevel, with one face pressed by bone."""
    case = read_case("pruning-knife-in-a-branch-collar")
    work = MediumLoad(name="crooked", medium="bone", depth_in_cut_mm=0.3, side="left")
    steel = Steel(grade="52100", hardness_hrc=60.0)
    return replace(case, steel=steel, accuracy_percent=5.0, loads=(work,))


@pytest.fixture(scope="module")
def study() -> AnotherSteelStudy:
    return another_steel(crooked_in_bone(), [A2, S7, SOFTER])


def test_the_cases_own_steel_takes_what_a_run_says(study: AnotherSteelStudy) -> None:
    (answer,) = study.run.loads
    assert answer.verdict is not None
    assert study.own.factors == (answer.verdict.factors,)
    assert study.own.span.value == answer.verdict.margin
    assert study.own.tied


def test_the_one_that_takes_most_comes_first(study: AnotherSteelStudy) -> None:
    values = [each.span.value for each in study.ranked]
    assert values == sorted(values, reverse=True)
    places = [each.place for each in study.ranked]
    assert places == sorted(places)
    assert places[0] == 1


def test_steels_whose_bands_overlap_are_a_tie(study: AnotherSteelStudy) -> None:
    for each in study.others:
        own, other = study.own.span, each.span
        assert each.tied == (own.low <= other.high and other.low <= own.high)


def test_ground_as_it_needs_it_takes_as_much_as_the_own_steel(study: AnotherSteelStudy) -> None:
    case, profile = study.case, study.case.profile
    assert isinstance(profile, Profile)
    target = quick_run(case).margin
    asked = 0
    for each, steel in ((e, {"A2": A2, "S7": S7, "52100": SOFTER}) for e in study.others):
        grade = steel[each.name.split()[0]]
        for need, make in (
            (each.degrees, with_bevels_turned),
            (each.thickness, with_thickness_behind_edge),
        ):
            if need is None or need.value is None or need.by_bound:
                continue
            changed = replace(with_profile(case, make(profile, need.value)), steel=grade)
            assert quick_run(changed).margin == pytest.approx(target, rel=5e-3)
            asked += 1
    assert asked > 0


def test_the_same_steel_needs_the_same_edge() -> None:
    case = crooked_in_bone()
    assert isinstance(case.profile, Profile)
    steel = steel_properties(case.steel)
    bench = Bench(case, steel, angle_regrind(case.profile), (0,))
    need = needed(bench, steel, quick_run(case).margin, 0.01)
    assert need is not None
    assert need.value == pytest.approx(edge_dps(case.profile), rel=5e-3)
    assert need.weak is not None
    assert need.strong is not None
    assert need.strong < need.value < need.weak
    assert needed_cell(need, ANGLE) == "as it is"


def test_micro_bevel_and_edge_bevel_turn_together_and_the_thickness_stays() -> None:
    knife = read_profile("rope-knife")
    assert isinstance(knife, Profile)
    steeper = with_bevels_turned(knife, 14.0)
    assert [bevel.sides_deg[0] for bevel in steeper.bevels] == pytest.approx([18.0, 14.0])
    assert thickness_behind_edge_mm(steeper) == pytest.approx(thickness_behind_edge_mm(knife))
    chisel = read_profile("chisel")
    assert isinstance(chisel, Profile)
    assert [bevel.sides_deg for bevel in with_bevels_turned(chisel, 27.0).bevels] == [
        (0.0, 32.0),
        (0.0, 27.0),
    ]


def test_the_sentence_says_how_much_and_what_it_would_need(study: AnotherSteelStudy) -> None:
    sentences = another_steel_sentences(study)
    assert len(sentences) == 3
    (softer,) = [text for text in sentences if "52100 at 54 HRC takes" in text]
    assert "times what 52100 at 60 HRC does" in softer
    assert "it would need" in softer
    assert "degrees per side more" in softer
    assert all(text.endswith(".") for text in sentences)


def test_many_steels_are_told_together() -> None:
    case = replace(crooked_in_bone(), steel=S7)
    some = [usual_steel(grades()[name], case) for name in ("D2", "A2", "52100", "O1")]
    (sentence,) = another_steel_sentences(another_steel(case, some))
    assert "surely more" in sentence
    assert "surely less: " in sentence


def test_without_a_steel_all_of_the_library_are_asked() -> None:
    case = crooked_in_bone()
    names = {steel.grade for steel in chosen_steels(case, None)}
    known = {name for name, grade in grades().items() if grade.hardness_converts}
    assert names == known - {"52100"}  # the case's own is at the middle already
    with pytest.raises(BadInput, match="that is the case's own steel"):
        chosen_steels(case, [case.steel])


def test_all_are_as_stiff_as_the_case_says() -> None:
    case = crooked_in_bone()
    stiff = replace(case, steel=replace(case.steel, youngs_modulus_gpa=200.0))
    (steel,) = chosen_steels(stiff, [A2])
    assert steel.youngs_modulus_gpa == 200.0


def test_of_a_traced_outline_only_what_it_takes_is_told() -> None:
    found = another_steel(read_case("worn-kitchen-knife-on-carrots"), [A2])
    (other,) = found.others
    assert (other.degrees, other.thickness) == (None, None)
    assert needed_cell(other.degrees, THICKNESS) == ""
    assert "traced outline, which has no angles to change" in found.remarks[0]


@pytest.fixture(scope="module")
def judges() -> list[Judge]:
    """Give the loads of the rack's rope knife, in its own steel."""
    case = read_case("rope-knife-in-a-knot")
    outline = build_outline(case.profile.apex, case.profile.faces, case.support.clamp_depth_mm)
    steel = steel_properties(case.steel)
    return [quick_judge(case, load, outline, steel) for load in range(len(case.loads))]


@settings(max_examples=12)
@given(
    st.sampled_from([name for name, grade in grades().items() if grade.hardness_converts]),
    st.floats(50.0, 62.0),
    st.floats(0.1, 6.0),
)
def test_a_harder_steel_of_a_grade_never_yields_rolls_or_blunts_sooner(
    judges: list[Judge], grade: str, hardness: float, more: float
) -> None:
    soft, hard = (
        steel_properties(Steel(grade=grade, hardness_hrc=hrc))
        for hrc in (hardness, min(hardness + more, 62.0))
    )
    for judge in judges:
        first, second = (
            by.load_factors(tolerated_cut_mm(by, 5.0))
            for by in (judge.with_steel(soft), judge.with_steel(hard))
        )
        slack = 1.0 - 1e-12
        assert second.roll.value >= slack * first.roll.value
        assert second.blunt.value >= slack * first.blunt.value
        assert quick_first_yield(judge, hard) >= slack * quick_first_yield(judge, soft)
