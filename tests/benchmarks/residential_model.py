"""Runs of the general-purpose residential energy model OCHRE, in a Python that has it.

`PYTHON residential_model.py tank` prints what its water tank does and `... drift` how its house
follows the outdoor temperature, both as TOML; `... house` prints the wall time of a simulated
house-day [s]. It needs nothing of the planner: `pip install ochre-nrel==0.9.2 "pyarrow<22"` in an
environment of its own.
"""

from __future__ import annotations

import datetime as dt
import importlib.metadata
import sys
import tempfile
import time
from pathlib import Path

MINUTE = dt.timedelta(minutes=1)
START = dt.datetime(2018, 7, 15)
L_PER_GAL = 3.785411784
TANK = {"gal": 50.0, "kw": 4.5, "set_degf": 125.0, "band_degf": 8.0, "inlet_degf": 58.0,
        "room_degf": 70.0, "tap_degf": 105.0, "loss_btu_h_degf": 2.5}


def celsius(degf):
    """Convert a temperature."""
    return (degf - 32.0) / 1.8


def tank_run(draw_l_min, start_degf, kw=TANK["kw"]):
    """Minutes on, energy [kWh] and the mean temperature at the end [degF] of one run."""
    import pandas as pd
    from ochre import ElectricResistanceWaterHeater

    index = pd.date_range(START, periods=len(draw_l_min), freq="1min")
    schedule = pd.DataFrame({
        "Water Heating (L/min)": draw_l_min,
        "Zone Temperature (C)": celsius(TANK["room_degf"]),
        "Mains Temperature (C)": celsius(TANK["inlet_degf"])}, index=index)
    heater = ElectricResistanceWaterHeater(
        start_time=START, time_res=MINUTE, duration=MINUTE * len(draw_l_min), schedule=schedule,
        verbosity=0, save_results=False, **{
            "Setpoint Temperature (C)": celsius(TANK["set_degf"]),
            "Deadband Temperature (C)": TANK["band_degf"] / 1.8,
            "Initial Temperature (C)": celsius(start_degf),
            "Mixed Delivery Temperature (C)": celsius(TANK["tap_degf"]),
            "Tank Volume (L)": TANK["gal"] * L_PER_GAL, "Tank Height (m)": 1.22,
            "UA (W/K)": TANK["loss_btu_h_degf"] * 0.29307107 * 1.8,
            "Capacity (W)": max(1e-6, 1000.0 * kw), "Efficiency (-)": 1.0})
    power_kw = []
    for _ in index:
        heater.update(schedule_inputs=None)
        power_kw.append(heater.electric_kw)
    states, shares = heater.model.states, heater.model.vol_fractions
    mean_c = float((states * shares).sum())
    on = [kw > 0.001 for kw in power_kw]
    return {"on_min": sum(on), "kwh": round(sum(power_kw) / 60.0, 4),
            "starts": sum(b and not a for a, b in zip([False, *on[:-1]], on, strict=True)),
            "end_degf": round(mean_c * 1.8 + 32.0, 3)}


def uef_day():
    """Minutes of the medium draw pattern of the US DOE that comes with the model [L/min]."""
    import ochre
    import pandas as pd

    file = Path(ochre.__file__).parent / "defaults/Water Heating/WH Medium UEF Schedule.csv"
    return pd.read_csv(file)["Water Heating (L/min)"].to_numpy()[:1440]


def events(draw_l_min):
    """Runs of minutes with the same draw: start [min], length [min], size [gal/min]."""
    found = []
    for minute, draw in enumerate(draw_l_min):
        if draw > 0.0:
            if found and sum(found[-1][:2]) == minute and abs(found[-1][2] - draw) < 1e-9:
                found[-1][1] += 1
            else:
                found.append([minute, 1, float(draw)])
    return [[start, length, round(draw / L_PER_GAL, 5)] for start, length, draw in found]


def tank():
    """Print the inputs and results of the tank."""
    day = uef_day()
    runs = {"heat_up": tank_run([0.0] * 240, TANK["inlet_degf"]),
            "cool_down": tank_run([0.0] * 600, TANK["set_degf"], kw=0.0),
            "draws": tank_run(day, TANK["set_degf"])}
    print(f'library = "ochre-nrel"\nversion = "{importlib.metadata.version("ochre-nrel")}"')
    print('licence = "BSD-3-Clause"')
    print('command = "python tests/benchmarks/residential_model.py tank"')
    print("step_s = 60\nwater_nodes = 12")
    print("\n[tank]")
    for key, value in TANK.items():
        print(f"{key} = {value}")
    print("efficiency = 1.0\nheight_m = 1.22")
    for name, run in runs.items():
        print(f"\n[{name}]")
        for key, value in run.items():
            print(f"{key} = {value}")
    print("# start [min], length [min], size at the tap [gal/min]")
    print("events = [")
    for event in events(day):
        print(f"    {event},")
    print("]")


def dwelling_for(days, place):
    """The house that comes with the model."""
    import ochre

    base = Path(ochre.__file__).parent / "defaults"
    weather = next((base / "Weather").glob("*Denver*.epw"))
    return ochre.Dwelling(
        name="house", start_time=START, time_res=MINUTE, duration=dt.timedelta(days=days),
        initialization_time=dt.timedelta(hours=1), verbosity=1, save_results=False,
        output_path=place, hpxml_file=str(base / "Input Files/bldg0112631-up00.xml"),
        hpxml_schedule_file=str(base / "Input Files/bldg0112631_schedule.csv"),
        weather_file=str(weather))


def drift():
    """Print how much of a lasting step of the outdoor temperature the living air has followed.

    From the model's own linear system of 48 states, of what it comes to in the end.
    """
    import numpy as np
    from scipy.linalg import expm

    with tempfile.TemporaryDirectory() as place:
        envelope = dwelling_for(1, place).envelope
    count = len(envelope.state_names)
    outdoor = np.array([float(name == "T_EXT") for name in envelope.input_names])
    system = np.zeros((count + 1, count + 1))
    system[:count, :count], system[:count, count] = envelope.A_c, envelope.B_c @ outdoor
    air = list(envelope.state_names).index("T_LIV")
    at_last = expm(system * 3600.0 * 5000.0)[air, count]
    hours = [1.0, 2.0, 4.0, 8.0, 16.0, 24.0, 48.0]
    shares = [round(float(expm(system * 3600.0 * h)[air, count] / at_last), 4) for h in hours]
    print(f"[drift]\nhours = {hours}\nshares = {shares}")


def house(days):
    """Print the wall time of one house-day [s], without what it takes to set up."""
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as place:
        dwelling = dwelling_for(days, place)
        ready = time.perf_counter()
        dwelling.simulate()
        done = time.perf_counter()
    print(f"{ready - begun:.4f} {(done - ready) / days:.4f}")


if __name__ == "__main__":
    if sys.argv[1] in {"tank", "drift"}:
        {"tank": tank, "drift": drift}[sys.argv[1]]()
    else:
        house(int(sys.argv[2]) if len(sys.argv) > 2 else 3)
