"""Messy text files: separators, encodings, decimal marks, titles, quotes, and what stands in cells."""

from __future__ import annotations

from typing import Final

from tests.exchange.supplier_files.messy import Messy, text

HEAD: Final = "No.;Bore mm;psi\n"
ROW: Final = "A-1;19,05;2700\n"
GOOD: Final = "good A-1 bore=19.05 p=186.158"

SEPARATED: Final[tuple[Messy, ...]] = (
    text("semicolons", HEAD + ROW, GOOD),
    text("commas", "No.,Bore mm,psi\nA-1,19.05,2700\n", GOOD),
    text("tabs", "No.\tBore mm\tpsi\nA-1\t19.05\t2700\n", GOOD),
    text("bars", "No.|Bore mm|psi\nA-1|19.05|2700\n", GOOD),
    text("commas in quotes", 'No.,Bore mm,psi\nA-1,"19,05",2700\nA-2,"25,4",3000\n', GOOD, "good A-2 bore=25.4 p=206.843"),
    text("semicolons, many decimal commas", "No.;Bore mm;l/min\nA-1;19,05;10,5\nA-2;25,4;11,5\n", "good A-1 bore=19.05 flow=10.5", "good A-2 bore=25.4 flow=11.5"),
    text("decimal commas and gaps", "No.;Maker;Bore mm;psi;l/min;Replaces\nA-1;X;55;2.700;10,5;\nA-2;X;19,05;;;\n", "good A-1 bore=55 p=186.158 flow=10.5", "good A-2 bore=19.05"),
    text("separator said", "sep=|\nNo.|Bore mm|psi\nA-1|19.05|2700\n", GOOD),
    text("spaces around", " No. ; Bore mm ; psi \n A-1 ; 19,05 ; 2700 \n", GOOD),
    text("ragged rows", "No.;Bore mm;psi\nA-1;19,05\nA-2;25,4;3000;;;\n", "good A-1 bore=19.05", "good A-2 bore=25.4 p=206.843"),
    text("line ends of another age", (HEAD + ROW).replace("\n", "\r"), GOOD),
    text("line ends of two", (HEAD + ROW).replace("\n", "\r\n"), GOOD),
    text("empty rows between", HEAD + "\n;;\n\n" + ROW + "\n;;;\n", GOOD),
    text("no line end at the end", (HEAD + ROW).rstrip(), GOOD),
    text("a line inside quotes", 'No.;Name;Bore mm\nA-1;"Pump\nwith legs";19,05\n', "good A-1 bore=19.05"),
    text("an inch mark that begins a cell", 'No.;Note;Bore in\nA-1;"3/4;.750\n' + "".join(f"A-{n};x;.750\n" for n in range(2, 20)), "good A-1 bore=19.05", *(f"good A-{n} bore=19.05" for n in range(2, 20))),
    text("quotes doubled", 'No.;Bore;psi\nA-1;"3/4""";2700\n', GOOD),
)  # fmt: skip

ENCODED: Final[tuple[Messy, ...]] = (
    text("utf-8 with its mark", HEAD + ROW, GOOD, bom=b"\xef\xbb\xbf"),
    text("utf-16, little end first", HEAD + ROW, GOOD, encoding="utf-16-le", bom=b"\xff\xfe"),
    text("utf-16, big end first", HEAD + ROW, GOOD, encoding="utf-16-be", bom=b"\xfe\xff"),
    text("utf-16 without its mark", HEAD + ROW, GOOD, encoding="utf-16-le"),
    text("western, one byte each", "Nr.;Wellen Ø mm;Größe;psi\nA-1;1;groß;2700\n", "good A-1 p=186.158", encoding="cp1252"),
    text("western heading", "Nr.;Bore Ø mm;Fördermenge l/min\nA-1;19,05;10,5\n", "good A-1 bore=19.05 flow=10.5", encoding="cp1252"),
    text("old western heading", "Nr.;Fördermenge l/min;Stück für Größe\nA-1;10,5;1\n", "good A-1 flow=10.5", encoding="cp850"),
    text("fractions of one byte", "No.;Bore in;psi\nA-1;¾;2700\nA-2;1½;2700\n", "good A-1 bore=19.05 p=186.158", "good A-2 bore=38.1 p=186.158", encoding="cp1252"),
    text("curly inch marks", "No.;Bore;psi\nA-1;3/4”;2700\n", GOOD, encoding="cp1252"),
    text("Cyrillic names", "No.;Name;Bore mm\nA-1;Насос высокого давления;19,05\n", "good A-1 bore=19.05", encoding="cp1251"),
)  # fmt: skip

