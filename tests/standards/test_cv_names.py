"""Short names of CVs."""

import pytest

from rosterkit.standards.cv_names import accessory_register_name, cv_name

TABLE_1 = "NMRA S-9.2.2 (Jul 2012), Table 1; RCN-225 (27.07.2025), section 2"
TABLE_3 = "NMRA S-9.2.2 (Jul 2012), Table 3; RCN-225 (27.07.2025), section 3"


@pytest.mark.parametrize(
    ("source", "cv", "name"),
    [
        pytest.param(TABLE_1, 1, "short address", id="CV1"),
        pytest.param(TABLE_1, 3, "acceleration", id="CV3"),
        pytest.param(TABLE_1, 8, "manufacturer ID", id="CV8"),
        pytest.param(TABLE_1, 17, "long address, high byte", id="CV17"),
        pytest.param(TABLE_1, 18, "long address, low byte", id="CV18"),
        pytest.param(TABLE_1, 19, "consist address", id="CV19"),
        pytest.param("RCN-225 (27.07.2025), CV19/20", 20, "consist address, high digits", id="CV20"),
        pytest.param("from memory", 26, "reserved", id="CV26"),
        pytest.param(TABLE_1, 29, "configuration", id="CV29"),
        pytest.param(TABLE_1, 33, "outputs of F0f", id="CV33, the first of the mapping"),
        pytest.param(TABLE_1, 46, "outputs of F12", id="CV46, the last of the mapping"),
        pytest.param(TABLE_1, 47, "manufacturer unique", id="CV47, the first of the maker's"),
        pytest.param(TABLE_1, 64, "manufacturer unique", id="CV64, the last of the maker's"),
        pytest.param("NMRA S-9.2.2 (Jul 2012), CV65", 65, "kick start", id="CV65"),
        pytest.param(TABLE_1, 66, "forward trim", id="CV66"),
        pytest.param(TABLE_1, 67, "speed table, step 1", id="CV67, the first of the table"),
        pytest.param(TABLE_1, 94, "speed table, step 28", id="CV94, the last of the table"),
        pytest.param(TABLE_1, 95, "reverse trim", id="CV95"),
        pytest.param("RCN-225 (27.07.2025), CV96", 96, "function mapping method", id="CV96"),
        pytest.param(TABLE_1, 97, "reserved or manufacturer unique", id="CV97, where the texts differ"),
        pytest.param(TABLE_1, 104, "reserved or manufacturer unique", id="CV104, where the texts differ"),
        pytest.param(TABLE_1, 105, "user identification 1", id="CV105"),
        pytest.param(TABLE_1, 112, "manufacturer unique", id="CV112"),
        pytest.param(TABLE_1, 256, "manufacturer unique", id="CV256"),
        pytest.param(TABLE_1, 257, "indexed CV 1 of 256", id="CV257, the first indexed one"),
        pytest.param(TABLE_1, 512, "indexed CV 256 of 256", id="CV512, the last indexed one"),
        pytest.param(TABLE_1, 513, "manufacturer unique", id="CV513"),
        pytest.param("NMRA S-9.2.2 (Jul 2012), CV892-895", 892, "dynamic information", id="CV892"),
        pytest.param("NMRA S-9.2.2 (Jul 2012)", 896, "function module bus", id="CV896"),
        pytest.param(TABLE_1, 1024, "function module bus", id="CV1024"),
    ],
)
def test_names_of_cvs(source: str, cv: int, name: str) -> None:
    assert cv_name(cv) == name, source


def test_every_cv_has_a_name() -> None:
    names = [cv_name(cv) for cv in range(1, 1025)]

    assert all(names)
    assert len({cv_name(cv) for cv in (*range(1, 47), *range(65, 97))}) == 46 + 32


@pytest.mark.parametrize(
    ("source", "cv", "name"),
    [
        pytest.param(TABLE_3, 1, "accessory address, low bits", id="CV1"),
        pytest.param(TABLE_3, 513, "accessory address, low bits", id="CV513, the alias of CV1"),
        pytest.param(TABLE_3, 9, "accessory address, high bits", id="CV9"),
        pytest.param(TABLE_3, 521, "accessory address, high bits", id="CV521, the alias of CV9"),
        pytest.param(TABLE_3, 3, "on-time of output 1", id="CV3"),
        pytest.param(TABLE_3, 6, "on-time of output 4", id="CV6"),
        pytest.param(TABLE_3, 7, "decoder version", id="CV7"),
        pytest.param(TABLE_3, 8, "manufacturer ID", id="CV8"),
        pytest.param(TABLE_3, 28, "BiDi configuration", id="CV28"),
        pytest.param(TABLE_3, 541, "configuration", id="CV541, the alias of CV29"),
        pytest.param(TABLE_3, 67, "manufacturer unique", id="CV67 is no speed table"),
        pytest.param("RCN-225 (27.07.2025), section 3.1", 17, "output address, high bits", id="CV17"),
    ],
)
def test_names_of_cvs_of_accessories(source: str, cv: int, name: str) -> None:
    assert accessory_register_name(cv) == name, source


@pytest.mark.parametrize("cv", [pytest.param(0, id="CV0"), pytest.param(1025, id="CV1025")])
def test_there_are_no_other_cvs(cv: int) -> None:
    with pytest.raises(ValueError, match=f"^CV {cv} is outside 1 to 1024$"):
        cv_name(cv)
    with pytest.raises(ValueError, match=f"^CV {cv} is outside 1 to 1024$"):
        accessory_register_name(cv)
