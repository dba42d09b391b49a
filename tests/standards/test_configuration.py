"""CV29 of locomotive and accessory decoders."""

import pytest

from rosterkit.standards.configuration import (
    AccessoryConfiguration,
    Configuration,
    accessory_configuration,
    accessory_configuration_words,
    configuration,
    configuration_words,
    cv29_of,
    cv29_of_accessory,
    is_accessory,
)

CV29 = "NMRA S-9.2.2 (Jul 2012), CV29; RCN-225 (27.07.2025), CV29; derived"
ACCESSORY = "NMRA S-9.2.2 (Jul 2012), CV29[541]; RCN-225 (27.07.2025), section 3.1; derived"


@pytest.mark.parametrize(
    ("source", "wanted", "cv29"),
    [
        pytest.param(CV29, Configuration(), 0, id="0 is short, 14 steps, digital only"),
        pytest.param(CV29, Configuration(reversed=True), 1, id="1 is reversed"),
        pytest.param(CV29, Configuration(steps_28=True), 2, id="2 is 28 steps"),
        pytest.param(CV29, Configuration(steps_28=True, reversed=True), 3, id="3 is 28 steps reversed"),
        pytest.param(CV29, Configuration(steps_28=True, dc_operation=True), 6, id="6 is 28 steps and DC"),
        pytest.param(
            CV29, Configuration(steps_28=True, dc_operation=True, reversed=True), 7, id="7 is 6 reversed"
        ),
        pytest.param(CV29, Configuration(steps_28=True, bidi=True), 10, id="10 is 28 steps and BiDi"),
        pytest.param(
            CV29,
            Configuration(steps_28=True, dc_operation=True, bidi=True),
            14,
            id="14 is 28 steps, DC and BiDi",
        ),
        pytest.param(
            CV29, Configuration(steps_28=True, speed_table=True), 18, id="18 is 28 steps and a table"
        ),
        pytest.param(
            CV29, Configuration(steps_28=True, dc_operation=True, speed_table=True), 22, id="22 is 18 with DC"
        ),
        pytest.param(CV29, Configuration(steps_28=True, long_address=True), 34, id="34 is long, 28 steps"),
        pytest.param(
            CV29, Configuration(steps_28=True, long_address=True, reversed=True), 35, id="35 is 34 reversed"
        ),
        pytest.param(
            CV29,
            Configuration(steps_28=True, long_address=True, dc_operation=True),
            38,
            id="38 is 34 with DC",
        ),
        pytest.param(
            CV29,
            Configuration(steps_28=True, long_address=True, dc_operation=True, reversed=True),
            39,
            id="39 is 38 reversed",
        ),
        pytest.param(
            CV29, Configuration(steps_28=True, long_address=True, bidi=True), 42, id="42 is 34 with BiDi"
        ),
        pytest.param(
            CV29,
            Configuration(steps_28=True, long_address=True, bidi=True, dc_operation=True),
            46,
            id="46 is 38 with BiDi",
        ),
        pytest.param(
            CV29,
            Configuration(steps_28=True, long_address=True, speed_table=True),
            50,
            id="50 is 34 with a table",
        ),
        pytest.param(
            CV29,
            Configuration(steps_28=True, long_address=True, speed_table=True, dc_operation=True),
            54,
            id="54 is 38 with a table",
        ),
        pytest.param(
            CV29,
            Configuration(
                reversed=True,
                steps_28=True,
                dc_operation=True,
                bidi=True,
                speed_table=True,
                long_address=True,
            ),
            63,
            id="63 is everything",
        ),
        pytest.param(CV29, Configuration(reserved=True), 64, id="64 is the reserved bit alone"),
    ],
)
def test_cv29_is_the_sum_of_its_settings(source: str, wanted: Configuration, cv29: int) -> None:
    assert cv29_of(wanted) == cv29, source
    assert configuration(cv29) == wanted, source


@pytest.mark.parametrize(
    ("source", "wanted", "cv29"),
    [
        pytest.param(ACCESSORY, AccessoryConfiguration(), 128, id="128 is basic, by decoder"),
        pytest.param(ACCESSORY, AccessoryConfiguration(bidi=True), 136, id="136 is 128 with BiDi"),
        pytest.param(ACCESSORY, AccessoryConfiguration(extended=True), 160, id="160 is extended"),
        pytest.param(ACCESSORY, AccessoryConfiguration(output_addressing=True), 192, id="192 is by output"),
        pytest.param(
            ACCESSORY,
            AccessoryConfiguration(output_addressing=True, bidi=True),
            200,
            id="200 is 192 with BiDi",
        ),
        pytest.param(
            ACCESSORY, AccessoryConfiguration(output_addressing=True, extended=True), 224, id="224 is both"
        ),
        pytest.param(ACCESSORY, AccessoryConfiguration(reserved=23), 151, id="151 has every reserved bit"),
    ],
)
def test_cv29_of_an_accessory_is_the_sum_of_its_settings(
    source: str, wanted: AccessoryConfiguration, cv29: int
) -> None:
    assert cv29_of_accessory(wanted) == cv29, source
    assert accessory_configuration(cv29) == wanted, source


