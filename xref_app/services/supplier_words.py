"""The words that suppliers head their columns with, and the marks they write where something is not known.

Common words of the trade and of the dictionary, from memory; they only propose, and a person sees what was proposed.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

# What is no field of data_schema, but stands in lists.
NUMBER: Final = "number"
MAKER: Final = "maker"
NAME: Final = "name"
NOTE: Final = "note"
REPLACES: Final = "replaces"
REPLACED_BY: Final = "replaced_by"
BOLT_CIRCLE: Final = "bolt_circle_mm"
HOLE_COUNT: Final = "hole_count"

# Words that are one and the same in a heading, each spelled without accents, in small letters.
SAME_WORDS: Final[Mapping[str, str]] = {
    **dict.fromkeys(("no", "nr", "num", "numero", "nummer", "#", "nbr"), "number"),
    **dict.fromkeys(("dia", "diam", "ø", "⌀", "durchmesser", "diametre", "diametro"), "diameter"),
    **dict.fromkeys(("maximum", "maxi", "highest"), "max"),
    **dict.fromkeys(("minimum", "mini", "least"), "min"),
    **dict.fromkeys(("press", "druck", "pression", "presion"), "pressure"),
    **dict.fromkeys(("temp", "temperatur"), "temperature"),
    **dict.fromkeys(("manufacturer", "brand", "make", "mfr", "hersteller", "marke", "fabricant"), "maker"),
    **dict.fromkeys(("description", "desc", "bezeichnung", "designation", "descripcion"), "name"),
    **dict.fromkeys(("welle", "arbre", "eje"), "shaft"),
    **dict.fromkeys(("inch", "inches", "zoll"), "in"),
    "fördermenge": "flow",
    "fordermenge": "flow",
    "debit": "flow",
    "drehzahl": "speed",
    "artikel": "article",
    "teil": "part",
    "suction": "inlet",
    "eingang": "inlet",
    "ausgang": "outlet",
    "gewinde": "thread",
    "holes": "hole",
    "bolts": "bolt",
}

# Words that say nothing of which column it is.
FILLERS: Final = frozenset(
    {"the", "of", "rated", "nominal", "nom", "a", "in", "der", "die", "das", "de", "for", "approx", "ca"}
)

# Words that make another column of it: where a heading has one that nothing explains, nothing is proposed. In headings
# of sizes any word that nothing explains does so.
DECISIVE: Final = frozenset(
    {
        *(
            "replaces",
            "replaced",
            "supersedes",
            "superseded",
            "old",
            "new",
            "ersetzt",
            "replacement",
            "former",
            "alternative",
        ),
        *("max", "min", "inlet", "outlet", "discharge", "depth", "length", "height", "width", "thread", "hole", "bolt"),
        *("circle", "pilot", "key", "keyway", "bore", "shaft", "flange", "price", "weight", "date", "seal", "unloader"),
        *(
            "temperature",
            "pressure",
            "flow",
            "speed",
            "power",
            "engine",
            "motor",
            "quantity",
            "qty",
            "stock",
            "test",
            "burst",
        ),
        *(
            "torque",
            "plunger",
            "piston",
            "alt",
            "intermittent",
            "turn",
            "turns",
            "rotation",
            "peak",
            "relief",
            "gasket",
            "spare",
            "repair",
            "crankcase",
            "oil",
            "valve",
            "kit",
            "nozzle",
            "customer",
            "ean",
            "page",
        ),
    }
)

_FOR_ALL: Final[Mapping[str, tuple[str, ...]]] = {
    NUMBER: (
        *("number", "part number", "article number", "item number", "item", "model number", "order number", "sku"),
        *("pump number", "catalog number", "part", "article", "artikelnummer", "bestellnummer", "teilenummer"),
        *("reference", "ref", "code", "pump", "model", "p/n", "pn"),
    ),
    MAKER: ("maker",),
    NAME: ("name", "product name", "pump name", "type", "product", "text"),
    NOTE: ("note", "notes", "remark", "remarks", "comment", "bemerkung"),
    REPLACES: (
        *("replaces", "supersedes", "replaces number", "supersedes number", "old number", "old part number", "ersetzt"),
        *("replaces part number", "supersedes part number", "remplace", "replacement for", "was"),
    ),
    REPLACED_BY: ("replaced by", "superseded by", "new number", "replaced by number", "superseded by number"),
}

_FOR_PUMPS: Final[Mapping[str, tuple[str, ...]]] = {
    "bore_diameter_mm": (
        "bore",
        "bore diameter",
        "shaft",
        "shaft diameter",
        "shaft size",
        "hollow shaft",
        "wellendurchmesser",
    ),
    "bore_form": ("bore form", "bore type"),
    "bore_depth_mm": ("bore depth",),
    "bore_axis": ("mounting position",),
    "bore_keyway_width_mm": ("key", "keyway", "key width", "keyway width"),
    BOLT_CIRCLE: (
        "bolt circle",
        "bolt circle diameter",
        "bcd",
        "pcd",
        "pitch circle",
        "hole circle",
        "lochkreis",
        "bc",
    ),
    HOLE_COUNT: ("hole", "number hole", "bolt hole", "hole count", "number bolt", "number bolt hole"),
    "flange_hole_mm": ("hole diameter", "hole size", "bolt hole diameter", "bolt hole size"),
    "flange_thickness_mm": ("flange thickness",),
    "flange_pilot_mm": ("pilot", "pilot diameter", "spigot", "spigot diameter"),
    "inlet_thread": ("inlet", "inlet thread", "inlet port", "inlet connection", "thread inlet"),
    "outlet_thread": ("outlet", "outlet thread", "outlet port", "outlet connection", "discharge", "thread outlet"),
    "rating_pressure_bar": ("pressure", "max pressure", "working pressure", "max working pressure"),
    "rating_flow_lpm": ("flow", "flow rate", "max flow", "volume flow", "capacity", "delivery"),
    "rating_speed_rpm": ("speed",),
    "rating_max_speed_rpm": ("max speed",),
    "rating_max_inlet_c": (
        "max temperature",
        "max inlet temperature",
        "max water temperature",
        "inlet temperature max",
    ),
    "rating_max_supply_bar": ("max inlet pressure", "max supply pressure"),
    "rating_min_supply_bar": ("min inlet pressure", "min supply pressure"),
    "has_unloader": ("unloader", "unloader built in", "with unloader"),
    "has_thermal_relief": ("thermal relief", "thermal valve"),
    "oil": ("oil",),
}

_FOR_DRIVERS: Final[Mapping[str, tuple[str, ...]]] = {
    NUMBER: ("engine", "motor", "engine number", "motor number", "engine model"),
    "shaft_diameter_mm": (
        "shaft",
        "shaft diameter",
        "shaft size",
        "pto shaft",
        "crankshaft",
        "crankshaft diameter",
        "wellendurchmesser",
    ),
    "shaft_projection_mm": ("shaft length", "shaft projection"),
    "shaft_key_width_mm": ("key", "key width"),
    "shaft_axis": ("shaft axis",),
    "shaft_form": ("shaft form", "shaft type"),
    "face_pilot_mm": ("pilot", "pilot diameter"),
    "power_kw": ("power", "engine power", "output", "leistung"),
    "power_speed_rpm": ("speed", "max speed"),
}

PUMP_PHRASES: Final[Mapping[str, tuple[str, ...]]] = {**_FOR_ALL, **_FOR_PUMPS}
DRIVER_PHRASES: Final[Mapping[str, tuple[str, ...]]] = {
    **_FOR_ALL,
    **_FOR_DRIVERS,
    NUMBER: (*_FOR_ALL[NUMBER], *_FOR_DRIVERS[NUMBER]),
}

# What a bare unit heads: "GPM", "max psi". A length or a temperature alone tells nothing.
PUMP_UNITS: Final[Mapping[str, str]] = {
    "bar": "rating_pressure_bar",
    "lpm": "rating_flow_lpm",
    "rpm": "rating_speed_rpm",
}
DRIVER_UNITS: Final[Mapping[str, str]] = {"kw": "power_kw", "rpm": "power_speed_rpm"}

# What stands in a cell where somebody did not know; compared in small letters without spaces and full stops.
NOT_KNOWN: Final = frozenset(
    {
        *("-", "--", "---", "–", "—", "_", "?", "??", "???", "x?", ".", "/", "*"),
        *("n/a", "na", "#n/a", "#nv", "tbd", "tba", "tbc", "unknown", "unk", "notknown", "null", "nil", "nan", "ka"),
        *("nichtbekannt", "unbekannt", "s/o", "nc", "nd", "notavailable", "notapplicable", "onrequest", "aufanfrage"),
    }
)
# Signs that say there is something wrong with the cell, as spreadsheet programs write them.
FAULTS: Final = frozenset({"#ref!", "#value!", "#name?", "#div/0!", "#num!", "#null!", "#wert!", "#bezug!"})
