"""Published schemes of address ranges, each figure against the text that it names.

FREMO, "Allocation of long DCC addresses", undated; FREMO H0-Europa, "Short DCC addresses 1..127", undated,
and "Address allocation of the H0 standard-gauge group", 2024; FREMO, pre-war group, "Rules of address
allocation", decision of 23 Oct 2023; FKTT, "Central digital-address administration", undated; MIT-Nord module
group, "Assignment of digital addresses", undated.
"""

from pathlib import Path

import pytest
from openpyxl import load_workbook

from rosterkit.commands.check import check as check_workbooks
from rosterkit.commands.new.command import make_workbook
from rosterkit.commands.new.range_presets import PRESETS, Preset, preset_named, range_rows
from rosterkit.errors import CannotRunError

Published = list[tuple[str, int, int, str]]


@pytest.mark.parametrize(
    ("name", "body", "published"),
    [
        (
            "four-digit",
            "FREMO",
            [
                ("long", 1, 199, "never"),
                ("long", 200, 299, "devices"),
                ("long", 300, 9979, "engines"),
                ("long", 9980, 10239, "never"),
            ],
        ),
        ("blocks-10", "FKTT (TT module circle, Germany)", [("long", 1000, 1009, "engines")]),
        (
            "blocks-25",
            "MIT-Nord module group",
            [
                ("long", 250, 254, "never"),
                ("long", 1000, 1024, "engines"),
                ("long", 1025, 1049, "engines"),
            ],
        ),
        ("blocks-100", "FREMO H0-Europa", [("long", 300, 399, "engines"), ("long", 400, 499, "engines")]),
        (
            "meet-pool",
            "FREMO, pre-war group",
            [
                ("long", 7200, 7499, "meet only"),
                ("short", 40, 99, "meet only"),
                ("short", 100, 127, "consists"),
            ],
        ),
    ],
)
def test_a_preset_has_the_published_figures(name: str, body: str, published: Published) -> None:
    preset = preset_named(name)

    rows = [(row["kind"], row["first"], row["last"], row["use"]) for row in range_rows(preset)]

    assert preset.body == body
    assert [row for row in published if row not in rows] == []


@pytest.mark.parametrize("preset", PRESETS, ids=[preset.name for preset in PRESETS])
def test_a_workbook_made_with_a_preset_names_its_source_and_has_no_fault(
    preset: Preset, tmp_path: Path
) -> None:
    path = tmp_path / "club.xlsx"

    make_workbook(path, ranges=preset.name)

    workbook = load_workbook(path)
    sheet = workbook["Address ranges"]
    assert preset.citation in str(sheet["F2"].value)
    workbook["Locomotives"]["A2"] = "A"
    workbook["Locomotives"]["I2"] = 1003
    workbook["Locomotives"]["B2"] = "M01"
    workbook.save(path)
    slugs = {finding.rule for finding in check_workbooks([path]).findings}
    # openpyxl leaves the results of formulas out, so that the computed cells of the row are stale.
    assert slugs - {"address-outside-range", "address-in-another-range"} == {"computed-stale"}


def test_each_member_named_gets_a_block_in_turn() -> None:
    rows = range_rows(preset_named("blocks-25"), ["M07", "M03"])

    blocks = [(row["first"], row["last"], row["member"]) for row in rows if row.get("member")]
    assert blocks == [(1000, 1024, "M07"), (1025, 1049, "M03")]


@pytest.mark.parametrize(
    ("members", "message"),
    [
        pytest.param(["M07", " "], "a member has no code", id="a blank code"),
        pytest.param(["M07", "M03", "m07"], "the member 'm07' is named twice", id="a code twice"),
    ],
)
def test_members_without_a_code_of_their_own_are_refused(members: list[str], message: str) -> None:
    with pytest.raises(CannotRunError) as refused:
        range_rows(preset_named("blocks-25"), members)

    assert (refused.value.message, refused.value.fix) == (message, "Give --member once for each, as in M01.")


def test_more_members_than_blocks_are_refused() -> None:
    members = [f"M{number}" for number in range(97)]

    with pytest.raises(CannotRunError, match="97 members are more than the 96 blocks of 100 addresses"):
        range_rows(preset_named("blocks-100"), members)


def test_an_unknown_preset_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(CannotRunError, match="there is no preset 'blocks-20'") as refused:
        preset_named("blocks-20")

    assert refused.value.fix.startswith("Did you mean 'blocks-")
