"""Standard effective temperatures by pythermalcomfort, in a Python that has it.

`PYTHON comfort_model.py` prints them as TOML: for the clothing of a season at 50 % humidity, in
still air whose walls are as warm as itself. It needs nothing of the planner: `pip install
pythermalcomfort==4.8.1` in an environment of its own.
"""

from __future__ import annotations

import importlib.metadata
import warnings

AIR_DEGF = (50.0, 54.0, 60.0, 64.4, 70.0, 76.0, 82.0, 86.0, 90.0)
HUMIDITY, STILL_M_S, MET = 50.0, 0.1, 1.1  # %, m/s, seated and a little busy
CLO = {"summer": 0.5, "winter": 1.0}


def set_degf(air_degf, clo):
    """Standard effective temperature [degF]."""
    from pythermalcomfort.models import set_tmp

    air_c = (air_degf - 32.0) / 1.8
    found = set_tmp(tdb=air_c, tr=air_c, v=STILL_M_S, rh=HUMIDITY, met=MET, clo=clo,
                    limit_inputs=False)
    return round(float(found.set) * 1.8 + 32.0, 2)


def main():
    """Print inputs and results."""
    warnings.simplefilter("ignore")
    version = importlib.metadata.version("pythermalcomfort")
    print(f'library = "pythermalcomfort"\nversion = "{version}"\nlicence = "MIT"')
    print('command = "python tests/benchmarks/comfort_model.py"')
    print(f"humidity = {HUMIDITY}\nstill_m_s = {STILL_M_S}\nmet = {MET}")
    print(f"air_degf = {list(AIR_DEGF)}")
    for season, clo in CLO.items():
        print(f"\n[{season}]\nclo = {clo}\nset_degf = {[set_degf(one, clo) for one in AIR_DEGF]}")


if __name__ == "__main__":
    main()