def test_all_128_locomotive_bytes_come_back_bit_by_bit() -> None:
    for cv29 in range(128):
        read = configuration(cv29)
        bits = [
            read.reversed,
            read.steps_28,
            read.dc_operation,
            read.bidi,
            read.speed_table,
            read.long_address,
            read.reserved,
        ]
        # NMRA S-9.2.2 (Jul 2012), CV29: bit 0 to bit 6 in this order.
        assert "".join("01"[bit] for bit in bits) == f"{cv29:07b}"[::-1]
        assert cv29_of(read) == cv29
        assert not is_accessory(cv29)


def test_all_128_accessory_bytes_come_back_bit_by_bit() -> None:
    for cv29 in range(128, 256):
        read = accessory_configuration(cv29)
        bits = f"{cv29:08b}"[::-1]
        # NMRA S-9.2.2 (Jul 2012), CV29[541]: bits 3, 5 and 6; 0 to 2 and 4 reserved.
        assert (read.bidi, read.extended, read.output_addressing) == tuple(bits[n] == "1" for n in (3, 5, 6))
        assert f"{read.reserved:08b}"[::-1] == f"{bits[:3]}0{bits[4]}000"
        assert cv29_of_accessory(read) == cv29
        assert is_accessory(cv29)


@pytest.mark.parametrize(
    ("source", "cv29", "message"),
    [
        pytest.param(
            CV29,
            128,
            "^CV29 128 is outside 0 to 127: bit 7 marks an accessory decoder$",
            id="128 is an accessory's",
        ),
        pytest.param(
            CV29,
            255,
            "^CV29 255 is outside 0 to 127: bit 7 marks an accessory decoder$",
            id="255 is an accessory's",
        ),
        pytest.param(CV29, 256, "^CV29 256 is outside 0 to 255$", id="256 is no byte"),
        pytest.param(CV29, -1, "^CV29 -1 is outside 0 to 255$", id="-1 is no byte"),
    ],
)
def test_what_is_no_locomotive_configuration_is_refused(source: str, cv29: int, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        configuration(cv29)


@pytest.mark.parametrize(
    ("source", "cv29", "message"),
    [
        pytest.param(ACCESSORY, 6, "^CV29 6 is outside 128 to 255: without bit 7", id="6 is a locomotive's"),
        pytest.param(ACCESSORY, 127, "^CV29 127 is outside 128 to 255", id="127 is a locomotive's"),
        pytest.param(ACCESSORY, 256, "^CV29 256 is outside 0 to 255$", id="256 is no byte"),
    ],
)
def test_what_is_no_accessory_configuration_is_refused(source: str, cv29: int, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        accessory_configuration(cv29)


def test_a_reserved_value_with_a_bit_that_has_a_meaning_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^reserved bits 8 are outside bits 0 to 2 and 4$"):
        cv29_of_accessory(AccessoryConfiguration(reserved=8))


@pytest.mark.parametrize(
    ("source", "cv29", "words"),
    [
        pytest.param(
            CV29,
            38,
            [
                "direction normal",
                "28 or 128 speed steps",
                "DC operation on",
                "BiDi off",
                "3-point curve (CV2, CV6, CV5)",
                "long address (CV17 and CV18)",
            ],
            id="38 in words",
        ),
        pytest.param(
            CV29,
            25,
            [
                "direction reversed",
                "14 speed steps",
                "DC operation off",
                "BiDi on",
                "speed table (CV67 to CV94)",
                "short address (CV1)",
            ],
            id="25 in words",
        ),
        pytest.param(
            CV29,
            64,
            [
                "direction normal",
                "14 speed steps",
                "DC operation off",
                "BiDi off",
                "3-point curve (CV2, CV6, CV5)",
                "short address (CV1)",
                "reserved bit 6 set",
            ],
            id="64 in words names the reserved bit",
        ),
    ],
)
def test_cv29_in_words(source: str, cv29: int, words: list[str]) -> None:
    assert configuration_words(configuration(cv29)) == words, source


@pytest.mark.parametrize(
    ("source", "cv29", "words"),
    [
        pytest.param(
            ACCESSORY,
            200,
            ["BiDi on", "basic packets", "address of the first output", "accessory decoder"],
            id="200 in words",
        ),
        pytest.param(
            ACCESSORY,
            161,
            [
                "BiDi off",
                "extended packets",
                "address of the decoder",
                "accessory decoder",
                "reserved bits set (value 1)",
            ],
            id="161 in words names the reserved bit",
        ),
    ],
)
def test_cv29_of_an_accessory_in_words(source: str, cv29: int, words: list[str]) -> None:
    assert accessory_configuration_words(accessory_configuration(cv29)) == words, source
