"""How it is said what is wrong: every rule that a file can break, in people's words."""

import pytest

# -- numbers --------------------------------------------------------------------------


def test_the_example_of_the_design(facet_problem):
    assert facet_problem("dps = 95") == (
        "facets[1].dps (edge) is 95 deg, but must lie in (0, 45]; "
        "an included angle is written as half of it per side"
    )


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("metal.hardness_hrc = 19.5", "is 19.5 HRC, but must lie in [20, 70]"),
        ("metal.poissons_ratio = 0.5", "is 0.5, but must lie in (-1, 0.5)"),
        ("metal.share_percent = 0", "is 0 %, but must be greater than 0"),
        ("metal.load_n_per_mm = 10.0", "is 10 N/mm, but must be less than 10"),
        ("metal.radius_um = -1", "is -1 µm, but must lie in (0, 500]"),
        ("works = [{force_n = -3}]", "is -3 N, but must be at least 0"),
        ("limits = {a = 4}", "limits.a is 4, but must be at most 3"),
        ("facets = [{dps = 1, height_mm = 1e3}]", "is 1000 mm, but must lie in [0, 1000)"),
        ("height_mm = 1e999", "is inf mm, but must be a finite number"),
        ("height_mm = nan", "is nan mm, but must be a finite number"),
        ("height_mm = 0x1" + "0" * 300, "is a number beyond 1e308, but must be a plain number"),
    ],
)
def test_number_out_of_its_interval(line, said, problems):
    text = line if line.startswith("facets") else f"{line}\n[[facets]]\ndps = 15\n"
    assert said in problems(text)[0]


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("metal.youngs_modulus_gpa = 210000", "if it is meant in MPa, write 210"),
        ("metal.yield_mpa = 2.1", "if it is meant in GPa, write 2100"),
        ("height_mm = 28000", "if it is meant in µm, write 28"),
    ],
)
def test_number_in_a_neighbouring_unit(line, hint, problem):
    assert problem(line).endswith(hint)


def test_no_unit_is_suggested_where_none_would_help(problem, facet_problem):
    assert problem("height_mm = -5").endswith("must lie in (0, 1000]")
    assert facet_problem("dps = -5").endswith("must lie in (0, 45]")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('height_mm = "20"', 'height_mm is "20", but must be a plain number (mm)'),
        ('works = [{force_n = "20N"}]', '[0].force_n is "20N", but must be a plain number (N)'),
        ("height_mm = true", "height_mm is true, but must be a plain number (mm)"),
        ("height_mm = [1]", "height_mm is a list of 1, but must be a plain number (mm)"),
        ("height_mm = 2024-01-01", "height_mm is 2024-01-01, but must be a plain number (mm)"),
        ("count = 1.5", "count is 1.5, but must be a whole number"),
        ("count = true", "count is true, but must be a whole number"),
        ("sharp = 1", "sharp is 1, but must be true or false"),
        ("title = 5", "title is 5, but must be text in quotes"),
        ("metal = 5", "metal is 5, but must be a table; begin it with [metal]"),
        ("metal = [{}]", "metal is a list of 1, but must be a table; write [metal] once, not"),
        ("works = 5", "works is 5, but must be a list; begin each entry with [[works]]"),
        ("works = {}", "is a table, but must be a list; begin each entry with [[works]], not [wor"),
        ("works = [5]", "works[0] is 5, but must be a table; begin it with [[works]]"),
        ("grind = 5", "grind is 5, but must be a table; begin it with [grind]"),
        ("pair = 5", "pair is 5, but must be a list"),
        ("pair = [1]", "pair is too short, but must have 2 entries"),
        ("pair = []", "pair is too short, but must have 2 entries"),
        ("pair = [1, 2, 3]", "pair is a list of 3, but must have at most 2 items"),
        ("pair = [1, '2']", 'pair[1] is "2", but must be a plain number'),
        ("handle = 5", "handle is 5, but must be text in quotes or a table"),
        ("handle = {hardness_hrc = 5}", "handle.hardness_hrc is 5 HRC, but must lie in [20, 70]"),
    ],
)
def test_wrong_kind_of_value(line, said, problem):
    assert said in problem(line)


def test_problem_shows_the_inches_that_were_written(problem, facet_problem):
    assert facet_problem("height_in = -1").startswith(
        "facets[1].height_in (edge) is -1 in (-25.4 mm), but must lie in [0, 1000) mm"
    )
    assert problem('height_in = "1.1"') == 'height_in is "1.1", but must be a plain number (in)'
    assert problem("height_in = true") == "height_in is true, but must be a plain number (in)"
    assert "must be a finite number" in problem("height_in = 0x1" + "0" * 300)


