"""The symbols that several vehicle workings share: one letter's meaning, unit and range each."""

from __future__ import annotations

from swapwright.base.figure import Symbol

MASS = Symbol("mass", "kg", 300.0, 5000.0, "mass", "mass")
EFFECTIVE_MASS = Symbol("effective_mass", "kg", 300.0, 6000.0, "effective mass", "mass")
GRAVITY = Symbol("gravity", "m/s^2", 9.7, 9.9, "gravity", "acceleration")
GRADE = Symbol("grade", "1", -0.4, 0.6, "grade, rise over run", "grade")
SPEED = Symbol("speed", "m/s", 0.5, 45.0, "road speed", "speed")
HEADWIND = Symbol("headwind", "m/s", -15.0, 15.0, "headwind", "speed")
DENSITY = Symbol("density", "kg/m^3", 0.6, 1.5, "air density", "density")
DRAG_AREA = Symbol("cd_a", "m^2", 0.2, 4.0, "drag area", "area")
ROLLING_COEFFICIENT = Symbol("c_rr", "1", 0.005, 0.04, "rolling resistance coefficient", "ratio")
ROAD_LOAD_A = Symbol("a", "N", 30.0, 800.0, "road load coefficient A", "force")
ROAD_LOAD_B = Symbol("b", "N/(m/s)", 0.0, 10.0, "road load coefficient B", "force_per_speed")
ROAD_LOAD_C = Symbol(
    "c", "N/(m/s)^2", 0.15, 2.5, "road load coefficient C", "force_per_speed_square"
)
POWER = Symbol("power", "W", 5e3, 3e5, "power", "power")
FORCE = Symbol("force", "N", 700.0, 12e3, "tractive force", "force")
RADIUS = Symbol("radius", "m", 0.2, 0.5, "rolling radius", "length")
WHEELBASE = Symbol("wheelbase", "m", 1.8, 4.5, "wheelbase", "length")
CG_X = Symbol("cg_x", "m", 0.5, 1.7, "centre of gravity behind the front axle", "position")
CG_HEIGHT = Symbol("cg_height", "m", 0.3, 1.2, "height of the centre of gravity", "length")
GRIP = Symbol("grip", "1", 0.1, 1.2, "grip of the tyres on the road", "ratio")
EFFICIENCY = Symbol("efficiency", "1", 0.4, 1.0, "efficiency", "fraction")
