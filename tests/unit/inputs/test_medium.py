"""The media as data, the names they go by, and the hands that push."""

from __future__ import annotations

import pytest

from simedge.inputs.library_data import plain_name
from simedge.inputs.medium import find_medium, hands, media, unknown_medium_message


def test_twelve_media_each_with_a_rising_range() -> None:
    assert len(media()) == 12
    for name, medium in media().items():
        assert medium.name == name
        assert 0 < medium.strength_low_mpa < medium.strength_mpa < medium.strength_high_mpa
        assert medium.contact_length_mm > 0
        assert medium.trust in {"M", "D", "P"}
        assert medium.source
        assert medium.contact_length_trust == "P"
        assert medium.contact_length_source
        assert medium.contact_length_spread


@pytest.mark.parametrize(
    ("name", "low", "typical", "high", "length"),
    [
        ("vegetables", 0.2, 0.5, 2, 40),
        ("soft wood", 15, 22, 30, 15),
        ("bone", 150, 250, 400, 5),
        ("mild steel", 350, 650, 1200, 1.5),
    ],
)
def test_figures_of_the_table(
    name: str, low: float, typical: float, high: float, length: float
) -> None:
    medium = media()[name]
    assert (medium.strength_low_mpa, medium.strength_mpa) == (low, typical)
    assert (medium.strength_high_mpa, medium.contact_length_mm) == (high, length)


def test_derived_strengths_are_a_third_of_the_hardness_they_name() -> None:
    # H/3 of 88 and 350 HV is 288 and 1144 MPa, which the table rounds by less than 5 %. The
    # low value of mild steel, 350 MPa, lies below H/3 of 180 HV, 588 MPa: not compared.
    assert media()["aluminium"].strength_mpa == pytest.approx(9.807 * 88 / 3, rel=0.05)
    assert media()["mild steel"].strength_high_mpa == pytest.approx(9.807 * 350 / 3, rel=0.05)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("hard wood", "hard wood"),
        ("Hardwood", "hard wood"),
        ("soft-wood", "soft wood"),
        ("natural-fibre rope, taut", "rope"),
        ("ROPE", "rope"),
        ("cooked meat", "vegetables"),
        ("cardboard", "paper"),
        ("knot", "knots"),
        ("plastics (rigid)", "plastic"),
        ("cortical bone", "bone"),
        ("aluminum", "aluminium"),
        ("tinplate", "mild steel"),
        ("Meat", "meat"),
        ("leather", "leather"),
    ],
)
def test_names_and_aliases(written: str, name: str) -> None:
    assert find_medium(written).name == name


def test_no_alias_belongs_to_two_media() -> None:
    spelled = [
        {plain_name(written) for written in (each.name, each.description, *each.aliases)}
        for each in media().values()
    ]
    assert sum(len(names) for names in spelled) == len(set().union(*spelled))


def test_unknown_medium_names_the_nearest_and_all() -> None:
    message = unknown_medium_message("leahter")
    assert message.startswith(
        'is "leahter", but no such medium is known; did you mean "leather"? known are "vegetables"'
    )
    assert all(f'"{name}"' in message for name in media())
    with pytest.raises(KeyError) as caught:
        find_medium("leahter")
    assert caught.value.args == (message,)


def test_nothing_alike_is_not_guessed() -> None:
    assert "did you mean" not in unknown_medium_message("xyzzy")


def test_hands() -> None:
    assert {name: (hand.force_n, hand.trust) for name, hand in hands().items()} == {
        "one hand": (100.0, "S"),
        "two hands": (250.0, "P"),
    }
    assert all(hand.source and hand.spread for hand in hands().values())