TITLED: Final[tuple[Messy, ...]] = (
    text("three titles", "Invented Pumps;;\nList 2026;;\n;;\n" + HEAD + ROW, GOOD),
    text("a title with figures", "Price list 12/2026, page 1;;\n" + HEAD + ROW, GOOD),
    text("headings in two rows", "Part;Shaft;Max.\nnumber;dia mm;psi\nA-1;19,05;2700\n", GOOD),
    text("units in a row of their own", "No.;Bore;Pressure\n;mm;psi\nA-1;19,05;2700\n", GOOD),
    text("headings again on the next page", HEAD + ROW + HEAD + "A-2;25,4;3000\n", GOOD, "good A-2 bore=25.4 p=206.843"),
    text("a total at the end", HEAD + ROW + ";;\nEnd of the list;;\n", GOOD, "needs a look End of the list"),
    text("names of our own fields", "number,bore_diameter_mm,rating_pressure_bar\nA-1,19.05,186\n", "good A-1 bore=19.05 p=186"),
    text("titles of our own fields", "Number,Bore diameter (mm),Rated pressure (bar)\nA-1,19.05,186\n", "good A-1 bore=19.05 p=186"),
    text("only units", "No.,GPM,max psi,rpm\nA-1,2.5,2700,3400\n", "good A-1 flow=9.464 p=186.158 rpm=3400"),
    text("units in brackets", "Item,Flow [l/min],Pressure (bar),Temp. max (°C)\nA-1,10.5,186,60\n", "good A-1 flow=10.5 p=186 hot=60"),
    text("other words", "Artikel-Nr.;Druck bar;Fördermenge l/min;Drehzahl 1/min\nA-1;186;10,5;2800\n", "good A-1 p=186 flow=10.5 rpm=2800"),
    text("columns that mean nothing here", "No.;Price;Stock;Weight kg;Bore mm\nA-1;99;4;5,5;19,05\n", "good A-1 bore=19.05"),
    text("two columns of one field", "No.;Pressure bar;Max. pressure bar;Bore mm\nA-1;150;186;19,05\n", "good A-1 bore=19.05 p=186"),
    text("highest speed apart", "No.,rpm,max rpm,Bore mm\nA-1,2800,3400,19.05\n", "good A-1 bore=19.05 rpm=2800 max_rpm=3400"),
)  # fmt: skip

DECIMAL: Final[tuple[Messy, ...]] = (
    text("thousands with points", "No.;Bore mm;psi\nA-1;19,05;2.700\n", GOOD),
    text("thousands with commas", 'No.,Bore mm,psi\nA-1,19.05,"2,700"\n', GOOD),
    text("a comma that can mean two things", 'No.,psi\nA-1,"2,700"\n', "needs a look A-1"),
    text("three decimals by vote", "No.;Bore in;psi\nA-1;1,125;2700\nA-2;0,75;2700\n", "good A-1 bore=28.575 p=186.158", "good A-2 bore=19.05 p=186.158"),
    text("both marks in one column", "No.;Bore in;psi\nA-1;1,125;2700\nA-2;0,75;2700\nA-3;0.75;2700\n", "needs a look A-1 p=186.158", "good A-2 bore=19.05 p=186.158", "good A-3 bore=19.05 p=186.158"),
    text("thousands and decimals", "No.;Bore mm;Flow l/h\nA-1;19,05;1.234,5\n", "good A-1 bore=19.05 flow=20.575"),
    text("decimal commas of other columns", "No.;Bore mm;rpm\nA-1;19,05;3.400\n", "good A-1 bore=19.05 rpm=3400"),
)  # fmt: skip

