"""Every limit of the adapter plate that no standard sets, each in one place with what kind of figure it is."""

from typing import Final

from xref_app.core.model.words import Material

# How the plate must be made. House rules: ours; the drawing must give them.
MADE_POSITION_MM: Final = 0.05
"""Doubt on x and on y of every hole, bore and recess of the plate as made. House rule."""

MADE_THICKNESS_MM: Final = 0.05
"""Doubt on the plate's thickness, and on every depth in it, as made. House rule."""

MADE_DIAMETER_MM: Final = 0.05
"""Doubt on the diameter of a turned bore or recess of the plate. House rule."""

OVERSIZE_MM: Final = 0.2
"""A drilled hole, counterbore or tapped mouth may come out this much larger, never smaller. House rule."""

MADE_OUTSIDE_MM: Final = 0.5
"""Doubt on the outside of a spacer to make, which nothing counts on. House rule."""

CENTRING_MM: Final = 0.05
"""Doubt on x and on y of the plate's centre, set to the shaft before its screws are tightened. House rule."""

MATERIAL: Final = Material.STEEL
"""What the plate is made of where nobody asks for another material. House rule."""

STOCK_MM: Final = (7.9375, 8.0, 9.525, 10.0, 12.0, 12.7, 15.0, 15.875, 16.0, 19.05, 20.0)
"""Thicknesses a plate is made in, thinnest first: 5/16 to 3/4 in and 8 to 20 mm. House rule."""

# What the plate must leave standing. House rules: ours.
LEAST_WEB_MM: Final = 3.0
"""Material between any two cavities of the plate as made. House rule."""

LEAST_EDGE_MM: Final = 5.0
"""Material between a hole's rim and the outline as made. House rule."""

EDGE_DIAMETERS: Final = 1.0
"""Hole diameters between a screw's or bolt's hole and the outline, where that is more. House rule."""

LEAST_FLOOR_MM: Final = 3.0
"""Floor of a recess, or between two recesses, as made. House rule."""

HEAD_FLOOR_DIAMETERS: Final = 0.5
"""Screw diameters of material under a sunk head, as made. House rule."""

HEAD_BELOW_MM: Final = 0.2
"""How far below the plate's pump face a screw's head stays, as made. House rule."""

BOSS_CLEARANCE_MM: Final = 0.5
"""Room left over a boss at the end of its recess, and between two bosses. House rule."""

SHAFT_CLEARANCE_MM: Final = 1.0
"""Room left all round the turning shaft and key. House rule."""

# Figures the plate is written down in.
BORE_STEP_MM: Final = 0.5
"""Bores, recesses and counterbores are rounded up to whole steps of this. House rule."""

DEPTH_STEP_MM: Final = 0.1
"""Depths are rounded up to whole steps of this. House rule."""

PUMP_THREADS: Final = ("M10x1.5", "3/8-16 UNC", "M8x1.25", "5/16-18 UNC", "M6x1")
"""Threads to tap for the pump where the engine's own bolt does not pass its holes, thickest first. House rule."""