def test_entry_of_another_kind(problems):
    assert problems("facets = [3]") == [
        "k.toml:1: facets[0] is 3, but must be a table; begin it with [[facets]]"
    ]


# -- choices, missing and unknown keys --------------------------------------------------


def test_choice_lists_all_and_names_the_nearest(problem):
    said = problem('works = [{force_n = 1, side = "Lefft"}]')
    assert said.endswith('is "Lefft", but must be one of "left", "right"; did you mean "left"?')


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            'grind = {kind = "holow"}',
            'grind.kind is "holow", but must be one of "flat", "hollow"; ',
        ),
        ("grind = {}", 'grind.kind is missing, but must be one of "flat", "hollow"'),
        ("grind = {kind = [1]}", "grind.kind is a list of 1, but must be one of"),
        ('grind = {kind = "hollow"}', "grind.wheel_mm is missing; write e.g. wheel_mm = 1"),
        ("grind = {kind = 'flat', dps = 0}", "grind.dps is 0 deg, but must lie in (0, 45]"),
    ],
)
def test_union_told_apart_by_a_key(line, said, problem):
    assert said in problem(line)


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (
            "{}",
            "works[0] does not say which kind it is; give pressed and depth_in_cut_mm, or force_n",
        ),
        ("{pressed = 'x'}", "works[0].depth_in_cut_mm is missing; write e.g. depth_in_cut_mm = 1"),
        ("{pressed = 'x', depth_in_cut_mm = 0}", "works[0].depth_in_cut_mm is 0 mm, but must be"),
        ("{pressed = 5, depth_in_cut_mm = 1}", "works[0].pressed is 5, but must be text"),
        ("{pressed = 'rude', depth_in_cut_mm = 1}", "works[0]: this load is rude"),
        (
            "{force_n = 1, sides = 1}",
            'works[0].sides is not a key of [[works]]; did you mean "side"',
        ),
    ],
)
def test_union_told_apart_by_a_function_keeps_its_tag_to_itself(entry, said, problem):
    assert problem(f"works = [{entry}]").startswith(said)


def test_missing_key_stands_at_the_line_of_its_table(problems):
    assert problems("\n[[facets]]\ndps = 1\n[[facets]]\nname = 'edge'") == [
        "k.toml:4: facets[1].dps (edge) is missing; write e.g. dps = 1"
    ]


def test_missing_list_of_tables(problems):
    assert problems("title = 'x'") == [
        "k.toml:1: facets is missing; begin each entry with [[facets]]"
    ]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("dpss = 3", 'is not a key of [[facets]]; did you mean "dps"?'),
        ("DPS = 3", 'is not a key of [[facets]]; did you mean "dps"?'),
        ("height_cm = 3", "is not a key of [[facets]]; write height_mm, in mm"),
        ("height = 3", "is not a key of [[facets]]; write height_mm, in mm"),
        ("hieght_in = 3", 'is not a key of [[facets]]; did you mean "height_in"?'),
        ("count = 3", "is not a key of [[facets]]; it belongs at the top of the file"),
        ("hardness_hrc = 3", "is not a key of [[facets]]; it belongs in [metal] or in [handle]"),
        ("zzz = 3", "is not a key of [[facets]]; its keys are name, dps, height_mm"),
    ],
)
def test_unknown_key(line, said, facet_problem):
    key = line.split()[0]
    assert facet_problem(line) == f"facets[1].{key} (edge) {said}"


def test_unknown_key_at_the_top(problem):
    assert problem("tittle = 1") == (
        'tittle is not a key at the top of the file; did you mean "title"?'
    )


@pytest.mark.parametrize("line", ["DPS = 3", "dpss = 3"])
def test_a_key_that_stands_there_misspelt_is_not_missing_too(line, problems):
    assert problems(f"[[facets]]\n{line}") == [
        f'k.toml:2: facets[0].{line.split()[0]} is not a key of [[facets]]; did you mean "dps"?'
    ]
    # what is missing besides is still told
    assert len(problems(f"[[facets]]\n{line}\n[[works]]\npressed = 'x'")) == 2


def test_a_number_with_a_point_is_shown_as_it_was_written(problem):
    assert problem("count = 2.0") == "count is 2.0, but must be a whole number"
