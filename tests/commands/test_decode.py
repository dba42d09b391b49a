"""What CV values mean, as text and JSON."""

import json

import pytest
from jsonschema import Draft202012Validator

from rosterkit.commands.decode import decode_json, decode_text
from rosterkit.cv.decode import decoded
from rosterkit.roster.schema import schema_file

FAULTY = {1: 44, 17: 196, 18: 210, 29: 6}


def test_text_is_the_address_then_the_cvs_then_the_faults_with_what_to_do() -> None:
    assert (
        decode_text(decoded(FAULTY))
        == """\
address: short 44
direction: normal
speed steps: 28 or 128
DC operation: on
BiDi: off
CV1    =  44  0010 1100  short address: 44
CV17   = 196  1100 0100  long address, high byte of 1234
CV18   = 210  1101 0010  long address, low byte of 1234
CV29   =   6  0000 0110  configuration: direction normal, 28 or 128 speed steps, \
DC operation on, BiDi off, 3-point curve (CV2, CV6, CV5), short address (CV1)
note: [CV17 CV18 CV29] long 1234 is stored and not used: CV29 = 6 says short
    fix: Only if the engine is to answer long 1234, set bit 5 of CV29 (add 32).
warning: [CV29] DC operation is on: a glitch on the rails can start the engine at full speed, \
until valid packets come again
    fix: Clear bit 2 of CV29 (take 4 off)."""
    )


def test_an_address_that_is_not_known_is_said_to_be_so() -> None:
    assert decode_text(decoded({4: 0})).splitlines()[0] == "address: not known from these"


@pytest.mark.parametrize(
    "values",
    [
        pytest.param(FAULTY, id="a locomotive with faults"),
        pytest.param({4: 0}, id="no address"),
        pytest.param({1: 0, 9: 0, 29: 128}, id="an accessory decoder of address 0"),
        pytest.param({1024: 255}, id="the last CV"),
        pytest.param({}, id="nothing"),
    ],
)
def test_json_is_as_its_schema_says(values: dict[int, int]) -> None:
    document = json.loads(decode_json(decoded(values)))

    Draft202012Validator(schema_file("outputs/decode.json")).validate(document)


def test_json_has_address_settings_and_faults() -> None:
    assert json.loads(decode_json(decoded({1: 44, 29: 6}))) == {
        "address": 44,
        "kind": "short",
        "summary": {"direction": "normal", "speed steps": "28 or 128", "DC operation": "on", "BiDi": "off"},
        "settings": [
            {"cv": 1, "value": 44, "meaning": "short address: 44"},
            {
                "cv": 29,
                "value": 6,
                "meaning": "configuration: direction normal, 28 or 128 speed steps, DC operation on, "
                "BiDi off, 3-point curve (CV2, CV6, CV5), short address (CV1)",
            },
        ],
        "faults": [
            {
                "severity": "warning",
                "cvs": [29],
                "message": "DC operation is on: a glitch on the rails can start the engine at full speed, "
                "until valid packets come again",
                "fix": "Clear bit 2 of CV29 (take 4 off).",
            }
        ],
    }
