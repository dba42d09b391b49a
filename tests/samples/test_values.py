"""The samples keep their findings and their computed values."""

import pytest

from tests.samples.values import values_of_samples, written_values

RENAMED: dict[str, str] = {
    "dc-running-on": "dc-operation-on",
    "dc-running-still-on": "dc-operation-still-on",
    "reading-doubtful": "reading-unreliable",
}
"""Words of the file that have given way to others since: names of checks, and titles of sheets."""


def renamed(said: dict[str, dict[str, object]]) -> dict[str, dict[str, object]]:
    """Put the words of now in the place of those of the file; a faulty sample is named for its check."""
    return {
        _sample(name): {key: _words(value) for key, value in values.items()} for name, values in said.items()
    }


def _sample(name: str) -> str:
    folder, slash, stem = name.removesuffix(".xlsx").rpartition("/")
    return f"{folder}{slash}{RENAMED.get(stem, stem)}.xlsx"


def _words(value: object) -> object:
    if isinstance(value, list):
        return sorted([RENAMED.get(word, word) for word in finding] for finding in value)
    assert isinstance(value, dict)
    places = {place: place.rpartition("!") for place in value}
    return {f"{RENAMED.get(title, title)}!{cell}": value[place] for place, (title, _, cell) in places.items()}


@pytest.mark.slow
def test_the_samples_keep_their_findings_and_their_computed_values() -> None:
    expected, found = renamed(written_values()), values_of_samples()

    assert set(found) == set(expected)
    assert {name: values for name, values in found.items() if values != expected[name]} == {}
    assert sum(len(finding) for values in found.values() for finding in values.values()) > 4000  # type: ignore[arg-type,misc]
