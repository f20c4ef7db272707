"""Every word that the page says of its own, in one table, as whole sentences; what stands in braces is put in.

What the answers say comes from their own rooms. The page asks for this table when it starts, and again for another
language. Translations stand in ``po/`` beside this module, by the English text, and a test holds them against this
table and the form; what a room says in a table of its own is told as there.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final

from sim.telling.language import Messages, read_po, reader, told

WORDS: Final[Mapping[str, str]] = MappingProxyType({
    "undo": "Undo",
    "redo": "Redo",
    "save": "Save",
    "save as": "Save as ...",
    "files": "Files",
    "export": "Write out",
    "photo": "Photo or film",
    "units": "Units",
    "metric": "metric",
    "imperial": "feet and pounds",
    "language": "Language",
    "set-up": "The set-up",
    "the diver": "The diver",
    "answers": "Answers",
    "skip": "To the answers",
    "as usual": "as usual",
    "take away": "Take away",
    "add": "Add one",
    "more": "All other values ({count})",
    "not given": "not given",
    "slide": "{label}, slide",
    "taken": "taken as {value}",
    "comes to": "comes to {value} ({source})",
    "from": "taken as {value} ({source})",
    "estimated": "estimated",
    "let go": "Let go",
    "hold": "Hold",
    "time": "Time after stopping flat",
    "look from": "Look from",
    "side": "Side",
    "front": "Front",
    "above": "Above",
    "corner": "Three-quarter",
    "shown": "Shown",
    "handles": "points to drag",
    "view keys": "The diver in three dimensions. Arrow keys turn the view, plus and minus zoom. "
    "What can be dragged here has a slider or a field in the set-up, too.",
    "dragging": "{name}: {value}",
    "no 3-d": "This browser cannot draw in three dimensions (no WebGL). The answers hold all the same.",
    "balance": "in balance",
    "up": "{size} {unit} head-up",
    "down": "{size} {unit} head-down",
    "head-down": "head-down",
    "head-up": "head-up",
    "now": "{seconds} s: {angle}; {moment}",
    "now on back": "{seconds} s: {angle}, on the back; {moment}",
    "flat by knees": "Knees bent by {degrees} degrees hang flat.",
    "after": "after {seconds} s",
    "held flat": "Held flat: {moment}",
    "at rest": "{attitude}, at rest",
    "start": "At the start you are {heavy} heavy.",
    "start held": "At the start you are {heavy} heavy with the wing empty: {gas} in it hold you, and {spare} of its "
    "lift are to spare.",
    "start sinks": "At the start you are {heavy} heavy with the wing empty, and {gas} would hold you: {spare} more "
    "than the wing lifts.",
    "fit needs a plate": "Fit needs a plate on the back.",
    "level": "level",
    "degrees up": "{size}° head-up",
    "degrees down": "{size}° head-down",
    "flat heading": "Held flat and motionless",
    "stops heading": "Stops moving",
    "lead heading": "Lead",
    "fit heading": "Fit",
    "fit drawing": "The rig on the diver, from behind and from the side; what fits and what does not is told above.",
    "advice heading": "What to change",
    "items heading": "What turns the diver",
    "numbers heading": "In numbers",
    "sure heading": "How sure",
    "pin heading": "Against the pinned set-up",
    "plate heading": "The drawn plate",
    "notes heading": "Notes",
    "pin": "Pin this set-up",
    "unpin": "Take the pin out",
    "pinned same": "As the pinned set-up.",
    "further up": "{size} {unit} further head-up than the pinned one ({moment}).",
    "further down": "{size} {unit} further head-down than the pinned one ({moment}).",
    "pinned value": "{key}: {before}, now {after}",
    "pinned effect": "{table} by itself: {effect}",
    "looking": "Working it out ...",
    "stop": "Stop",
    "stopped": "Stopped.",
    "work it out": "Work it out",
    "how sure": "Nine in ten times between {low} and {high}.",
    "try people": "Count whom this plate fits",
    "all words": "All of it in words",
    "do it": "Do it",
    "best": "Best: {what}, then {moment}",
    "change": "{what}, then {moment}",
    "nothing betters": "Nothing that is at hand betters it.",
    "nothing to judge": "Nothing to judge.",
    "passes": "passes: {subject}",
    "fails": "fails: {subject}: {sentence}",
    "estimated list": "Estimated, not given: {names}.",
    "saved": "Saved: {file}",
    "held back": "The set-up cannot be built as it is; see the marked field. Diver and answers are those of the last "
    "one that could be built.",
    "unsaved draft": "Taken up where it was left: this set-up was not saved. Undo goes back to the file as it is.",
    "changed file": "The file has been changed by another program or another page since it was opened here.",
    "save over": "Save over it",
    "read it": "Read it anew",
    "lost": "The program does not answer. What you set up is kept in this page; it goes on as soon as the "
    "program runs again (hangflat open {file}).",
    "back": "The program answers again. Nothing was lost.",
    "another page": "This file is open in another page, too. Whoever saves last is asked first.",
    "not kept": "This browser keeps nothing for the page; save before you close it.",
    "open": "Open",
    "file name": "Name of the file",
    "recent": "Opened before",
    "in folder": "In the same folder",
    "file link": "A link to this file, for this machine and whoever shares the folder:",
    "drop here": "Drop a plate's drawing (DXF, SVG, STL, 3MF, GLB, STEP), a scenario (TOML) or a photo anywhere "
    "on the page.",
    "choose file": "Choose a file",
    "close": "Close",
    "write": "Write",
    "what to write": "What to write",
    "command": "The command that does the same",
    "copy": "Copy",
    "copied": "Copied.",
    "save first": "Save first: the command reads the saved file.",
    "written": "Written: {name}",
    "unknown drop": "{name} is neither a drawing, a scenario nor a photo.",
    "too large": "{name} has {size} MB; at most {most} MB are read.",
    "dropped": "{name} is the plate now. Look at what was found, and say bends and thickness.",
    "dropped solid": "{name} is the plate now. Look at what was found on it.",
    "asks bends": "A flat drawing is taken as a flat sheet until bends are told below, under the plate.",
    "photo how": "Click the hip, then the shoulder, then two points of the water line (or of a line that hangs).",
    "photo kept": "The picture stays in this page: it is neither sent nor stored. Only the points are used.",
    "photo choose": "Photo or film",
    "hip": "hip",
    "shoulder": "shoulder",
    "line start": "first point of the line",
    "line end": "second point of the line",
    "next point": "Click: {name}. Or move the cross with the arrow keys and press Enter.",
    "points done": "All points are there. Click one anew to begin again.",
    "line kind": "The line is",
    "level line": "level (water line)",
    "plumb line": "plumb (hangs)",
    "angle found": "The trunk lies {angle}; a click's slip of 3 pixels makes {slip} degrees.",
    "doing": "The diver",
    "still": "hangs still",
    "finning": "fins",
    "ask seen": "Ask which cause fits",
    "ask calibration": "Calibrate this diver by it",
    "one frame": "Kept: {first}. Go to the frame in which the diver has turned by about 30 degrees, and click again.",
    "no freeze": "These two frames make no freeze test: the first has to be flat within 10 degrees, and the diver "
    "has to have turned by 25 to 35 degrees by the second.",
    "measured file": "The measurement as a file, and the command that reads it:",
    "keep frame": "Keep this frame",
    "film turn": "From {first} to {last} in {seconds} s.",
    "film time": "Time in the film",
    "reading": "Reading {name} ...",
    "refused picture": "{name} is no picture or film that this browser can show.",
})  # fmt: skip


def page_words() -> dict[str, str]:
    """The table in the reader's language."""
    return {name: worded(text) for name, text in WORDS.items()}


def worded(text: str) -> str:
    """A text of the page, or of what it shows, in the reader's language."""
    found = page_table(reader().language).get(text)
    return found[0] if found else told(text)


@cache
def page_table(language: str) -> Messages:
    """What the page's own table has in a language; English needs none."""
    if language == "en":
        return {}
    return read_po((files("sim.page.po") / f"{language}.po").read_text(encoding="utf-8"))
