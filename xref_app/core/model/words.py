"""The closed lists of words that a field may hold, spelled as in files and on screen."""

from enum import StrEnum


class ShaftForm(StrEnum):
    """How the end of a driving shaft is made."""

    STRAIGHT_KEYED = "straight keyed"
    STRAIGHT_PLAIN = "straight plain"
    TAPERED = "tapered"
    THREADED = "threaded"
    SPLINED = "splined"


class BoreForm(StrEnum):
    """How torque gets into a pump."""

    HOLLOW_KEYED = "hollow keyed"
    HOLLOW_PLAIN = "hollow plain"
    HOLLOW_SPLINED = "hollow splined"
    SOLID_KEYED = "solid keyed"


class Axis(StrEnum):
    """Which way a shaft lies; a pump may be made for both."""

    HORIZONTAL = "horizontal"
    VERTICAL = "vertical"
    BOTH = "both"


class Turn(StrEnum):
    """Which way a shaft turns, looking at the end of the driving shaft."""

    CW = "cw"
    CCW = "ccw"
    EITHER = "either"


class HoleKind(StrEnum):
    """Whether the bolts screw into the driving face or pass through it to a nut."""

    TAPPED = "tapped"
    THROUGH = "through"


class PilotKind(StrEnum):
    """What centres a face: a boss (spigot), a recess (register), or nothing."""

    NONE = "none"
    BOSS = "boss"
    RECESS = "recess"


class SeatKind(StrEnum):
    """Whether bolts pull on one machined plane or on separate legs."""

    FLAT = "flat face"
    LEGS = "legs"


class Material(StrEnum):
    """What the threads in a driving face are cut into."""

    ALUMINIUM = "aluminium"
    IRON = "iron"
    STEEL = "steel"


class PowerKind(StrEnum):
    """What drives the shaft."""

    PETROL = "petrol"
    ELECTRIC = "electric"


class Gender(StrEnum):
    """Which half of a threaded joint an end is."""

    MALE = "male"
    FEMALE = "female"


class Oil(StrEnum):
    """How a pump's crankcase is filled and vented."""

    SEALED = "sealed"
    VENT_HORIZONTAL = "vented for a horizontal shaft"
    VENT_VERTICAL = "vented for a vertical shaft"
    VENT_BOTH = "vented for both"


class Result(StrEnum):
    """What happened when a pump was put on a machine."""

    FINE = "installed and fine"
    WITH_PARTS = "installed with parts"
    DID_NOT_FIT = "did not fit"
    BOUND = "bound when turned by hand"
    EAR_BROKE = "an ear broke"
    LEAKED = "leaked"
    FAILED = "failed in use"
    RETURNED = "returned"

    @property
    def went_wrong(self) -> bool:
        """Say whether the pump did not go on, did not last or did not stay."""
        return self not in (Result.FINE, Result.WITH_PARTS)

    @property
    def is_misfit(self) -> bool:
        """Say whether some size must have been another than was thought, if the pump was said to fit."""
        return self in (Result.DID_NOT_FIT, Result.BOUND, Result.EAR_BROKE, Result.LEAKED)


class PartKind(StrEnum):
    """What a listed part is."""

    SPACER = "spacer"
    SHIM = "shim"
    BOLT = "bolt"
    KEY = "key"
    STEPPED_KEY = "stepped key"
    SLEEVE = "sleeve"
    COUPLING = "coupling"
    PLATE = "plate"
    FITTING = "fitting"
    UNLOADER = "unloader"
    RELIEF_VALVE = "thermal relief valve"
    CHEMICAL_INLET = "chemical inlet"
    INLET_SCREEN = "inlet screen"
    NOZZLE = "nozzle"