CELLS: Final[tuple[Messy, ...]] = (
    text("not known in many ways", "No.;Bore mm;psi\n" + "".join(f"A-{n};{mark};2700\n" for n, mark in enumerate(("N/A", "-", "n.a.", "tbd", "?", "–", "unknown"))), *(f"good A-{n} p=186.158" for n in range(7))),
    text("nought is a value and no gap", "No.;Bore mm;psi\nA-1;0;2700\n", "refused A-1 p=186.158"),
    text("inch mark and comma", 'No.;Bore mm;psi\nA-1;19,05";2700\n', "needs a look A-1 p=186.158"),
    text("inch mark and point", 'No.;Bore mm;psi\nA-1;.750";2700\n', GOOD),
    text("inches in a column of mm", "No.;Bore mm;psi\nA-1;3/4;2700\n", GOOD),
    text("mm in a column of inches", "No.,Bore in,psi\nA-1,19.05,2700\n", "needs a look A-1 p=186.158"),
    text("no unit anywhere", "No.;Bore;Pressure\nA-1;19,05;186\n", "needs a look A-1"),
    text("units in the cells", "No.;Bore;Pressure\nA-1;19,05 mm;2700psi\n", GOOD),
    text("two units in a heading", "No.;Bore mm;Pressure psi/bar\nA-1;19,05;2700\n", "needs a look A-1 bore=19.05"),
    text("two units in a cell", "No.;Bore mm;Pressure\nA-1;19,05;186 bar / 2700 psi\n", "good A-1 bore=19.05 p=186"),
    text("two units that disagree", "No.;Bore mm;Pressure\nA-1;19,05;200 bar (2700 psi)\n", "needs a look A-1 bore=19.05"),
    text("a slip of a nought", "No.;Bore mm;psi\nA-1;19,05;27000\n", "refused A-1 bore=19.05"),
    text("a range in a cell", "No.;Bore mm;psi\nA-1;19,05;2500-2700\n", "refused A-1 bore=19.05"),
    text("words in a cell of figures", "No.;Bore mm;psi\nA-1;tapered;2700\n", "refused A-1 p=186.158"),
    text("faults of a spreadsheet", "No.;Bore mm;psi\nA-1;#REF!;2700\nA-2;#N/A;2700\n", "refused A-1 p=186.158", "good A-2 p=186.158"),
    text("a date for a fraction", "No.;Bore in;psi\nA-1;2026-03-04;2700\n", "needs a look A-1 p=186.158"),
    text("threads", "No.;Inlet;Outlet;psi\nA-1;3/4-11.5 NH;3/8-18 NPT;2700\nA-2;garden hose;M22x1.5;2700\n", "good A-1 in=3/4-11.5 NH out=3/8-18 NPT p=186.158", "refused A-2 out=M22x1.5 p=186.158"),
    text("yes and no", "No.;Unloader;psi\nA-1;yes;2700\nA-2;No;2700\nA-3;maybe;2700\n", "good A-1 unloader=yes p=186.158", "good A-2 unloader=no p=186.158", "refused A-3 p=186.158"),
    text("Fahrenheit", "No.,Max. inlet temp. °F,psi\nA-1,140,2700\n", "good A-1 hot=60 p=186.158"),
    text("a bolt circle", "No.;Bolt circle mm;No. of holes;psi\nA-1;100;4;2700\nA-2;100;;2700\nA-3;100;90;2700\n", "good A-1 holes=50 0; 0 50; -50 0; 0 -50 p=186.158", "needs a look A-2 p=186.158", "refused A-3 p=186.158"),
)  # fmt: skip

NUMBERS: Final[tuple[Messy, ...]] = (
    text("a row without a number", "No.;Bore mm;psi\n;19,05;2700\nA-1;19,05;2700\n", "refused  bore=19.05 p=186.158", GOOD),
    text("a shortened number", "No.;Bore mm;psi\n1,23E+05;19,05;2700\n", "needs a look 1,23E+05 bore=19.05 p=186.158"),
    text("a number too long", "No.;psi\n" + "A" * 41 + ";2700\n", "refused " + "A" * 41 + " p=186.158"),
    text("noughts before a number", "No.;psi\n00123;2700\n", "good 00123 p=186.158"),
    text("the same row twice", HEAD + ROW + ROW, GOOD),
    text("the same number with other values", HEAD + ROW + "a 1;25,4;2700\n", GOOD, "needs a look a 1 bore=25.4 p=186.158"),
    text("one number, two makers", "No.;Maker;Bore mm\nA-1;One;19,05\nA-1;Two;25,4\n", "good A-1 bore=19.05", "good A-1 bore=25.4"),
    text("an invisible character", "No.;psi\nA\u200b-1;2700\n", "refused A\u200b-1 p=186.158"),
    text("only a number", "No.;Maker;psi\nA-1;;\n", "needs a look A-1"),
    text("a formula for a number", "No.;psi\n=1+1;2700\n", "good =1+1 p=186.158"),
    text("replaces", "No.;Replaces P/N;psi\nA-1;B-1, B-2;2700\n", "good A-1 p=186.158 replaces=B-1+B-2"),
    text("engines", "Engine,Shaft dia in,Power (hp),rpm\nE-1,1,13,3600\n", "good E-1 shaft=25.4 kw=9.694 rpm=3600", kind="petrol engines"),
)  # fmt: skip

TEXTS: Final = (*SEPARATED, *ENCODED, *TITLED, *DECIMAL, *CELLS, *NUMBERS)
