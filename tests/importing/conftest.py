"""Recorded files that packages carry (each named below): fetched once, alone."""

from __future__ import annotations

import fnmatch
import gzip
import subprocess
import sys
import zipfile

import pytest


def fetched(folder, requirement, inside):
    """Fetch a package's wheel and take one file out of it; its path."""
    made = subprocess.run(
        [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--only-binary", ":all:",
         "--dest", str(folder), requirement], capture_output=True, text=True, timeout=300,
        check=False)
    wheels = sorted(folder.glob("*.whl"))
    if made.returncode or not wheels:
        pytest.fail(f"{requirement}, which carries {inside}, cannot be fetched: is the package "
                    f"registry within reach? {made.stderr.strip()[-300:]}")
    with zipfile.ZipFile(wheels[0]) as wheel:
        name, = fnmatch.filter(wheel.namelist(), inside)
        return wheel.extract(name, folder)


@pytest.fixture(scope="session")
def green_button_year(tmp_path_factory):
    """A year of hours of one home, ESPI (jendobson-greenbutton 0.0.1, MIT licence): its path."""
    folder = tmp_path_factory.mktemp("year")
    return fetched(folder, "jendobson-greenbutton==0.0.1",
                   "greenbutton/sample_data/*.xml")


@pytest.fixture(scope="session")
def half_hours(tmp_path_factory):
    """Two meters of half hours with repeated stamps and gaps (eemeter 4.1.1, Apache-2.0): paths."""
    folder = tmp_path_factory.mktemp("half_hours")
    paths = []
    for number in (1, 2):
        inside = f"eemeter/eemeter/samples/uk-electricity-hdd-only-hourly-sample-{number}.csv.gz"
        with gzip.open(fetched(folder, "eemeter==4.1.1", inside)) as packed:
            path = folder / f"meter_{number}.csv"
            path.write_bytes(packed.read())
        paths.append(path)
    return paths


@pytest.fixture(scope="session")
def denver_year(tmp_path_factory):
    """A TMY3 year as EPW (ochre-nrel 0.9.2, BSD-3; data of the US government): its path."""
    return fetched(tmp_path_factory.mktemp("weather"), "ochre-nrel==0.9.2",
                   "ochre/defaults/Weather/*.epw")
