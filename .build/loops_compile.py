"""Compile the loops: Cython writes C, the C compiler of the `ziglang` package makes the extension.

The same compiler with the same switches on every machine, and none of them lets a result depend on
the processor: no instructions beyond the base set, no fused multiply-add, no reordered sums.
"""

from __future__ import annotations

import os
import platform
import subprocess
import sys
import sysconfig
from pathlib import Path
from tempfile import TemporaryDirectory

from loops_cython import cython_text
from loops_source import PACKAGE, Sources
from loops_types import CannotCompileError

NAME = "_loops"
SWITCHES = ("-O2", "-fPIC", "-fwrapv", "-ffp-contract=off", "-fno-fast-math",
            "-fno-sanitize=undefined", "-fno-strict-aliasing", "-g0", "-w", "-DNDEBUG",
            "-DCYTHON_CLINE_IN_TRACEBACK=0")
PROCESSORS = {"amd64": "x86_64", "x86_64": "x86_64", "arm64": "aarch64", "aarch64": "aarch64"}


class BuildError(Exception):
    """The loops cannot be built on this machine; says what is missing."""


def target() -> str:
    """Give the kind of machine to compile for, as the compiler names it."""
    machine = platform.machine().lower()
    processor = PROCESSORS.get(machine, machine)
    if sys.platform == "win32":
        return f"{processor}-windows-gnu"
    if sys.platform == "darwin":
        return f"{processor}-macos"
    libc = "musl" if "musl" in (sysconfig.get_config_var("SOABI") or "") else "gnu"
    return f"{processor}-linux-{libc}"


def place(root: Path) -> Path:
    """Give the file that the extension is written to: in the package, beside its sources."""
    suffix = sysconfig.get_config_var("EXT_SUFFIX")
    return root / PACKAGE / f"{NAME}{suffix}"


def build(root: Path, *, to: Path | None = None, machine: str | None = None) -> Path:
    """Compile all loops of the package under a root; gives the extension's file.

    Raises
    ------
    BuildError
        If Python's headers are missing, or the compiler refuses.
    """
    headers = Path(sysconfig.get_path("include"))
    if not (headers / "Python.h").exists():
        message = (f"Python's C headers are missing ({headers / 'Python.h'}). They come with the "
                   "Python of python.org, pyenv or uv; on Debian and Ubuntu: apt-get install "
                   f"python{sys.version_info.major}.{sys.version_info.minor}-dev")
        raise BuildError(message)
    found = to or place(root)
    found.unlink(missing_ok=True)  # nothing old may stand there if the build fails
    with TemporaryDirectory() as room:
        text = Path(room) / f"{NAME}.pyx"
        try:
            text.write_text(cython_text(Sources(root)), "utf-8")
        except CannotCompileError as problem:
            raise BuildError(str(problem)) from problem
        _to_c(text)
        _to_machine_code(text.with_suffix(".c"), found, headers, machine or target())
    return found


def _to_c(text: Path) -> None:
    from Cython.Compiler.Main import compile_single  # noqa: PLC0415 - only while it is built
    from Cython.Compiler.Options import CompilationOptions  # noqa: PLC0415

    result = compile_single(str(text), CompilationOptions(language_level=3),
                            full_module_name=f"{PACKAGE}.{NAME}")
    if result.num_errors:
        message = "Cython refuses the loops; its messages stand above."
        raise BuildError(message)


def headers_apart(headers: Path, room: Path) -> Path:
    """Give a directory in `room` from which headers that Debian keeps apart are found.

    Debian's pyconfig.h includes ``<MACHINE/pythonX.Y/pyconfig.h>``, which stands beside the
    directory of the other headers. A C compiler of the machine finds it there, one that brings its
    own headers does not; and it must not read the machine's other headers.
    """
    apart, machine = room / "headers", sysconfig.get_config_var("MULTIARCH") or ""
    apart.mkdir(exist_ok=True)
    if machine and (headers.parent / machine / headers.name / "pyconfig.h").exists():
        (apart / machine).mkdir(exist_ok=True)
        (apart / machine / headers.name).symlink_to(headers.parent / machine / headers.name)
    return apart


def _to_machine_code(code: Path, found: Path, headers: Path, machine: str) -> None:
    apart = headers_apart(headers, code.parent)
    command = [sys.executable, "-m", "ziglang", "cc", "-target", machine, "-mcpu=baseline",
               *SWITCHES, f"-I{headers}", f"-I{apart}", "-shared", "-s",
               "-o", str(found), str(code)]
    if "macos" in machine:
        command += ["-undefined", "dynamic_lookup"]
    if "windows" in machine:
        version = f"{sys.version_info.major}{sys.version_info.minor}"
        command += [f"-L{Path(sys.base_prefix) / 'libs'}", f"-lpython{version}"]
    caches = {"ZIG_GLOBAL_CACHE_DIR": str(code.parent / "zig"),
              "ZIG_LOCAL_CACHE_DIR": str(code.parent / "zig")}
    done = subprocess.run(command, env={**os.environ, **caches}, capture_output=True, text=True,
                          check=False)
    if done.returncode:
        message = f"The C compiler refuses the loops.\n{done.stderr.strip()}"
        raise BuildError(message)


if __name__ == "__main__":
    print(build(Path(__file__).parents[1]))
