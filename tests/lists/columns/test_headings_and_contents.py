"""A heading and what stands below it, together: each rule with a column that passes and one that fails."""

import pytest

from rosterkit.lists.reading import Sure
from tests.lists.columns.layouts import below


@pytest.mark.parametrize(
    ("heading", "texts", "read_as"),
    [
        pytest.param("Eigentümer", "M01 M02 M01", "owner", id="codes of members"),
        pytest.param("Owned", "x x x", "own", id="not ticks below a word near owner"),
        pytest.param("Who", "Bo Pim Bo", "owner", id="names of owners"),
        pytest.param("Owner", "yes no yes", "own", id="not a yes or no below Owner"),
        pytest.param(
            "Baureihe", "94 94 57", "model", id="classes that are figures, the number being elsewhere"
        ),
        pytest.param("Type", "2-8-0 2-8-2 GP", "model", id="wheel arrangements"),
        pytest.param("Type", "19.99 25.00 7.50", "own", id="not prices below Type"),
        pytest.param("LüP (mm)", "182,5 96 221,0", "length", id="lengths with a comma"),
        pytest.param("Lgth", '7"|8 1/4|4½"', "length", id="lengths in inches with fractions"),
        pytest.param("Length", "short long long", "own", id="not words below Length"),
        pytest.param("Länge (m)", "18,4 12,1 9", "own", id="not metres, which are of the prototype"),
        pytest.param("Stall current", "0.9 1.2 0,45", "stall", id="amperes"),
        pytest.param("Stall (mA)", "900 1200 450", "stall", id="milliamperes that the heading names"),
        pytest.param("Stall", "900 1200 450", "own", id="not 900 amperes"),
        pytest.param("Amps", "0.3 0.2 0.3", "own", id="not a current that may be the running one"),
        pytest.param("Chip", "plain snd plain", "decoder", id="labels of decoders"),
        pytest.param("Decoder", "y n y", "own", id="not whether there is a decoder"),
        pytest.param("Decoder", "✓ ✓ x", "own", id="not ticks for a decoder"),
        pytest.param("L/S", "L S L", "address_kind", id="letters for long and short"),
        pytest.param("Long address?", "x x no", "address_kind", id="ticks below a heading that says long"),
        pytest.param("Kind", "steam diesel diesel", "model", id="kinds of engines below Kind"),
        pytest.param("Kind", "long short long", "address_kind", id="kinds of addresses below Kind"),
        pytest.param("Kind", "yes no yes", "own", id="not ticks below Kind"),
        pytest.param("Richtung", "normal gedreht normal", "direction", id="words of direction in German"),
        pytest.param("F/R", "F R F", "direction", id="letters of direction"),
        pytest.param("Reversed?", "x x no", "direction", id="ticks below a heading that says reversed"),
        pytest.param("Direction", "12 45 3", "own", id="not numbers below Direction"),
        pytest.param("Dirección", "12 45 3", "own", id="not a second address in Spanish"),
        pytest.param("Dirección", "normal normal reverse", "direction", id="Spanish for direction too"),
        pytest.param("Fst.", "28 128 14", "speed_steps", id="speed steps"),
        pytest.param("Steps", "1 2 3", "own", id="not steps of a staircase"),
        pytest.param("Runs on DC?", "ja nein ja", "dc_operation", id="whether it runs on DC"),
        pytest.param("Analog", "Sound Licht Sound", "own", id="not words below Analog"),
        pytest.param("BiDi", "on off on", "bidi", id="BiDi"),
        pytest.param("Accel", "10 12 255", "acceleration", id="what CV3 holds"),
        pytest.param("Accel", "10 12 900", "acceleration", id="one wrong value among good ones"),
        pytest.param("Accel", "1000 1200 900", "own", id="not what no CV can hold"),
        pytest.param("Vmax", "100 80 120", "own", id="not a top speed in km/h"),
        pytest.param("Max speed (km/h)", "100 80 120", "own", id="nor one that says so"),
        pytest.param("CV29", "34 35 6", "cv:29", id="a CV"),
        pytest.param("CV29", "done open done", "own", id="not whether a CV was set"),
        pytest.param("CV29", "22 2F 26", "own", id="not a CV in hexadecimal digits"),
        pytest.param("CV29 (hex)", "22 23 26", "own", id="nor one whose heading says so"),
        pytest.param("CV29", "34|00001110|see card|256", "cv:29", id="a CV with odd cells beside good ones"),
        pytest.param("14 FS?", "x n x", "speed_steps", id="ticks below a number of steps"),
        pytest.param("verkehrt?", "x|-|x", "direction", id="ticks below a word for reversed"),
        pytest.param("CV 2", "3 4 5", "cv:2", id="a CV with a column of its own"),
        pytest.param(
            "sound volume (CV 64)", "128 90 100", "cv:64", id="a CV that the heading has in brackets"
        ),
        pytest.param("Hornlautstärke CV 64", "128 90 100", "cv:64", id="a CV in a German heading"),
        pytest.param("CV17/18", "212/120 212/121 195/232", "cv:17/18", id="both halves in one cell"),
        pytest.param("CV17/18", "5201 5202 5203", "own", id="not an address below the halves"),
        pytest.param("Coming?", "✓ ✓ x", "at_meet", id="who comes"),
        pytest.param("Meet", "5301 5302 5303", "meet_address", id="addresses below Meet"),
        pytest.param("Treffen", "x ja nein", "at_meet", id="ticks below Treffen"),
        pytest.param("Checked", "2022-04-01 2022-04-02 2022-05-01", "checked_on", id="days below Checked"),
        pytest.param("Checked", "yes yes no", "own", id="not ticks below Checked"),
        pytest.param("Geprüft von", "M02 M01 M02", "checked_by", id="who checked"),
        pytest.param("Geprüft von", "01.04.2022 02.04.2022 03.04.2022", "own", id="not days below who"),
        pytest.param(
            "Registered on", "1.4.2022 2.4.2022 3.4.2022", "registered_on", id="days of registration"
        ),
        pytest.param("Drivers", "owner anyone anyone", "drivers", id="who may drive"),
        pytest.param("Drivers", "Bo Pim Bo", "own", id="not who drove"),
        pytest.param("Fault", "coupler|motor hums|wheel loose", "fault", id="faults in words"),
        pytest.param("Fault", "x yes x", "own", id="not whether there is one"),
        pytest.param("Remarks", "flat spot|sold tender|loud", "notes", id="remarks"),
        pytest.param("Other", "450 89 120", "own", id="not numbers below Other"),
        pytest.param("Lock", "7 8 9", "lock", id="numbers of the decoder lock"),
        pytest.param("Lock", "front rear none", "own", id="not locks in words"),
        pytest.param("Preis", "89 450 129", "own", id="prices from 89 to 450"),
        pytest.param("Katalog-Nr.", "37201 37202 37203", "own", id="catalogue numbers"),
        pytest.param("Order no.", "1201 1202 1203", "own", id="order numbers"),
        pytest.param("Bj.", "1998 2004 2011", "own", id="years"),
        pytest.param("F0", "light light light", "own", id="a function key"),
        pytest.param("F 1", "12 13 14", "own", id="a function key with numbers"),
        pytest.param("By", "M01 M02 M01", "own", id="not who made or bought it"),
        pytest.param("Livery", "green blue green", "own", id="not colours"),
        pytest.param("Code", "3 4 5", "own", id="codes of any kind"),
        pytest.param("Engines", "4 11 2", "own", id="how many engines"),
        pytest.param("Serial", "1001 1002 1003", "own", id="serial numbers"),
        pytest.param("Consist addr", "12 12 14", "own", id="not the address of a consist"),
        pytest.param("Old address", "12 13 14", "own", id="not an address that was"),
        pytest.param("Weichenadresse", "1 2 3", "own", id="not the address of a turnout"),
        pytest.param("E-Mail-Adresse", "a@b c@d e@f", "own", id="not an address of mail"),
        pytest.param("Zzyzx", "12 13 14", "own", id="a word that nobody knows"),
        pytest.param("", "5201 5202 5203", "own", id="no heading"),
    ],
)
def test_a_column_is_read_as(heading: str, texts: str, read_as: str) -> None:
    parts = texts.split("|") if "|" in texts else texts.split()

    assert below(heading, *parts).read_as == read_as


