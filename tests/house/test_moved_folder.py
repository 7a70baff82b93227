"""The folder of the journal can be moved, renamed or copied, and starts without the internet."""

import hashlib
import os
import shutil
import subprocess
import sys
import sysconfig
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
COPIED = ("journal", "templates", ".ci", "pyproject.toml")
UNWANTED = shutil.ignore_patterns("__pycache__")
COMMAND = "[console_scripts]\njournal=journal.cli.main:main\n"
DIST = "journal-0.1.0.dist-info"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """Return a copy of the project with an environment as pip made it in an earlier version.

    The packages it needs are borrowed from the environment of this test.
    """
    folder = tmp_path / "first home"
    folder.mkdir()
    for name in COPIED:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, folder / name, ignore=UNWANTED)
        else:
            shutil.copyfile(ROOT / name, folder / name)
    _tell(sys.executable, "-m", "venv", "--without-pip", str(folder / ".venv"))
    packages = next((folder / ".venv" / "lib").glob("python*")) / "site-packages"
    (packages / "borrowed.pth").write_text(f"{sysconfig.get_path('purelib')}\n")
    wheel = tmp_path / "journal-0.1.0-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as made:
        # What an editable wheel holds: no code, but the path to it.
        made.writestr("_editable_impl_journal.pth", f"{folder}\n")
        made.writestr(f"{DIST}/METADATA", "Metadata-Version: 2.1\nName: journal\nVersion: 0.1.0\n")
        made.writestr(f"{DIST}/WHEEL", "Wheel-Version: 1.0\nTag: py3-none-any\n")
        made.writestr(f"{DIST}/entry_points.txt", COMMAND)
        made.writestr(f"{DIST}/RECORD", "")
    pip = (sys.executable, "-m", "pip", "--python", str(folder / ".venv" / "bin" / "python"))
    _tell(*pip, "install", "--no-index", "--no-deps", "--quiet", str(wheel))
    # An earlier version noted the path beside the sum of what was asked for.
    named = ("pyproject.toml", ".ci/locked.txt", ".ci/locked-test.txt")
    wanted = hashlib.sha256(b"".join((folder / name).read_bytes() for name in named)).hexdigest()
    (folder / ".venv" / "installed_.").write_text(f"{wanted} {folder}\n")
    return folder


def _ask(*command: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    # No index and no file from elsewhere: as on a machine without the internet.
    environ = {**os.environ, "PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": os.devnull}
    for name in ("PIP_FIND_LINKS", "PYTHONPATH"):
        environ.pop(name, None)
    return subprocess.run(
        command, cwd=cwd, env=environ, capture_output=True, text=True, check=False
    )


def _tell(*command: str, cwd: Path | None = None) -> str:
    told = _ask(*command, cwd=cwd)
    assert 0 == told.returncode, told.stdout + told.stderr
    return told.stdout


def _home_of(folder: Path) -> str:
    """Return where the commands of this folder's environment find the journal."""
    commands = folder / ".venv" / "bin"
    start, _, _ = (commands / "journal").read_text().partition("from journal")
    (commands / "where").write_text(f"{start}import journal\nprint(journal.__file__)\n")
    (commands / "where").chmod(0o700)
    return _tell(str(commands / "where"), cwd=folder.parent).strip()


def test_a_moved_folder_starts_without_installing(project: Path) -> None:
    """Moved before an environment was settled and after it, the commands start from where it is."""
    second = project.rename(project.parent / "second home")
    assert "Usage: journal serve" in _tell("bash", str(second / ".ci" / "serve"), "--help")
    assert str(second / "journal" / "__init__.py") == _home_of(second)
    third = second.rename(project.parent / "third")
    told = _ask("bash", str(third / ".ci" / "serve"), "--help", cwd=project.parent)
    assert (0, "") == (told.returncode, told.stderr)
    assert str(third / "journal" / "__init__.py") == _home_of(third)


def test_a_copy_works_on_itself(project: Path, tmp_path: Path) -> None:
    """With the first folder still there, its copy neither starts nor changes the first one.

    Linked into a folder of commands, `journal` still finds its own Python.
    """
    _tell("bash", str(project / ".ci" / "serve"), "--help")
    copy = project.parent / "copy"
    shutil.copytree(project, copy, symlinks=True)
    assert str(copy / "journal" / "__init__.py") == _home_of(copy)
    assert str(project / "journal" / "__init__.py") == _home_of(project)
    (tmp_path / "linked").symlink_to(copy / ".venv" / "bin" / "journal")
    assert "Design Iteration Journal" in _tell(str(tmp_path / "linked"), "--help")


def test_other_packages_are_installed(project: Path) -> None:
    """What pyproject.toml asks for anew is fetched, and without the internet that is said."""
    (project / "pyproject.toml").write_text((ROOT / "pyproject.toml").read_text() + "\n# newer\n")
    told = _ask("bash", str(project / ".ci" / "serve"), "--help")
    assert 2 == told.returncode
    assert "needs the internet" in told.stderr
