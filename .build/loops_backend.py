"""What `pip` calls: setuptools, after the loops have been compiled into the package's own folder.

The extension is written beside its sources, so it is found by a checkout, by an editable
installation and by the wheel alike.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from setuptools import build_meta
from setuptools.command.bdist_wheel import bdist_wheel
from setuptools.command.sdist import sdist

from loops_compile import BuildError, build

ROOT = Path(__file__).parents[1]
BINARIES = (".so", ".pyd")

Settings = dict[str, Any] | None

build_sdist = build_meta.build_sdist
get_requires_for_build_sdist = build_meta.get_requires_for_build_sdist
get_requires_for_build_wheel = build_meta.get_requires_for_build_wheel
get_requires_for_build_editable = build_meta.get_requires_for_build_editable
prepare_metadata_for_build_wheel = build_meta.prepare_metadata_for_build_wheel
prepare_metadata_for_build_editable = build_meta.prepare_metadata_for_build_editable


def build_wheel(directory: str, settings: Settings = None, metadata: str | None = None) -> str:
    """Compile the loops and pack the package."""
    _compile()
    return str(build_meta.build_wheel(directory, settings, metadata))


def build_editable(directory: str, settings: Settings = None, metadata: str | None = None) -> str:
    """Compile the loops where they stand."""
    _compile()
    return str(build_meta.build_editable(directory, settings, metadata))


def _compile() -> None:
    try:
        build(ROOT)
    except BuildError as problem:
        raise SystemExit(f"The planner's loops cannot be compiled. {problem}") from problem


class PlatformWheel(bdist_wheel):
    """A wheel for this kind of machine and this version of Python: it holds an extension."""

    def finalize_options(self) -> None:
        """Say that the wheel is not pure Python."""
        super().finalize_options()
        self.root_is_pure = False


class SourceArchive(sdist):
    """An archive that can be built: with this folder, without what was built on this machine."""

    def make_release_tree(self, base_dir: str, files: list[str]) -> None:
        """Add the build's own files, leave binaries out."""
        own = [path.relative_to(ROOT).as_posix() for path in (ROOT / ".build").glob("*.py")]
        kept = [name for name in files if not name.endswith(BINARIES)]
        super().make_release_tree(base_dir, sorted({*kept, *own}))
