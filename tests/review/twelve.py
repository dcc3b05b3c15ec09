"""The plan of twelve steps that the tests of schedule and calendar file share, with its dates by hand."""

from __future__ import annotations

from datetime import date

from review.working import finding

from advisor.review.days.timetable import Options

ROOMS = {"kitchen": {"kind": "kitchen"}, "workshop": {"kind": "workshop"}}
PARTS = {
    "doors": {"kind": "cabinet doors", "room": "workshop"},
    "shelves": {"kind": "shelf", "room": "workshop"},
    "run": {"kind": "base cabinets", "room": "kitchen"},
    "top": {"kind": "worktop", "room": "kitchen", "on": "run"},
    "basin": {"kind": "sink", "room": "kitchen", "in": "top"},
    "trap": {"kind": "trap", "room": "kitchen", "in": "basin"},
    "splash": {"kind": "backsplash", "room": "kitchen"},
}
STEPS = [
    {"id": "prime-doors", "do": "prime", "to": "doors", "for": "2 h", "wait": "24 h"},
    {"id": "first-coat", "do": "paint", "to": "doors", "for": "2 h", "wait": "24 h"},
    {"id": "second-coat", "do": "paint", "to": "doors", "for": "2 h", "wait": "48 h"},
    {"id": "hang-doors", "do": "hang", "to": "doors", "in": "kitchen", "for": "2 h"},
    {"id": "glue-shelves", "do": "glue", "to": "shelves", "for": "1 h", "wait": "24 h"},
    {"id": "level-run", "do": "level", "to": "run", "for": "4 h"},
    {"id": "fit-top", "do": "install", "to": "top", "for": "3 h"},
    {"id": "bed-sink", "do": "caulk", "to": "basin", "for": "1 h", "wait": "24 h"},
    {"id": "tile-splash", "do": "tile", "to": "splash", "for": "6 h"},
    {"id": "level-shelves", "do": "adjust", "to": "shelves", "for": "2 h"},
    {"id": "connect-drain", "do": "connect", "to": "trap", "for": "2 h"},
    {"id": "grout-splash", "do": "grout", "to": "splash", "for": "3 h", "wait": "24 h"},
]
# Written down before the program ran. One person, 8:00 to 16:00, Monday to Friday, from Monday 4 May 2026.
# The doors cannot be quicker: 2 h, 24 h, 2 h, 24 h, 2 h, 48 h, 2 h. All the rest fits into their waits:
#   Mon 10 glue (1 h), Mon 11 level (4 h), Mon 15 top (1 h, and 2 h on Tuesday up to the first coat at 10);
#   Tue 12 sink (1 h), Tue 13 tile (3 h, and 3 h on Wednesday); Wed 11 one hour is too short for any job of two,
#   so that the shelves follow the second coat at 14; the sealant is 24 h old on Wed 13, but hands are free on
#   Thu 8; the tile is 24 h old on Thu 11: grout; the coat is 48 h old on Fri 14: hang the doors.
BY_HAND = {
    "prime-doors": ("2026-05-04 08:00", "2026-05-04 10:00"),
    "glue-shelves": ("2026-05-04 10:00", "2026-05-04 11:00"),
    "level-run": ("2026-05-04 11:00", "2026-05-04 15:00"),
    "fit-top": ("2026-05-04 15:00", "2026-05-05 10:00"),
    "first-coat": ("2026-05-05 10:00", "2026-05-05 12:00"),
    "bed-sink": ("2026-05-05 12:00", "2026-05-05 13:00"),
    "tile-splash": ("2026-05-05 13:00", "2026-05-06 11:00"),
    "second-coat": ("2026-05-06 12:00", "2026-05-06 14:00"),
    "level-shelves": ("2026-05-06 14:00", "2026-05-06 16:00"),
    "connect-drain": ("2026-05-07 08:00", "2026-05-07 10:00"),
    "grout-splash": ("2026-05-07 11:00", "2026-05-07 14:00"),
    "hang-doors": ("2026-05-08 14:00", "2026-05-08 16:00"),
}
WAIT_FOR_GROUT = finding("wait", "tile-splash", "grout-splash", 24, rule="thin-set-before-grout")
MAY = Options(start=date(2026, 5, 4))
