"""One paragraph of help per place the focus can be, by objectName; the marked words are translated when shown."""

from collections.abc import Mapping

from xref_app.core.sentence import marked

HELP: Mapping[str, str] = {
    "entry_text_line": marked(
        "help",
        "Type the number on the plate of the pump coming off, or the model of the machine, and press Enter. Put ? for "
        "one character you cannot read, * for several, [38] for 3 or 8. While you type, hits drop below: Down "
        "highlights one, Enter takes it. Nothing is taken that you did not type whole or highlight. A scanner may be "
        "used from anywhere; its code lands here. A size with its unit is told in mm; measuring begins with F7.",
    ),
    "entry_unit_button": marked("help", "Says which unit of length stands first, mm or inch, and changes it."),
    "chips_pump_button": marked("help", "The pump this job rests on. Press to go on without it."),
    "chips_machine_button": marked("help", "The machine this job rests on. Press to go on without it."),
    "message_close_button": marked("help", "Closes the message. Esc does the same."),
    "facts_rows_list": marked(
        "help",
        "All that is known of the machine and of the pump coming off, each with how it is known. “? not known” is a "
        "task, not a zero. Two versions of one size are both judged; neither is preferred.",
    ),
    "facts_builds_list": marked(
        "help",
        "This model was built in several ways. Look for the fact in bold on the machine itself, go to it with the "
        "arrow keys, and press Enter. None is chosen beforehand.",
    ),
    "facts_measure_button": marked(
        "help", "Opens the bench sheet at the one measurement that most of what is still open asks for."
    ),
    "candidates_rows_list": marked(
        "help",
        "Every pump judged, best first. Disc with a tick: fits as is. Square with a plus: fits with parts. Hollow "
        "diamond with a question mark: not known yet. Bare cross: does not fit. “Same pump” marks the one coming off.",
    ),
    "fit_checks_table": marked(
        "help",
        "One row per check, what stands in the way first: what is needed, what is offered, and the gap between. Each "
        "carries the mark of its outcome. Ctrl+E tells why.",
    ),
    "fit_needs_table": marked(
        "help",
        "Parts this verdict rests on, whether the shelf has them, and what they cost. Where the pump does not fit they "
        "stand below the reason: what it would still need besides.",
    ),
    "fit_why_text": marked(
        "help", "The reason for the selected check, its source, what it rests on, and what would have to change."
    ),
    "fit_cautions_button": marked("help", "Shows what to mind before anybody touches the machine."),
    "face_drawing_view": marked(
        "help",
        "The engine in solid lines, the pump in dotted ones and the parts between in strokes, to scale: their faces, "
        "or from the side with the lengths that decide. At 1:1 it is true size on this screen. + and -, or the wheel "
        "with Ctrl, zoom; the arrow keys move what is larger than its place.",
    ),
    "face_fit_button": marked("help", "Shows the whole drawing in its place."),
    "face_true_size_button": marked("help", "Shows the drawing at true size. Check the scale bar with a caliper."),
    "face_bigger_button": marked("help", "Gives the drawing all the room of the pane. Esc takes it back."),
    "face_side_button": marked(
        "help",
        "Shows engine and pump from the side, cut along the shaft: what is left at the bottom of the bore, how much "
        "shaft and key are inside, and how the bolt sits. What is too little is marked. Press again for the faces.",
    ),
    "panes_facts_button": marked("help", "Shows the pump coming off. F6 goes round all panes."),
    "panes_candidates_button": marked("help", "Shows the pumps that could go on. F6 goes round all panes."),
    "panes_fit_button": marked("help", "Shows whether it fits. F6 goes round all panes."),
    "status_works_from_button": marked(
        "help",
        "The catalog was put back from this copy: what came after it does not count. Press when everybody knows.",
    ),
}