@pytest.mark.parametrize(
    ("heading", "texts", "sure"),
    [
        pytest.param(
            "Owner", ("M01", "M02"), Sure.SURE, id="a heading that says one thing, and cells that fit"
        ),
        pytest.param("Onwer", ("M01", "M02"), Sure.LIKELY, id="a slip of the pen"),
        pytest.param("Owner", ("", ""), Sure.LIKELY, id="no cells"),
        pytest.param("Kind", ("steam", "diesel"), Sure.LIKELY, id="not the first meaning of the word"),
    ],
)
def test_how_sure_a_reading_is(heading: str, texts: tuple[str, ...], sure: Sure) -> None:
    assert below(heading, *texts).sure is sure


@pytest.mark.parametrize(
    ("heading", "texts", "why"),
    [
        pytest.param(
            "Own.", ("M01", "M02"), "'Own.' may mean Owner, and all that stands below it fits", id="read"
        ),
        pytest.param("Snd", ("x", ""), "'Snd' is something of your own", id="a column of one's own"),
        pytest.param("Zzyzx", ("1", "2"), "'Zzyzx' is no heading that is known", id="unknown"),
        pytest.param("", ("1", "2"), "it has no heading", id="none"),
        pytest.param(
            "Vmax",
            ("80", "100"),
            "'Vmax' may mean Vhigh, but what stands below it does not fit",
            id="a misfit",
        ),
        pytest.param(
            "Addr.", ("1", "2"), "'Addr.' may mean Address, but that is S!C 'DCC address'", id="taken already"
        ),
    ],
)
def test_why_a_column_is_read_so(heading: str, texts: tuple[str, ...], why: str) -> None:
    assert below(heading, *texts).why == why


def test_samples_are_the_first_three_different_contents() -> None:
    assert below("Owner", "M01", "M01", "M02", "M03", "M04").samples == ("M01", "M02", "M03")
