"""The read models: tables that say how things stand, nothing but the events read in order.

Whoever changes a table here, or how an act is applied, counts READING up: every book is then read anew when it is opened.
"""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Column, ForeignKey, Index, Integer, Text, UniqueConstraint

from waney.yard.book.columns import MODELS as MODELS
from waney.yard.book.columns import SIZE
from waney.yard.book.columns import ident as _id
from waney.yard.book.columns import number as _seq
from waney.yard.book.columns import of_those_there as _of_those_there
from waney.yard.book.columns import table as _table
from waney.yard.book.columns import to as _to
from waney.yard.book.columns import words as _text
from waney.yard.book.columns import yes_no as _yes_no
from waney.yard.book.truth import WHOLE

READING = 23
head = _table(
    "head",
    Column("stream", Text, primary_key=True),
    Column("version", Integer, CheckConstraint("version >= 1"), nullable=False),
    _yes_no("made"),
)
"""Where each stream stands. made: the thing itself is in the book, not only talked of."""
touched = _table(
    "touched",
    Column("stream", Text, primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("seq", WHOLE, nullable=False, index=True),
)
"""Which event is which number of which stream."""
waiting = _table(
    "waiting", Column("seq", WHOLE, primary_key=True, autoincrement=False), Column("missing", Text, primary_key=True, index=True)
)
task = _table(
    "task",
    Column("id", Text, primary_key=True),
    _text("kind"),
    Column("about", Text, nullable=False, index=True),
    _text("words"),
    _seq(),
    _seq("other_seq", may_be_missing=True),
    Column("opened_by", WHOLE, nullable=False, index=True),
    _seq("settled_by", may_be_missing=True),
    Index("task_open", "settled_by", "opened_by", "kind"),
    Index("task_kind", "kind", "settled_by"),
)
"""seq: the event it is about; other_seq: what that contradicts; opened_by: the event with which it was found out."""
file = _table("file", Column("sha256", Text, CheckConstraint("length(sha256) = 64"), primary_key=True), _seq())

setting = _table("setting", Column("what", Text, primary_key=True), _text("text"), _seq())
person = _table("person", _id(), _text("called"), _yes_no("buys"), _seq("forgotten_seq", may_be_missing=True), _seq())
"""buys: somebody who buys here, and does not work here."""
spot = _table("spot", _id(), _text("called"), _to("within", "spot.id"), _seq())
code = _table(
    "code",
    Column("code", Text, primary_key=True),
    Column("next_number", Integer, CheckConstraint("next_number >= 1"), nullable=False),
    _yes_no("shed"),
)
"""shed: wood without a log is named from it."""
block = _table(
    "block",
    Column("code", Text, ForeignKey("code.code"), primary_key=True),
    Column("first", Integer, primary_key=True, autoincrement=False),
    Column("last", Integer, CheckConstraint("last >= first"), nullable=False),
    _text("device"),
    _seq(),
)
tree = _table(
    "tree",
    _id(),
    _text("species"),
    Column("girth_m", SIZE),
    Column("small_end_m", SIZE),
    Column("length_m", SIZE),
    Column("asked_cents", WHOLE),
    _text("place"),
    _text("words"),
    _to("photo", "file.sha256"),
    _text("reply"),
    _text("reason"),
    _text("money_cents"),
    _text("how"),
    _yes_no("yard_tree", may_be_missing=True),
    Column("way_m", SIZE),
    Column("hours", SIZE),
    Column("girth_off", SIZE),
    Column("small_end_off", SIZE),
    Column("length_off", SIZE),
    Column("girth_at_m", SIZE),
    _text("taps"),
    _seq(),
)
"""reply: empty while nobody answered; _off: half of a size's range over the size, where it was told."""
stem = _table(
    "stem",
    _id(),
    _to("tree", "tree.id"),
    _text("species"),
    Column("length_m", SIZE),
    _text("felled_on"),
    _text("words"),
    _seq(),
)
log = _table(
    "log",
    _id(),
    Column("code", Text, ForeignKey("code.code"), nullable=False, unique=True),
    _text("species"),
    _text("felled_on"),
    _to("spot", "spot.id"),
    _to("stem", "stem.id"),
    Column("from_butt_m", SIZE),
    Column("sheets", Integer, nullable=False),
    Column("mass_kg", SIZE),
    _text("sealed_on"),
    _text("ended"),
    _seq("ended_seq", may_be_missing=True),
    _seq(),
)
"""sealed_on: the day its ends were coated; empty: not known to be."""
sheet = _table(
    "sheet",
    Column("log", Text, ForeignKey("log.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    _text("text"),
    _text("scan"),
    _seq(),
)
plan = _table(
    "plan",
    _id(),
    Column("log", Text, ForeignKey("log.id"), nullable=False, index=True),
    Column("sheet_number", Integer, nullable=False),
    _text("file"),
    _text("pattern"),
    Column("pieces", Integer, nullable=False),
    _text("written_by"),
    _text("money_cents"),
    _seq(),
)
chosen = _table(
    "chosen",
    Column("log", Text, ForeignKey("log.id"), primary_key=True),
    Column("plan", Text, ForeignKey("plan.id"), nullable=False),
    _seq(),
)
day = _table("day", _id(), _text("on_date"), _seq("closed_seq", may_be_missing=True), _to("spot", "spot.id"), _seq())
piece = _table(
    "piece",
    _id(),
    Column("code", Text, ForeignKey("code.code")),
    Column("number", Integer, CheckConstraint("number >= 1")),
    _text("label"),
    _text("species"),
    _to("log", "log.id"),
    _to("day", "day.id"),
    _to("plan", "plan.id"),
    _to("parent", "piece.id"),
    _text("transform"),
    Column("cut", Integer),
    Column("boule_place", Integer),
    _text("how"),
    Column("off_by_m", SIZE),
    Column("height_m", SIZE),
    Column("thickness_m", SIZE),
    Column("length_m", SIZE),
    Column("least_width_m", SIZE),
    Column("most_width_m", SIZE),
    _text("widths_m"),
    Column("sawn_thickness_m", SIZE),
    Column("narrow_face_m", SIZE),
    Column("mean_of_faces_m", SIZE),
    Column("mid_length_m", SIZE),
    Column("area_m2", SIZE),
    _seq("to_size_seq", may_be_missing=True),
    _text("figure"),
    _text("bark"),
    _text("bark_since"),
    _text("ends"),
    _text("ends_since"),
    _text("place"),
    _text("product"),
    _to("spot", "spot.id"),
    Column("mass_kg", SIZE),
    _yes_no("bought"),
    _text("ended"),
    _seq("ended_seq", may_be_missing=True),
    _seq("taken_back_seq", may_be_missing=True),
    _seq(),
    UniqueConstraint("code", "number"),
    Index("piece_sizes", "species", "thickness_m"),
    Index("piece_cut", "plan", "cut"),
    Index("piece_to_size", "to_size_seq"),
    _of_those_there("piece_newest", "seq"),
    _of_those_there("piece_of_log", "log"),
    _of_those_there("piece_by_name", "code", "number"),
    _of_those_there("piece_standing", "spot", "ended"),
)
"""label: the name without dashes; taken back: none. widths_m and place (the rigid map to the log, or []) are JSON.
transform: what was done to the parent; sawn_thickness_m: told with it, whatever was measured since. to_size_seq: a sheet by
which its sizes are still to be worked out. Widths by rule and area_m2 are there once it was measured as it lies. bark, ends:
empty where not known, each with its day."""
stapled = _table(
    "stapled",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("piece", Text, ForeignKey("piece.id"), nullable=False, index=True),
    Column("code", Text, nullable=False),
    Column("number", Integer, nullable=False),
    Column("code_before", Text),
    Column("number_before", Integer),
    _seq("taken_back_seq", may_be_missing=True),
    Index("stapled_before", "code_before", "number_before"),
)
"""A tag that a piece got, and what the piece was called before."""
happening = _table(
    "happening",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("day", Text, ForeignKey("day.id"), nullable=False, index=True),
    _to("log", "log.id"),
    _to("piece", "piece.id"),
    _text("what"),
    Column("roll_deg", SIZE),
    _text("pith_m"),
    Column("along_m", SIZE),
    Column("clock", SIZE),
    _text("words"),
    _text("plan"),
    Column("step", Integer),
    Column("off_by_m", SIZE),
    _seq("taken_back_seq", may_be_missing=True),
)
together = _table("together", _id(), _text("called"), _seq())
together_piece = _table(
    "together_piece",
    Column("piece", Text, ForeignKey("piece.id"), primary_key=True),
    Column("together", Text, ForeignKey("together.id"), nullable=False, index=True),
    Column("place", Integer, nullable=False),
)
"""A piece is in one set at most."""
note = _table(
    "note",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("about", Text, nullable=False, index=True),
    _text("words"),
    _text("folded"),
    _seq("taken_back_seq", may_be_missing=True),
)
"""folded: the words without regard to capitals, to be searched."""
photo = _table(
    "photo",
    _id(),
    Column("file", Text, ForeignKey("file.sha256"), nullable=False),
    Column("about", Text, nullable=False, index=True),
    _text("taken_at"),
    _text("shows"),
    _yes_no("wet", may_be_missing=True),
    _seq("filed_seq"),
    _seq("taken_back_seq", may_be_missing=True),
    _seq(),
)
stack = _table(
    "stack",
    _id(),
    _text("called"),
    _to("spot", "spot.id"),
    Column("sticker_m", SIZE),
    Column("apart_m", SIZE),
    Column("wide_m", SIZE),
    _text("since"),
    _text("shelter"),
    Column("wanted_mc", SIZE),
    _text("chamber"),
    _seq(),
)
"""chamber: what was read in it, as JSON; empty: nothing."""
stack_piece = _table(
    "stack_piece",
    Column("piece", Text, ForeignKey("piece.id"), primary_key=True),
    Column("stack", Text, ForeignKey("stack.id"), nullable=False, index=True),
    Column("layer", Integer),
    Column("place", Integer, nullable=False),
    _yes_no("to_weigh"),
    _seq(),
)
"""A piece lies on one stack at most. layer: from the bottom, None where nobody said; to_weigh: every week."""
weight = _table(
    "weight",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("about", Text, nullable=False, index=True),
    Column("mass_kg", SIZE, nullable=False),
    _text("read_with"),
    _yes_no("ends"),
    Column("mark_kg", SIZE),
    _seq("taken_back_seq", may_be_missing=True),
)
"""ends: one end was read after the other."""
sample = _table(
    "sample",
    Column("piece", Text, ForeignKey("piece.id"), primary_key=True),
    Column("mass_kg", SIZE, nullable=False),
    _text("wet_kg"),
    _text("dry_kg"),
    Column("mark_kg", SIZE),
    _seq(),
)
"""Sample boards. wet_kg, dry_kg: their sections as JSON; none dry: they are in the oven."""
prongs = _table(
    "prongs",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("about", Text, nullable=False, index=True),
    _text("seen"),
    Column("hours", SIZE),
    _seq("taken_back_seq", may_be_missing=True),
)
load = _table(
    "load", _id(), _text("kiln"), _text("whose"), _text("fee"), _text("words"), _seq("out_seq", may_be_missing=True), _seq()
)
"""whose: empty, our own kiln; out_seq: with what the last of it came out, or back."""
load_stack = _table(
    "load_stack",
    Column("load", Text, ForeignKey("load.id"), primary_key=True),
    Column("stack", Text, ForeignKey("stack.id"), primary_key=True),
)
load_piece = _table(
    "load_piece",
    Column("load", Text, ForeignKey("load.id"), primary_key=True),
    Column("piece", Text, ForeignKey("piece.id"), primary_key=True, index=True),
    _text("owner"),
    _text("cracks"),
    _text("stain"),
    _text("metal"),
    Column("shell_mc", SIZE),
    Column("core_mc", SIZE),
    Column("hottest_c", SIZE),
    _yes_no("heat_treat"),
    _seq("back_seq", may_be_missing=True),
    _text("damage"),
    Index("load_piece_away", "piece", "back_seq"),
)
"""shell_mc, core_mc: wanted; back_seq: with what it was taken back from someone else's kiln."""
load_back = _table(
    "load_back",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("load", Text, ForeignKey("load.id"), nullable=False, index=True),
    Column("days", SIZE),
    _text("treated"),
    Column("core_c", SIZE),
    Column("core_min", SIZE),
    Column("fee_cents", WHOLE),
    _text("currency"),
    _text("words"),
    _text("record"),
)
"""What was told when pieces of a load were taken back; None is not told. record: of the core, minutes and °C by pairs."""
moisture = _table(
    "moisture",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("about", Text, nullable=False, index=True),
    Column("mc", SIZE, nullable=False),
    _text("read_by"),
    _text("depth"),
    Column("along_m", SIZE),
    Column("wood_c", SIZE),
    _text("set_to"),
    _yes_no("corrected"),
    _seq("taken_back_seq", may_be_missing=True),
)
"""mc: a fraction of the oven-dry mass."""
