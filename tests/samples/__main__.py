"""Make every workbook of sample_workbooks/ anew."""

import io
import subprocess
import sys
import tempfile
from pathlib import Path

from openpyxl import load_workbook

from rosterkit import pipeline
from rosterkit.demo_club import demo_club
from rosterkit.xlsx.template import new_workbook
from tests.samples.clean import clean_club
from tests.samples.faults import APPLIED, CHANGES, TOUCHES
from tests.samples.meet import meet_books

FOLDER = Path(__file__).parents[2] / "sample_workbooks"


def made_by_us() -> dict[str, bytes]:
    """Give the samples that need no other program, by their path within sample_workbooks/."""
    samples = {"demo_club.xlsx": new_workbook(demo_club()), "clean.xlsx": new_workbook(clean_club())}
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
    return samples


def _applied(content: bytes) -> bytes:
    """Have rosterkit apply a workbook's speed goals."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "club.xlsx"
        path.write_bytes(content)
        pipeline.speed(path)
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


def main() -> None:
    """Write all samples."""
    for name, content in made_by_us().items():
        (FOLDER / name).parent.mkdir(parents=True, exist_ok=True)
        (FOLDER / name).write_bytes(content)
    demo = FOLDER / "demo_club.xlsx"
    with tempfile.TemporaryDirectory() as folder:
        for save, name in (
            (saved_by_libreoffice, "demo_club_libreoffice.xlsx"),
            (saved_by_gnumeric, "demo_club_gnumeric.xlsx"),
        ):
            saved = save(demo, Path(folder))
            (FOLDER / name).write_bytes(saved.read_bytes())
    sys.stdout.write(f"made {len(made_by_us()) + 2} workbooks in {FOLDER}\n")


if __name__ == "__main__":
    main()
