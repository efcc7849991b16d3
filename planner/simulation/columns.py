"""Codes of the state machines and the columns of their arrays.

What every second touches stands load beside load in the rows of `shared`; the rest of a
machine's numbers in one row of `state` and one row of `parameters`, whose first columns mean the
same for all machines.
"""

from __future__ import annotations

from typing import Final

IDLE: Final = 0
STEADY: Final = 1
EVENT: Final = 2
ROOM: Final = 3
BOX: Final = 4
TANK: Final = 5
STORE: Final = 6
PRESSURE: Final = 7
VEHICLE: Final = 8
FOLLOW: Final = 9
STAGE: Final = 10
TASK: Final = 11

KIND_NAMES: Final = (
    "idle", "steady", "event", "room", "box", "tank", "store", "pressure tank", "vehicle",
    "follower", "stage", "task",
)

# rows of shared
NEXT = 0  # second at which the machine looks at itself again
WANT = 1  # above 0 while it calls for power
DRAW = 2  # kW that it draws if it is fed
RAN = 3  # seconds it ran since it last looked
HOT = 4

# state, all machines (columns WANT and DRAW: as at second 0)
CURRENT = 4  # its place in the list of events
LOST = 5  # demand given up for good, as seconds of running (0 for rooms, boxes, followers)
MISSED = 6  # how often: events, cold draws, dry taps, overflows, cars that left uncharged
WORST = 7  # room: worst error; box: warmest food; tank: coldest draw, at most the tap [degF];
# vehicle: most that was missing at the hour of its promise [kWh]
DISCOMFORT = 8  # room: degree-hours beyond the comfort band; box: degree-hours too warm

# state, by machine
AIR, MASS = 9, 10  # room, box [degF]
UNLIVABLE_H = 11  # room: hours beyond what is livable
UPPER, LOWER = 9, 10  # tank [degF]
PROGRESS, DONE = 9, 10  # event: seconds over (run or given up), seconds run
NEED = 9  # store: seconds of running that are due
VOLUME = 9  # pressure tank: gallons above the cut-in
THAWED = 11  # box: seconds of the compressor since its coil was thawed; below 0 it is being
DEFICIT, LEAVES = 9, 10  # vehicle: kWh short of full, second of departure
BAD = 11  # tank: the draw runs cold; pressure tank: gal it lacked; store: it overflows
BEGUN, PAUSED, LOOKED = 10, 11, 12  # task: 1 once it had power, seconds refused since, last look
WARM_S = 12  # box: seconds on end above what food stands; -1 once it is lost
STATES = 13

# parameters, all machines
KW = 0
TICK = 1  # seconds between two looks
COLUMN = 2  # its own first column of `minute`, -1 for none

# parameters, by machine
WAIT_S, HIGH, LOW = 3, 4, 5  # event, task: wait; draw while its elements heat, while one rests
PAUSE_S, BUTTON, CLOCK_S = 6, 7, 8  # task: pauses it stands, 1 with a start button; time of day [s]
F00, F01, F10, F11 = 3, 4, 5, 6  # room, box: exact step of air and mass
K00, K01, K10, K11 = 7, 8, 9, 10  # room, box: what a Btu/h in air or mass adds in a step
LOSS, POWER, GAIN, SUN = 11, 12, 13, 14  # room, box: Btu/(h degF), signed Btu/h, Btu/h, Btu/h
SET, SIGN = 15, 17  # room, box: degF, +1 cools and -1 heats
ON_AT, OFF_AT, FARTHEST = 16, 18, 19  # room, stage: degF behind the set point; where unlivable
LIMIT = 20  # room: degF behind the set point at which all is lost
BAND, CAPACITY, AMBIENT = 16, 18, 19  # box: degF, Btu/degF of air, degF around it
THAW_KW = 13  # box: draw of the heater that thaws its coil; 0 without one
SPOILS = 20  # box: food above this for long is lost [degF]
UPPER_GAL, LOWER_GAL, INLET, TANK_SET, TANK_BAND = 3, 4, 5, 6, 7
KEEP, AROUND, HEAT, TAP = 8, 9, 10, 11  # tank: share kept a tick, degF around, Btu per s, degF
START_AT, FULL_AT = 3, 4  # store: need at which it starts, need beyond which it is lost
PUMP, DRAWDOWN = 3, 4  # pressure tank: gal/s, gal
BATTERY, WANTED_KWH = 3, 4  # vehicle: full, wanted when it leaves [kWh]
BY_S = 5  # vehicle: second of a day, from the loss of the utility, that is promised; below 0 none
PARAMETERS = 21

# columns of `minute` that every machine may read
OUTDOOR = 0  # degF
SUNSHINE = 1  # relative to its mean over a day
OWN = 2  # first column that belongs to one load
