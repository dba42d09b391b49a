"""Make every workbook of sample_workbooks/ anew; with ``--values`` the file of their values instead."""

import io
import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path

from openpyxl import load_workbook

from rosterkit.commands.fill import fill
from rosterkit.commands.new.demo_club import demo_club
from rosterkit.commands.speed.command import speed as make_speed_tables
from rosterkit.template.formulas import with_formulas
from rosterkit.template.new_workbook import new_workbook
from rosterkit.xlsx.package.opening import opened
from tests.samples.clean import clean_club
from tests.samples.faults import APPLIED, CHANGES, DAMAGED, TOUCHES, Damage
from tests.samples.meet import meet_books

FOLDER = Path(__file__).parents[2] / "sample_workbooks"


def made_by_us() -> dict[str, bytes]:
    """Return the samples that need no other program, by their path within sample_workbooks/."""
    demo = with_formulas(new_workbook(demo_club()), "demo_club.xlsx")
    samples = {"demo_club.xlsx": demo, "clean.xlsx": new_workbook(clean_club())}
    for slug, change in CHANGES.items():
        records = clean_club()
        change(records)
        samples[f"faulty/{slug}.xlsx"] = new_workbook(records)
    for name, rows in meet_books().items():
        samples[f"meet/{name}"] = new_workbook(rows)
    for slug, touch in TOUCHES.items():
        workbook = load_workbook(io.BytesIO(new_workbook(clean_club())))
        touch(workbook)
        stream = io.BytesIO()
        workbook.save(stream)
        samples[f"faulty/{slug}.xlsx"] = stream.getvalue()
    for slug, change in APPLIED.items():
        records = clean_club()
        change(records)
        samples[f"faulty/{slug}.xlsx"] = _applied(new_workbook(records))
    for slug, damage in DAMAGED.items():
        samples[f"faulty/{slug}.xlsx"] = _damaged(new_workbook(clean_club()), damage)
    return samples


def _damaged(content: bytes, damage: Damage) -> bytes:
    """Have rosterkit fill a workbook, and do something to the XML of its sheet Locomotives."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "club.xlsx"
        path.write_bytes(content)
        fill(path)
        part = next(sheet.part for sheet in opened(path).sheets if sheet.title == "Locomotives")
        stream = io.BytesIO()
        with zipfile.ZipFile(path) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
            for name in old.namelist():
                data = old.read(name)
                new.writestr(name, damage(data.decode()).encode() if name == part else data)
        return stream.getvalue()


def _applied(content: bytes) -> bytes:
    """Have rosterkit apply a workbook's speed goals."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "club.xlsx"
        path.write_bytes(content)
        make_speed_tables(path)
        return path.read_bytes()


def saved_by_libreoffice(workbook: Path, folder: Path) -> Path:
    """Have LibreOffice open a workbook and save it into a folder."""
    with tempfile.TemporaryDirectory() as profile:
        command = ["soffice", f"-env:UserInstallation=file://{profile}", "--headless", "--convert-to", "xlsx"]
        command += ["--outdir", str(folder), str(workbook)]
        subprocess.run(command, check=True, capture_output=True, timeout=120)
    return folder / workbook.name


def saved_by_gnumeric(workbook: Path, folder: Path) -> Path:
    """Have Gnumeric open a workbook and save it into a folder."""
    target = folder / workbook.name
    command = ["ssconvert", "--export-type=Gnumeric_Excel:xlsx2", str(workbook), str(target)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return target


def parts_of(workbook: bytes) -> dict[str, bytes]:
    """Return the parts of a workbook without those that say when it was saved."""
    with zipfile.ZipFile(io.BytesIO(workbook)) as package:
        return {name: package.read(name) for name in package.namelist() if not name.startswith("docProps/")}


def _renew(path: Path, content: bytes) -> bool:
    """Write a sample, unless the one that is there differs in nothing but the time; tell whether it did."""
    if path.exists() and parts_of(path.read_bytes()) == parts_of(content):
        return False
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return True


def main() -> None:
    """Write all samples that are not what they should be."""
    samples = made_by_us()
    renewed = [name for name, content in samples.items() if _renew(FOLDER / name, content)]
    if "demo_club.xlsx" in renewed:
        for save, name in (
            (saved_by_libreoffice, "demo_club_libreoffice.xlsx"),
            (saved_by_gnumeric, "demo_club_gnumeric.xlsx"),
        ):
            with tempfile.TemporaryDirectory() as folder:
                saved = save(FOLDER / "demo_club.xlsx", Path(folder))
                (FOLDER / name).write_bytes(saved.read_bytes())
            renewed.append(name)
    sys.stdout.write(f"{len(renewed)} of {len(samples) + 2} workbooks in {FOLDER} made anew\n")


def main_values() -> None:
    """Write what is found and calculated in the samples as they are."""
    from tests.samples.values import values_of_samples, write_values  # noqa: PLC0415 - it imports this module

    write_values(values_of_samples())


if __name__ == "__main__":
    main_values() if sys.argv[1:] == ["--values"] else main()
