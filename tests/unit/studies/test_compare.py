"""Knives in the same work: their order, what they share, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from simedge import read_case, read_profile, run_case
from simedge.errors import BadInput, NumericsFailed
from simedge.inputs.case import Case, Support
from simedge.inputs.grinds import Apex, Bevel, PrimaryGrind
from simedge.inputs.load import CombinedLoad, MediumLoad, TipLineLoad
from simedge.inputs.profile import Profile
from simedge.inputs.steel import Steel
from simedge.studies import compare as study_module
from simedge.studies.compare import Comparison, compare_knives
from simedge.studies.compare_sentence import compare_sentences
from simedge.studies.compare_warnings import every_warning, told_warnings
from simedge.studies.knife_plan import plan_knives
from simedge.studies.margin_band import places
from simedge.studies.stiffness import stiffness_of


def knife(name: str, dps: float = 12.0, **changes: object) -> Profile:
    usual: dict[str, object] = {
        "name": name,
        "height_mm": 20.0,
        "spine_thickness_mm": 2.0,
        "apex": Apex(radius_um=2.0),
        "bevels": (Bevel(dps=dps, ends_at_thickness_mm=0.4),),
        "primary_grind": PrimaryGrind(),
    }
    return Profile(**{**usual, **changes})  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def case() -> Case:
    """Give two loads of knotty wood."""
    return Case(
        title="trial",
        accuracy_percent=10.0,
        profile=knife("own"),
        steel=Steel(grade="52100", hardness_hrc=60.0),
        support=Support(clamp_depth_mm=8.0),
        loads=(
            MediumLoad(name="crooked", medium="hard wood", depth_in_cut_mm=0.5, side="left"),
            TipLineLoad(name="tip", axial_n_per_mm=2.0, lateral_n_per_mm=2.0, occasional=True),
        ),
    )


@pytest.fixture(scope="module")
def study(case: Case) -> Comparison:
    """Compare a slimmer knife, a thicker one, and one that hardly differs from the case's own."""
    others = [knife("slim", 8.0), knife("thick", 18.0), knife("twin", 12.1)]
    return compare_knives(case, others)


def test_knives_are_ranked_by_their_smallest_margin(study: Comparison) -> None:
    assert [k.name for k in study.knives] == ["thick", "twin", "own", "slim"]
    margins = [k.margin.value for k in study.knives]
    assert margins == sorted(margins, reverse=True)
    for k in study.knives:
        assert k.margin.value == min(v.margin for _, v in k.judged)
    assert places(study.margins) == [(1, 1), (2, 3), (2, 3), (4, 4)]


def test_each_answers_as_it_would_alone(study: Comparison, case: Case) -> None:
    (slim,) = (k for k in study.knives if k.name == "slim")
    alone = run_case(replace(case, profile=knife("slim", 8.0)))
    assert [a.sentence for a in slim.run.loads] == [a.sentence for a in alone.loads]
    pushed = stiffness_of([knife("slim", 8.0)], held_at_mm=8.0, at_mm=[]).blades[0].places[0]
    assert slim.stiffness.stiffness_n_per_mm2 == pushed.stiffness_n_per_mm2
    assert slim.thickness_at_deepest_mm == pytest.approx(alone.outline.thickness_mm(0.5))
    assert study.deepest_mm == 0.5


def test_the_first_sentence_answers(study: Comparison) -> None:
    said = compare_sentences(study)
    assert said.startswith("All 4 knives come through; the thick takes most, 3.8 times this work; ")
    assert "the twin and the own are as good as each other" in said
    assert said.endswith('"tip", which comes now and then, is the hardest on each of them.')


def test_the_order_in_which_they_are_given_changes_nothing(study: Comparison, case: Case) -> None:
    others = [knife("twin", 12.1), knife("slim", 8.0), knife("thick", 18.0), knife("own")]
    again = compare_knives(case, others, with_own=False)
    assert compare_sentences(again) == compare_sentences(study)
    assert again.first.name == "twin"


def test_a_mirrored_knife_is_as_good_from_the_other_side(case: Case) -> None:
    one = knife("one", bevels=(Bevel(left_dps=0.0, right_dps=24.0, ends_at_thickness_mm=0.4),))
    other = knife("other", bevels=(Bevel(left_dps=24.0, right_dps=0.0, ends_at_thickness_mm=0.4),))
    both = replace(
        case,
        loads=(MediumLoad(name="straight", medium="bone", depth_in_cut_mm=0.3, side="both"),),
    )
    made = compare_knives(both, [one, other], with_own=False)
    assert made.margins[0].value == pytest.approx(made.margins[1].value, rel=2e-3)
    assert "as good as each other" in compare_sentences(made)


