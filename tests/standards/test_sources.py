"""Every public function names what it follows, and the package needs nothing but the standard library."""

import ast
import importlib
import inspect
import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from pkgutil import iter_modules

import rosterkit.standards
from tests.each import for_each

SOURCE = re.compile(r"NMRA S-9|RCN-2\d\d|NEM \d|common practice|arithmetic|from memory", re.IGNORECASE)
EDITION = re.compile(
    r"S-9\.2\.2,? \(?(Jul 2012|appendix A, secondary source)|S-9\.2\.[13],? \(?Jul 2012|S-9\.2,? \(?Jul 2004"
    r"|S-9\.2\.4 secondary source"
)
MODULES = sorted(module.name for module in iter_modules(rosterkit.standards.__path__))


def public_functions() -> Iterator[tuple[str, Callable[..., object]]]:
    for name in MODULES:
        module = importlib.import_module(f"rosterkit.standards.{name}")
        for function in vars(module).values():
            if (
                inspect.isfunction(function)
                and function.__module__ == module.__name__
                and not function.__name__.startswith("_")
            ):
                yield f"{name}.{function.__name__}", function


FUNCTIONS = dict(public_functions())


@for_each(FUNCTIONS)
def test_a_public_function_names_its_source(name: str) -> None:
    assert SOURCE.search(inspect.getdoc(FUNCTIONS[name]) or "")


@for_each([name for name, f in FUNCTIONS.items() if "NMRA" in (f.__doc__ or "")])
def test_a_function_that_follows_nmra_names_the_edition(name: str) -> None:
    assert EDITION.search(inspect.getdoc(FUNCTIONS[name]) or "")


@for_each(FUNCTIONS)
def test_a_public_function_that_raises_says_so(name: str) -> None:
    text = inspect.getsource(FUNCTIONS[name])
    checks = re.search(r"raise ValueError|within\(|one_of\(|_positive\(", text.split('"""')[-1])

    assert not checks or "ValueError" in (inspect.getdoc(FUNCTIONS[name]) or "")


def test_all_subjects_are_looked_at() -> None:
    assert len(FUNCTIONS) > 80
    assert {"addresses", "configuration", "consists", "service_mode", "scales"} <= set(MODULES)


@for_each(MODULES)
def test_a_module_imports_only_the_standard_library_and_its_neighbours(name: str) -> None:
    source = Path(rosterkit.standards.__path__[0], f"{name}.py").read_text(encoding="utf-8")
    nodes = list(ast.walk(ast.parse(source)))
    imported = [node.module or "" for node in nodes if isinstance(node, ast.ImportFrom)]
    imported += [alias.name for node in nodes if isinstance(node, ast.Import) for alias in node.names]

    strange = [
        each
        for each in imported
        if not each.startswith("rosterkit.standards.") and each.split(".")[0] not in sys.stdlib_module_names
    ]

    assert strange == []
