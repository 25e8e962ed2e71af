"""Every limit the checks use that no standard sets, each in one place with what kind of figure it is."""

from typing import Final

# House rules: ours.
KEY_WIDTH_SLACK_MM: Final = 0.05
"""Raw key and keyway widths that differ by no more are taken to match. House rule."""

COARSEST_HEIGHT_DOUBT_MM: Final = 0.5
"""A key height read with more doubt than this is no reading of it. House rule."""

SERVICE_FACTOR: Final = 2.0
"""Rated torque times this is what a key must carry. House rule."""

KEY_YIELD_MPA: Final = 370.0
"""Yield of a key of unknown steel. House rule."""

KEY_SAFETY: Final = 1.5
"""Yield over this is the stress a key may see. House rule."""

PILOT_CENTRES_MM: Final = 0.15
"""A boss with no more play than this in its recess centres the pump. House rule."""

SEAT_GAP_MM: Final = 0.15
"""A seat that stands back no more than this may be pulled down. House rule."""

LEAST_BOLTS: Final = 3
"""Fewest bolts a pump may hang on when the two faces have different numbers of holes. House rule."""

NUT_DIAMETERS: Final = 1.0
"""Height of a nut in bolt diameters, on the safe side of the hex nut tables. House rule."""

PUMP_EFFICIENCY: Final = 0.85
"""Overall efficiency of a piston pump. House rule."""

POWER_CAUTION_SHARE: Final = 0.9
"""Share of the driver's rating above which we warn. House rule."""

NOZZLE_MISS_SHARE: Final = 0.10
"""Share by which the nozzle may miss the working pressure. House rule."""

SPACER_DOUBT_MM: Final = 0.05
"""Doubt on a listed spacer's thickness. House rule."""

PICKED_DOUBT_MM: Final = 0.02
"""Doubt on a spacer or shim picked with the micrometer to go under one leg. House rule."""

C_FACE_CIRCLE_SLACK_MM: Final = 0.5
"""A bolt circle so near to that of a motor's C face may be one, beside its own doubt. House rule."""

MOST_STACK_MM: Final = 20.0
"""The most that goes under a bolt as spacers: a thicker pile bends the bolt. House rule."""

LEAST_MADE_MM: Final = 0.1
"""The thinnest piece that is made for a gap: shim stock is sold no thinner that shops keep. House rule."""

NARROWEST_ROOM_MM: Final = 0.11
"""What a spacer's thickness may vary by must be at least this for one to be made: its doubt twice, and rounding."""

MADE_STEP_MM: Final = 0.05
"""A piece to make is given in steps of this. House rule."""

MADE_HOLE_OVER_MM: Final = 0.6
"""How much wider than the bolt the hole of a piece to make is. House rule."""

MADE_RIM_MM: Final = 8.0
"""How much wider than its hole a piece to make is. House rule."""

LOOSEST_SPACER_MM: Final = 2.5
"""A spacer whose hole is wider than the bolt by more slips aside, so it is not taken. House rule."""

SAME_LISTED_SIZE_MM: Final = 0.02
"""A listed size and a standard one that differ by no more are the same: lists round. House rule."""

# Textbook (Shigley): shear yield by distortion energy. A lower share, 0.5, is in use too.
SHEAR_YIELD_SHARE: Final = 0.577

BEARING_YIELD_SHARE: Final = 0.9
"""Share of yield a key may bear. House rule."""

# Common practice, no published source.
BOTTOM_CLEARANCE_MM: Final = 1.6
"""Room to leave between shaft end and bottom of the bore. Common practice (1/16 in)."""

ENGAGEMENT_DIAMETERS: Final = 1.0
"""Shaft diameters that must be inside the bore. Common practice."""

THREAD_DIAMETERS_HARD: Final = 1.0
"""Bolt diameters of thread engagement in steel or iron. Common practice."""

THREAD_DIAMETERS_SOFT: Final = 1.5
"""Bolt diameters of thread engagement in aluminium. Common practice."""

SUPPLY_SHARE: Final = 1.2
"""Supply flow over pump flow. Common practice."""