def test_knives_alike_where_the_work_sits_are_told_so(case: Case) -> None:
    tip = replace(case, loads=(TipLineLoad(name="straight in", axial_n_per_mm=3.0),))
    made = compare_knives(tip, [knife("heavier", spine_thickness_mm=3.0)])
    assert any("alike where this work sits" in remark for remark in made.remarks)
    assert "they are as good as each other" in compare_sentences(made)
    assert made.deepest_mm == 1.0


def test_a_knife_named_twice_is_taken_once(case: Case) -> None:
    planned, remarks = plan_knives(case, [knife("own"), knife("own", 15.0)])
    assert [k.name for k in planned] == ["own", "own (2)"]
    assert remarks == ("the own was named twice and is taken once",)


def test_two_to_twenty(case: Case) -> None:
    with pytest.raises(BadInput, match="one knife is given"):
        plan_knives(case, [])
    many = [knife(f"k{n}", 10.0 + 0.1 * n) for n in range(20)]
    with pytest.raises(BadInput, match="21 knives are given"):
        plan_knives(case, many)
    assert len(plan_knives(case, many, with_own=False)[0]) == 20


def test_all_knives_that_cannot_be_held_are_told_at_once(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(study_module, "run_case", lambda _: pytest.fail("nothing may be solved"))
    short = [knife(name, height_mm=7.0, spine_thickness_mm=1.0) for name in ("a", "b")]
    with pytest.raises(BadInput) as told:
        compare_knives(case, [short[0], knife("good", 15.0), short[1]])
    assert [p.where for p in told.value.problems] == ["a", "b"]
    for problem in told.value.problems:
        assert "support.clamp_depth_mm is 8 mm" in problem.message
        assert "the spine (7 mm)" in problem.message
        assert "leave this knife out" in problem.message


def test_one_that_cannot_be_solved_costs_the_others_nothing(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(asked: Case) -> object:
        if asked.profile.name == "odd":
            raise NumericsFailed("the mesher produced nothing")
        return run_case(asked)

    monkeypatch.setattr(study_module, "run_case", failing)
    told: list[tuple[int, int]] = []
    made = compare_knives(
        case, [knife("odd", 9.0), knife("even", 14.0)], progress=lambda *at: told.append(at)
    )
    assert [k.name for k in made.knives] == ["even", "own"]
    assert [k.name for k in made.unsolved] == ["odd"]
    said = compare_sentences(made)
    assert said.startswith("Of 3 knives ")
    assert said.endswith("The odd could not be solved.")
    assert told == [(1, 3), (2, 3), (3, 3)]
    with pytest.raises(NumericsFailed, match="odd: the mesher"):
        compare_knives(case, [knife("odd", 9.0), knife("odd", 8.0)], with_own=False)


def test_loads_that_cancel_are_nothing_to_compare_by(case: Case) -> None:
    zero = (TipLineLoad(axial_n_per_mm=1.0), TipLineLoad(axial_n_per_mm=-1.0))
    with pytest.raises(BadInput, match="nothing to judge"):
        compare_knives(
            replace(case, loads=(CombinedLoad(name="none", parts=zero),)), [knife("b", 9.0)]
        )


def test_blades_held_at_their_own_spines_are_warned_of(case: Case) -> None:
    free = replace(case, support=Support(), loads=case.loads[:1])
    made = compare_knives(free, [knife("higher", height_mm=25.0)])
    assert any("its own spine" in remark for remark in made.remarks)


def test_a_terminal_is_told_no_more_than_it_holds(study: Comparison) -> None:
    every, told = every_warning(study), told_warnings(study)
    assert set(told[:-1]) <= set(every)
    assert len(told) <= len(every) + 1
    assert told[-1].startswith(f"{len(every) - len(told) + 1} more note")


def test_under_an_imposed_distance_a_slim_edge_may_win() -> None:
    case = read_case("fillet-knife-over-a-rod")
    case = replace(case, accuracy_percent=10.0, loads=case.loads[-1:])
    made = compare_knives(case, [read_profile("axe")])
    assert [k.name for k in made.knives] == ["fillet knife", "axe"]
    assert any("carried by a distance" in remark for remark in made.remarks)
