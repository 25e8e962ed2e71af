"""The closed lists of what the shop can say about a machine that does not run right."""

from enum import StrEnum


class Symptom(StrEnum):
    """What the machine does."""

    NO_PRESSURE = "no pressure"
    LOW_PRESSURE = "low pressure"
    NO_FLOW = "no flow"
    PULSES = "pulses or surges"
    DROPS_LATER = "pressure drops after a while"
    STARTS_HARD = "starts hard or stalls"
    LEAKS = "leaks water"
    MILKY_OIL = "oil is milky"
    NOISY = "noisy"


class GaugePlace(StrEnum):
    """Where the pressure gauge stood."""

    PUMP = "at the pump's outlet"
    GUN = "between hose and gun"


class Screen(StrEnum):
    """The inlet screen, looked at."""

    CLEAN = "clean"
    CLOGGED = "clogged"


class Nozzle(StrEnum):
    """The fitted nozzle, looked at and sprayed."""

    GOOD = "sprays right, hole round and clear"
    WIDE = "wide or worn"
    BLOCKED = "partly blocked"


class SuctionAir(StrEnum):
    """Air in the water that the pump draws: a clear piece of hose at the inlet, or the jet watched."""

    NONE = "no bubbles"
    BUBBLES = "bubbles"


class FlowBack(StrEnum):
    """What the unloader lets back to the inlet while the trigger is open."""

    NONE = "nothing flows back"
    FLOWS = "water flows back"


class Relief(StrEnum):
    """The thermal relief valve while the machine sprays."""

    SHUT = "shut"
    OPEN = "drips or runs"


class Leak(StrEnum):
    """Where water comes out that should not."""

    NONE = "nowhere"
    HOSE_OR_GUN = "hose, gun or wand"
    INLET_JOINT = "joint of the supply"
    WEEP_HOLES = "runs from the weep holes between head and crankcase"
    CRACK = "through a crack in the pump's head"


class Oil(StrEnum):
    """The pump's oil, looked at."""

    CLEAR = "clear"
    MILKY = "milky"
    MILKY_AGAIN = "milky again after a change"


class Noise(StrEnum):
    """What it sounds like."""

    EVEN = "even hum"
    GRAVEL = "rattles as if it pumped gravel"
    TICK = "ticks or knocks once a turn"


class Part(StrEnum):
    """What was cleaned, changed for a good one or put right, to see whether the machine then runs right."""

    SUPPLY_HOSE = "tap and supply hose"
    SCREEN = "inlet screen"
    SUCTION_JOINT = "joints of the suction side"
    NOZZLE = "nozzle, a new one of the right number"
    INJECTOR = "chemical injector out, or its low-pressure nozzle off"
    WAND_AND_HOSE = "wand, gun and hose"
    UNLOADER = "unloader"
    RELIEF = "thermal relief valve"
    SPEED = "engine speed or belt"


class Cause(StrEnum):
    """What can be wrong, in the words that a list shows."""

    SUPPLY_STARVED = "supply too weak, or its hose kinked"
    SCREEN_CLOGGED = "inlet screen clogged"
    AIR_LEAK = "air leak on the suction side"
    NOZZLE_WORN = "nozzle worn"
    NOZZLE_WRONG = "nozzle wrong or blocked"
    WAND_OR_HOSE = "wand, gun or hose blocked or leaking"
    UNLOADER = "unloader leaking, stuck or set low"
    INJECTOR = "chemical injector, or its low-pressure nozzle"
    ENGINE_SLOW = "engine slow, or belt slipping"
    VALVES = "pump valves worn or stuck"
    SEALS = "pump seals worn"
    RELIEF_OPEN = "thermal relief open after heat in bypass"
    FROZEN_HEAD = "pump head cracked by frost"
    OIL_SEALS = "water in the oil: oil seals"
    HEALTHY = "healthy: nothing found"


class Verdict(StrEnum):
    """The answer to the question, in exactly these words."""

    PUMP = "it is the pump"
    NOT_PUMP = "not the pump"
    CANNOT_TELL = "cannot tell yet"


class Try(StrEnum):
    """The things to try, by name."""

    LOOK_FOR_LEAKS = "look for leaks"
    LOOK_AT_OIL = "look at the oil"
    READ_PLATE = "read the plate"
    FEEL_SUPPLY = "take the supply's temperature"
    ASK_SOAP_NOZZLE = "look which nozzle is in"
    LISTEN = "listen"
    LOOK_AT_SCREEN = "look at the inlet screen"
    LOOK_AT_NOZZLE = "look at the nozzle"
    TIME_SUPPLY = "time the supply"
    READ_SPEED = "read the speed"
    TIME_BUCKET = "time the bucket"
    TIME_OPEN_BUCKET = "time the bucket with the nozzle off"
    WATCH_RELIEF = "watch the thermal relief valve"
    WATCH_FLOW_BACK = "watch what flows back"
    WATCH_AIR = "watch for air"
    READ_GAUGE = "read the pressure"
    MEASURE_WHILE_BAD = "measure while it is bad"
    MEASURE_CLOSER = "measure closer"
    SWAP_WAND = "try another wand and hose"
    SWAP_UNLOADER = "try another unloader"
    SWAP_RELIEF = "try another thermal relief valve"
    CLEAN_SCREEN = "clean the inlet screen"
    SOAP_NOZZLE_OUT = "take the low-pressure nozzle out"
    CLEAR_NOZZLE = "clear or change the nozzle"
    MEND_HOSE = "mend the hose"
    BETTER_SUPPLY = "better the supply"
    SEAL_SUCTION = "seal the suction side"
    SET_SPEED = "set the speed"
    COOL_RELIEF = "cool it and change the relief valve"
    LOWER_UNLOADER = "stop, the unloader holds too much"
    SET_UNLOADER = "set or change the unloader"
    CHANGE_OIL = "change the oil"
    OPEN_PUMP = "open the pump"
    FIX_OR_REPLACE = "fix or replace the pump"
    NOTHING = "nothing more"
