"""Single changes of the example case: what each must give, derived by hand beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Mutation:
    """One case: the changed values by path, the check it is about, and what that check and the verdict must be."""

    why: str
    changes: dict[str, Any]  # JSON values
    check: str
    finding: str
    verdict: str
    reason: str


MUTATIONS = (
    Mutation(
        why="vertical is not horizontal",
        changes={"machine.shaft.axis": "vertical"},
        check="axis",
        finding="fail",
        verdict="Does not fit",
        reason="The engine's shaft is vertical; the pump is made for a horizontal shaft only.",
    ),
    Mutation(
        why="a pump for both takes either",
        changes={"pump.bore.axis": "both"},
        check="axis",
        finding="pass",
        verdict="Fits as is",
        reason="The engine's shaft is horizontal and the pump is made for a horizontal or a vertical shaft.",
    ),
    Mutation(
        why="only straight keyed goes into hollow keyed; the shelf has no coupling",
        changes={"machine.shaft.form": "tapered"},
        check="drive",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "A tapered shaft does not drive a hollow keyed pump; a coupling for both would be needed,"
            " and none is listed."
        ),
    ),
    Mutation(
        why="a solid pump shaft has no bore; the shelf has no coupling",
        changes={"pump.bore.form": "solid keyed"},
        check="drive",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "A straight keyed shaft does not drive a solid keyed pump; a coupling for both would be "
            "needed, and none is listed."
        ),
    ),
    Mutation(
        why=(
            "24 mm H9 is 24.000 to 24.052, here to 24.052; shaft 3/4 h9 within 19.03 ± 0.02 is 19.010"
            " to 19.050; 24.000 - 19.050 - 0.104 = 4.846, 24.052 - 19.010 - 0.104 = 4.938"
        ),
        changes={"pump.bore.diameter_mm": 24},
        check="bore",
        finding="fail",
        verdict="Does not fit",
        reason="Too loose by 4.85 to 4.94 mm, and no listed sleeve is that thin with a key that bridges it.",
    ),
    Mutation(
        why=(
            "22.2 ± 0.05 with a 3/16 key is 7/8 in h9: 22.173 to 22.225; bore 3/4 in H9 19.050 to "
            "19.102; 22.173 - 19.102 = 3.071, 22.225 - 19.050 = 3.175"
        ),
        changes={"machine.shaft.diameter_mm": 22.2, "machine.shaft.key_top_mm": 24.3},
        check="bore",
        finding="fail",
        verdict="Does not fit",
        reason="The bore is smaller than the shaft by 3.07 to 3.18 mm.",
    ),
    Mutation(
        why="19.0 ± 0.1 with a 6 mm keyway is 19 mm H9: 19.000 to 19.052; minus 19.010 to 19.050",
        changes={"pump.bore.diameter_mm": 19.0, "pump.bore.keyway_width_mm": 6.0, "pump.bore.keyway_floor_mm": 21.8},
        check="bore",
        finding="unknown",
        verdict="Does not fit",
        reason="Play is -0.050 to 0.042 mm by these readings; 0 to 0.104 mm is needed.",
    ),
    Mutation(
        why="19.03 ± 0.3 without its keyway may be 3/4 in (play passes) or 19 mm (play straddles 0)",
        changes={
            "pump.bore.diameter_mm": {"value": 19.03, "doubt": 0.3, "how": "measured"},
            "pump.bore.keyway_width_mm": None,
        },
        check="bore",
        finding="unknown",
        verdict="Not known yet",
        reason="That depends on what the reading is: 3/4 in: pass; shaft 3/4 in, bore 19 mm: unknown.",
    ),
    Mutation(
        why="5 mm key against 3/16 in = 4.7625 mm keyway",
        changes={"machine.shaft.key_width_mm": 5.0},
        check="key",
        finding="fail",
        verdict="Does not fit",
        reason="The key is 5 mm wide and the keyway 3/16 in: the two never go together.",
    ),
    Mutation(
        why=("without the keyway's width, a bore of 19.05 ± 0.10 is 3/4 in or 19 mm, and the key cannot be compared"),
        changes={"pump.bore.keyway_width_mm": None},
        check="key",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: keyway width.",
    ),
    Mutation(
        why="3/16 in key against 1/4 in keyway",
        changes={"pump.bore.keyway_width_mm": 6.35},
        check="key",
        finding="fail",
        verdict="Does not fit",
        reason="The key is 3/16 in wide and the keyway 1/4 in: the two never go together.",
    ),
    Mutation(
        why=(
            "21.9 ± 0.05 contradicts the table (at most 21.13), so raw heights count: floor 21.26 ± "
            "0.10; 21.85 - 21.36 = 0.49, 21.95 - 21.16 = 0.79"
        ),
        changes={"machine.shaft.key_top_mm": 21.9},
        check="key",
        finding="fail",
        verdict="Does not fit",
        reason="The key stands 0.49 to 0.79 mm above the keyway's floor.",
    ),
    Mutation(
        why="nobody measured the height over the key",
        changes={"machine.shaft.key_top_mm": None},
        check="key",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: height over key.",
    ),
    Mutation(
        why=(
            "keyway 58 to 60: 2 ± 0.2 mm; T = 9549.3 x 4.1 / 3400 x 2 = 23.0; shear 2T/(dwL) = 2 x "
            "23.31 / (0.01901 x 0.0047625 x 0.0018) = 286 MPa"
        ),
        changes={"pump.bore.keyway_from_mm": 58, "pump.bore.keyway_to_mm": 60},
        check="key load",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "1.8 to 2.2 mm of key are too few for 22.7 to 23.3 N·m: shear 228 to 286 of 142 MPa, "
            "bearing 456 to 572 of 222 MPa."
        ),
    ),
    Mutation(
        why="the key spans 61.9 - 5 to 61.9, the keyway ends at 60: 60 - 56.9 = 3.1 ± 0.4",
        changes={"machine.shaft.keyseat_length_mm": 5},
        check="key load",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "2.7 to 3.5 mm of key are too few for 22.7 to 23.3 N·m: shear 143 to 191 of 142 MPa, "
            "bearing 287 to 381 of 222 MPa."
        ),
    ),
    Mutation(
        why="where the keyseat ends nobody measured",
        changes={"machine.shaft.keyseat_from_end_mm": None},
        check="key load",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: keyseat from shaft end.",
    ),
    Mutation(
        why="65 - 67.9 = -2.9 ± 0.2; 1.6 + 3.1 = 4.7 at least; 67.8 - 0.1 - 19.05 = 48.65 at most",
        changes={"machine.shaft.projection_mm": 67.9},
        check="reach",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "The shaft is up to 4.7 mm too long: 1.6 mm must be left at the bottom. A spacer of 4.70 "
            "to 48.65 mm under every bolt would do: a part nobody lists."
        ),
    ),
    Mutation(
        why="a 6.0 spacer lies inside 4.70 to 48.65; four bolts, four pieces",
        changes={
            "machine.shaft.projection_mm": 67.9,
            "shelf": [{"kind": "spacer", "thickness_mm": 6.0, "count": 4, "cost": 0.4}],
        },
        check="reach",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "The shaft is up to 4.7 mm too long: 1.6 mm must be left at the bottom. A 6.00 mm spacer "
            "under every bolt does it; 4.70 to 48.65 mm would."
        ),
    ),
    Mutation(
        why="three pieces for four bolts: nobody lists enough",
        changes={
            "machine.shaft.projection_mm": 67.9,
            "shelf": [{"kind": "spacer", "thickness_mm": 6.0, "count": 3, "cost": 0.4}],
        },
        check="reach",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "The shaft is up to 4.7 mm too long: 1.6 mm must be left at the bottom. A spacer of 4.70 "
            "to 48.65 mm under every bolt would do: a part nobody lists."
        ),
    ),
    Mutation(
        why="65 - 63.4 = 1.6 ± 0.2: up to 0.2 short, and the 3.2 spacer lies inside 0.20 to 44.15",
        changes={"machine.shaft.projection_mm": 63.4},
        check="reach",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "The shaft is up to 0.2 mm too long: 1.6 mm must be left at the bottom. A 3.20 mm spacer "
            "under every bolt does it; 0.20 to 44.15 mm would."
        ),
    ),
    Mutation(
        why="the same without a spacer: the doubt straddles 1.6",
        changes={"machine.shaft.projection_mm": 63.4, "shelf": []},
        check="reach",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "1.40 to 1.80 mm are left at the bottom and 63.20 to 63.60 mm of shaft inside by these "
            "readings; 1.6 mm and 19.01 to 19.05 mm are needed."
        ),
    ),
    Mutation(
        why="15 - 0 = 15 ± 0.2 inside, one diameter is 19.05",
        changes={"machine.shaft.projection_mm": 15.0},
        check="reach",
        finding="fail",
        verdict="Does not fit",
        reason="Only 14.80 to 15.20 mm of shaft are inside; one shaft diameter, 19.01 to 19.05 mm, must be.",
    ),
    Mutation(
        why="nobody measured the shaft's length",
        changes={"machine.shaft.projection_mm": None},
        check="reach",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: shaft projection.",
    ),
    Mutation(
        why="65 ± 2 - 61.9 ± 0.1 = 1.0 to 5.2 straddles 1.6",
        changes={"pump.bore.depth_mm": {"value": 65, "doubt": 2, "how": "claimed"}, "shelf": []},
        check="reach",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "1.00 to 5.20 mm are left at the bottom and 61.70 to 62.10 mm of shaft inside by these "
            "readings; 1.6 mm and 19.01 to 19.05 mm are needed."
        ),
    ),
    Mutation(
        why="radius 46 against 50: 4 mm off, (8.8 - 7.9)/2 + 0.28 + 0.07 allowed at most",
        changes={"pump.flange.holes_xy_mm": [[50, 0], [0, 50], [-50, 0], [0, -50]]},
        check="pattern",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "At no turn of the pump do its holes meet the bolts: circle 92.0 against 100.0 mm. An "
            "adapter plate would be needed: a part nobody lists."
        ),
    ),
    Mutation(
        why="three of four holes at right angles meet at every quarter turn",
        changes={"pump.flange.holes_xy_mm": [[46, 0], [0, 46], [-46, 0]], "pump.flange.seat_heights_mm": [0, 0, 0]},
        check="pattern",
        finding="pass",
        verdict="Fits as is",
        reason="All 3 bolts pass with the pump turned 0°, 90°, 180°, 270°.",
    ),
    Mutation(
        why="(7.9 - 7.94)/2 < 0 for sure, (8.1 - 7.85)/2 + 0.28 > 0 at best",
        changes={"pump.flange.hole_mm": 8.0},
        check="pattern",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "The holes may meet the bolts: by these readings a bolt can be 0.28 mm out of place and 0.00 mm are free."
        ),
    ),
    Mutation(
        why="7.1 < 7.85: the hole is smaller than any 5/16 bolt",
        changes={"pump.flange.hole_mm": 7.0},
        check="pattern",
        finding="fail",
        verdict="Does not fit",
        reason="The bolt is 7.94 mm thick and does not go through a 7.00 mm hole.",
    ),
    Mutation(
        why="one bolt 4 mm further out",
        changes={"machine.face.holes_xy_mm": [[46, 0], [0, 46], [-46, 0], [0, -50]]},
        check="pattern",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "At no turn of the pump do its holes meet the bolts: circle 92.0 to 100.0 against 92.0 "
            "mm. An adapter plate would be needed: a part nobody lists."
        ),
    ),
    Mutation(
        why="XYZ is no series",
        changes={"machine.face.bolt": "5/16-24 XYZ"},
        check="pattern",
        finding="unknown",
        verdict="Not known yet",
        reason="No bolt table has the thread 5/16-24 XYZ: read it again, with pitch.",
    ),
    Mutation(
        why="the hole's size is not known",
        changes={"pump.flange.hole_mm": None},
        check="pattern",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: bolt hole of the pump.",
    ),
    Mutation(
        why="boss 3.0 ± 0.1 on a flat face: the spacer must reach 3.1 + 0.05, 3.2 - 0.05 does",
        changes={"machine.face.pilot_kind": "boss", "machine.face.pilot_mm": 50, "machine.face.pilot_depth_mm": 3},
        check="pilot",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "A boss 2.90 to 3.10 mm high meets a flat face; a 3.20 mm spacer under every bolt clears "
            "it. Shaft and bolts then centre the pump."
        ),
    ),
    Mutation(
        why="50 ± 0.05 in 49.5 ± 0.10: -0.65 to -0.35",
        changes={
            "machine.face.pilot_kind": "boss",
            "machine.face.pilot_mm": 50,
            "machine.face.pilot_depth_mm": 3,
            "pump.flange.pilot_kind": "recess",
            "pump.flange.pilot_mm": 49.5,
            "pump.flange.pilot_depth_mm": 4,
        },
        check="pilot",
        finding="fail",
        verdict="Does not fit",
        reason="The boss is 0.35 to 0.65 mm larger than the recess.",
    ),
    Mutation(
        why="50 ± 0.05 in 50.05 ± 0.10: -0.10 to 0.20 straddles 0",
        changes={
            "machine.face.pilot_kind": "boss",
            "machine.face.pilot_mm": 50,
            "machine.face.pilot_depth_mm": 3,
            "pump.flange.pilot_kind": "recess",
            "pump.flange.pilot_mm": 50.05,
            "pump.flange.pilot_depth_mm": 4,
        },
        check="pilot",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "Boss and recess differ by -0.10 to 0.20 mm in diameter and 0.80 to 1.20 mm in depth by "
            "these readings; neither may be below 0."
        ),
    ),
    Mutation(
        why="two bosses",
        changes={
            "machine.face.pilot_kind": "boss",
            "machine.face.pilot_mm": 50,
            "machine.face.pilot_depth_mm": 3,
            "pump.flange.pilot_kind": "boss",
            "pump.flange.pilot_mm": 50.05,
            "pump.flange.pilot_depth_mm": 4,
        },
        check="pilot",
        finding="fail",
        verdict="Does not fit",
        reason="Both faces have a boss: they hold each other apart.",
    ),
    Mutation(
        why="5 ± 0.1 high in 4 ± 0.1 deep",
        changes={
            "machine.face.pilot_kind": "boss",
            "machine.face.pilot_mm": 50,
            "machine.face.pilot_depth_mm": 5,
            "pump.flange.pilot_kind": "recess",
            "pump.flange.pilot_mm": 50.5,
            "pump.flange.pilot_depth_mm": 4,
        },
        check="pilot",
        finding="fail",
        verdict="Does not fit",
        reason="The boss is 0.80 to 1.20 mm higher than the recess is deep: the faces never meet.",
    ),
    Mutation(
        why=(
            "straightedge: leg -2.05 to -1.95, seats of both sides -0.05 to 0 each; 1.95 - 0.10 = "
            "1.85, 2.05 + 0.05 = 2.10"
        ),
        changes={"pump.flange.seat_heights_mm": [0, 0, 0, -2]},
        check="seat",
        finding="fail",
        verdict="Does not fit",
        reason="One leg stands 1.85 to 2.10 mm off its seat; a spacer that thick is a part nobody lists.",
    ),
    Mutation(
        why="the 2.0 spacer leaves -0.15 to 0.10",
        changes={
            "pump.flange.seat_heights_mm": [0, 0, 0, -2],
            "shelf": [{"kind": "spacer", "thickness_mm": 2.0, "count": 1}],
        },
        check="seat",
        finding="by parts",
        verdict="Fits with parts",
        reason="One leg stands 1.85 to 2.10 mm off its seat; a listed spacer goes under it.",
    ),
    Mutation(
        why="legs or flat face, nobody says",
        changes={"pump.flange.seat_heights_mm": None},
        check="seat",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: seat heights of the pump.",
    ),
    Mutation(
        why="-0.15 to -0.05 on a side of -0.05 to 0: up to 0.20 straddles 0.15",
        changes={"pump.flange.seat_heights_mm": [0, 0, 0, -0.1]},
        check="seat",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "A leg may stand 0.00 to 0.20 mm off its seat; more than 0.15 mm breaks its ear. "
            "Straightedge and feeler across the legs."
        ),
    ),
    Mutation(
        why="19.05 - 12 - 1.3..1.9 = 5.0 to 5.9; 1.5 x 7.94 = 11.9",
        changes={"machine.face.bolt_length_mm": 19.05},
        check="bolts",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "The old bolts do not serve (they would go only 5.0 to 5.9 mm in, 11.9 mm are needed). "
            "31.8 mm bolts go 17.8 to 18.5 mm in; 11.9 mm hold."
        ),
    ),
    Mutation(
        why="38.1 - 12 - 1.3..1.9 = 24.1 to 24.9 into 18.9",
        changes={"machine.face.bolt_length_mm": 38.1},
        check="bolts",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "The old bolts do not serve (they would bottom: 24.1 to 24.9 mm into 18.9 mm of thread). "
            "31.8 mm bolts go 17.8 to 18.5 mm in; 11.9 mm hold."
        ),
    ),
    Mutation(
        why="no old length: 1-1/4 in = 31.75 goes 17.8 to 18.5 in",
        changes={"machine.face.bolt_length_mm": None},
        check="bolts",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "The old bolts do not serve (their length is not known). 31.8 mm bolts go 17.8 to 18.5 mm in; 11.9 mm hold."
        ),
    ),
    Mutation(
        why="8.1 mm of thread, 1.5 x 7.94 = 11.9 needed in aluminium",
        changes={"machine.face.tapped_depth_mm": 8},
        check="bolts",
        finding="fail",
        verdict="Does not fit",
        reason="No bolt length holds: 11.9 mm of thread are needed and only 8.1 mm are tapped.",
    ),
    Mutation(
        why="nobody measured the thread's depth",
        changes={"machine.face.tapped_depth_mm": None},
        check="bolts",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: tapped depth.",
    ),
    Mutation(
        why="25.4/11.5 = 2.209 against 25.4/14 = 1.814",
        changes={"pump.ports.inlet.thread": "3/4-14 NPT"},
        check="inlet",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "3/4-11.5 NH has 2.209 mm pitch and 3/4-14 NPT 1.814 mm: they start, then bind. The "
            "fitting that joins them is a part nobody lists."
        ),
    ),
    Mutation(
        why="14 and 15 mm seals",
        changes={"pump.ports.outlet.seal_mm": 15},
        check="outlet",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "The seal is 14 mm on the machine and 15 mm on the pump: same thread, but it will not "
            "seal. The fitting that joins them is a part nobody lists."
        ),
    ),
    Mutation(
        why="M22x1.5 always asks which seal",
        changes={"pump.ports.outlet.seal_mm": None},
        check="outlet",
        finding="unknown",
        verdict="Not known yet",
        reason="M22x1.5 comes with a 14 mm and a 15 mm seal; measure which one each end has.",
    ),
    Mutation(
        why="22.0 against 16.662",
        changes={"pump.ports.outlet.thread": "G3/8", "pump.ports.outlet.seal_mm": None},
        check="outlet",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "M22x1.5 and G3/8 are different threads: 22.0 against 16.7 mm over the crests. The "
            "fitting that joins them is a part nobody lists."
        ),
    ),
    Mutation(
        why="22.0 against 17.145; the listed fitting joins them, 280 >= 190 bar",
        changes={
            "pump.ports.outlet.thread": "3/8-18 NPT",
            "pump.ports.outlet.gender": "female",
            "pump.ports.outlet.seal_mm": None,
        },
        check="outlet",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "M22x1.5 and 3/8-18 NPT are different threads: 22.0 against 17.1 mm over the crests. The "
            "listed fitting 3/8-18 NPT to M22x1.5 joins them."
        ),
    ),
    Mutation(
        why="170 < 190 bar",
        changes={
            "pump.ports.outlet.thread": "3/8-18 NPT",
            "pump.ports.outlet.gender": "female",
            "pump.ports.outlet.seal_mm": None,
            "shelf": [
                {
                    "kind": "fitting",
                    "ends": [
                        {"thread": "3/8-18 NPT", "gender": "male"},
                        {"thread": "M22x1.5", "gender": "male", "seal_mm": 14},
                    ],
                    "rating_bar": 170,
                    "count": 2,
                    "cost": 6.5,
                }
            ],
        },
        check="outlet",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "M22x1.5 and 3/8-18 NPT are different threads: 22.0 against 17.1 mm over the crests. The "
            "listed fitting 3/8-18 NPT to M22x1.5 would join them but is rated 170 bar, below the "
            "highest possible 190 bar."
        ),
    ),
    Mutation(
        why="female on female",
        changes={"pump.ports.outlet.gender": "female"},
        check="outlet",
        finding="fail",
        verdict="Does not fit",
        reason="Both ends are female. The fitting that joins them is a part nobody lists.",
    ),
    Mutation(
        why="outlet at 90° + 0, 90, 180, 270°, free only 30 to 60°",
        changes={"machine.room.outlet_free_deg": [[30, 60]]},
        check="way out",
        finding="fail",
        verdict="Does not fit",
        reason="At every turn that fits, the outlet points into the machine.",
    ),
    Mutation(
        why="3400 > 1750",
        changes={"pump.rating.speed_rpm": 1450, "pump.rating.max_speed_rpm": 1750},
        check="speed",
        finding="fail",
        verdict="Does not fit",
        reason="The engine turns 3400 rpm; the pump may run 1750 rpm at most.",
    ),
    Mutation(
        why="3400 > 1450 rated, no limit given",
        changes={"pump.rating.speed_rpm": 1450, "pump.rating.max_speed_rpm": None},
        check="speed",
        finding="unknown",
        verdict="Does not fit",
        reason=(
            "The engine turns 3400 rpm, faster than the pump's rated 1450 rpm, and its highest speed is not known."
        ),
    ),
    Mutation(
        why="180 < 190",
        changes={"machine.water.discharge.rating_bar": 180},
        check="pressure",
        finding="fail",
        verdict="Does not fit",
        reason="The unloader limits to 190 bar; the weakest of hose, gun and wand stands only 180 bar.",
    ),
    Mutation(
        why="120 < 140",
        changes={"pump.rating.pressure_bar": 120},
        check="pressure",
        finding="fail",
        verdict="Does not fit",
        reason="The machine works at 140 bar; this pump is rated 120 bar.",
    ),
    Mutation(
        why="no unloader built in, none on the shelf",
        changes={"pump.has.unloader": False},
        check="pressure",
        finding="unknown",
        verdict="Does not fit",
        reason=(
            "The pump has no unloader of its own and none is listed that stands its rated pressure; "
            "what limits the pressure when the trigger is shut is not known."
        ),
    ),
    Mutation(
        why="no unloader built in, none on the shelf",
        changes={"pump.has.unloader": False},
        check="carried over",
        finding="fail",
        verdict="Does not fit",
        reason="The old pump's unloader was built in, the new one has none, and it is a part nobody lists.",
    ),
    Mutation(
        why="a relief valve is listed",
        changes={"pump.has.thermal_relief": False, "shelf": [{"kind": "thermal relief valve", "count": 1, "cost": 9}]},
        check="carried over",
        finding="by parts",
        verdict="Fits with parts",
        reason="The old pump's thermal relief was built in, the new one has none; a listed one goes on.",
    ),
    Mutation(
        why="no relief valve is listed",
        changes={"pump.has.thermal_relief": False},
        check="carried over",
        finding="fail",
        verdict="Does not fit",
        reason=("The old pump's thermal relief was built in, the new one has none, and it is a part nobody lists."),
    ),
    Mutation(
        why="p = 275.8 (2.51/3.5)^2 = 141.8 bar; 141.8 x 9.5 / 600 / 0.85 = 2.64 kW > 2.05",
        changes={"machine.power.power_kw": 2.0},
        check="power",
        finding="fail",
        verdict="Does not fit",
        reason=(
            "The pump takes 2.60 to 2.68 kW at 140 to 143 bar and 9.4 to 9.6 l/min; the engine gives "
            "only 1.9 to 2.0 kW."
        ),
    ),
    Mutation(
        why="2.60 to 2.68 against 2.60 to 2.70",
        changes={"machine.power.power_kw": 2.65},
        check="power",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "The pump takes 2.60 to 2.68 kW at 140 to 143 bar and 9.4 to 9.6 l/min by these readings;"
            " the engine gives 2.6 to 2.7 kW."
        ),
    ),
    Mutation(
        why="275.8 (2.51/4.5)^2 = 85.8 bar misses 140 by 39 %; 3.5 misses by 1 %",
        changes={"machine.water.nozzle_number": 4.5},
        check="nozzle",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "Nozzle 4.5 makes 85 to 87 bar of 9.4 to 9.6 l/min, 140 bar is worked at; nozzle 3.5 makes 140 to 143 bar."
        ),
    ),
    Mutation(
        why="the same, the 3.5 nozzle from the shelf",
        changes={"machine.water.nozzle_number": 4.5, "shelf": [{"kind": "nozzle", "number": 3.5, "count": 1}]},
        check="nozzle",
        finding="by parts",
        verdict="Fits with parts",
        reason=(
            "Nozzle 4.5 makes 85 to 87 bar of 9.4 to 9.6 l/min, 140 bar is worked at; nozzle 3.5 makes 140 to 143 bar."
        ),
    ),
    Mutation(
        why="no nozzle number, no pressure",
        changes={"machine.water.nozzle_number": None},
        check="nozzle",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: nozzle number.",
    ),
    Mutation(
        why="9.5 < 1.2 x 9.45 = 11.3",
        changes={"machine.water.supply.flow_lpm": 9},
        check="supply",
        finding="fail",
        verdict="Does not fit",
        reason="The supply gives 8.5 to 9.5 l/min; 11.3 to 11.5 are needed. A starved pump cavitates.",
    ),
    Mutation(
        why="69 > 60",
        changes={"machine.water.supply.temperature_c": 70},
        check="supply",
        finding="fail",
        verdict="Does not fit",
        reason="The water is 69.0 to 71.0 °C; the pump takes 60.0 °C at most.",
    ),
    Mutation(
        why="0.4 < 0.5",
        changes={"machine.water.supply.pressure_bar": 0.2},
        check="supply",
        finding="fail",
        verdict="Does not fit",
        reason="The supply stands at 0.0 to 0.4 bar; the pump needs 0.5 bar.",
    ),
    Mutation(
        why="8.8 > 8",
        changes={"machine.water.supply.pressure_bar": 9},
        check="supply",
        finding="fail",
        verdict="Does not fit",
        reason="The supply stands at 8.8 to 9.2 bar; the pump takes 8.0 bar at most.",
    ),
    Mutation(
        why="ccw is not cw",
        changes={"pump.bore.turn": "cw"},
        check="turn",
        finding="fail",
        verdict="Does not fit",
        reason="The shaft turns ccw and the pump must turn cw.",
    ),
    Mutation(
        why="which way the pump turns nobody says",
        changes={"pump.bore.turn": None},
        check="turn",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: pump turns.",
    ),
    Mutation(
        why="a vertical vent on a horizontal shaft",
        changes={"pump.oil": "vented for a vertical shaft"},
        check="oil",
        finding="fail",
        verdict="Does not fit",
        reason="The pump is vented for a vertical shaft; on a horizontal shaft it would run dry or leak.",
    ),
    Mutation(
        why="209 > 195",
        changes={"machine.room.length_mm": 190},
        check="room",
        finding="fail",
        verdict="Does not fit",
        reason="The pump is 209 to 211 mm long and only 185 to 195 mm are free.",
    ),
    Mutation(
        why="a guessed character",
        changes={"guessed_number": True},
        check="identity",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "The number was read through characters nobody can make out; measure one size of the unit to confirm it."
        ),
    ),
    Mutation(
        why="3/4 passes, 7/8 is 3.1 too loose",
        changes={"pump.bore.diameter_mm": {"either": [19.05, 22.225]}},
        check="bore",
        finding="unknown",
        verdict="Not known yet",
        reason=(
            "Two versions of a size disagree: pass (The shaft runs in the bore with 0.000 to 0.092 mm"
            " of play, at most 0.104 mm allowed.) / fail (Too loose by 3.07 to 3.16 mm, and no listed"
            " sleeve is that thin with a key that bridges it.). Measure it and settle which holds."
        ),
    ),
    Mutation(
        why="65 and 66 both leave room",
        changes={"pump.bore.depth_mm": {"either": [65, 66]}},
        check="reach",
        finding="pass",
        verdict="Fits as is",
        reason="61.70 to 62.10 mm of shaft are inside, 2.90 to 3.30 mm are left at the bottom.",
    ),
    Mutation(
        why="habit never decides",
        changes={"machine.shaft.projection_mm": {"value": 61.9, "how": "typical"}},
        check="reach",
        finding="unknown",
        verdict="Not known yet",
        reason="Not known yet: shaft projection.",
    ),
)
