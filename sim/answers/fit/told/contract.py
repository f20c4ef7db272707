"""Every field of ``hangflat.fit/1`` and what it says.

Lengths m and points (3,) in body axes (x to the head, y to the left, z to the back, from midway between the hip
joints, trunk standing), so that a height is an x; angles degrees, forces N, moments N m, plus head-up. A margin is
what is left before something fails, below 0 what is missing. "a, b" of two numbers: the least and the greatest.
``[]`` stands behind a list of objects. Fields may be added, never renamed or removed under this format number.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from sim.telling.made_by import MadeBy
from sim.telling.record import fields_of

ON_BACK: Final = {
    "waist_strap": 'where it runs: "on the waist", between hip bones and ribs, "above the waist" or "on the hips"',
    "waist_strap_m": "height of the waist slots, where the strap leaves the plate",
    "natural_waist_m": "height midway between lowest rib and top of the hip bones",
    "iliac_crest_m": "height of the top of the hip bones",
    "tenth_rib_m": "height of the lowest rib",
    "plate_top_m": "height of the plate's upper edge",
    "plate_bottom_m": "height of its lower edge",
    "c7_m": "height of C7",
    "acromion_m": "height of the shoulders' bones",
    "buttocks_m": "height of the fullest of the buttocks",
    "hand_on_plate_margin_m": "how much farther than the plate's upper edge a hand reaches; null: no way at all",
    "flank_beyond_plate_m": "by how much the trunk is wider than the plate, a side, where least",
    "armpit_beyond_plate_m": "the same between the folds of the armpits; null where it ends below them",
    "cylinders_end_m": "height of the lowest of the cylinders; null without",
    "cylinders_off_buttocks_m": "least distance of cylinders and boots from the clothed buttocks, below 0 they press "
    "in; null where they end above them",
}
STRAPS: Final = {
    "drop_m": "how far the waist slots hang below the natural waist",
    "shoulder_strap_m": "one shoulder strap from its slot over the shoulder, under the arm to the waist slot",
    "waist_strap_m": "waist strap from slot to slot round the front",
    "crotch_strap_m": "crotch strap from its slot to the buckle",
    "cut_one_piece_m": "webbing to cut for shoulders and waist in one piece, with turns and tails",
    "cut_crotch_m": "webbing to cut for the crotch strap, with loops",
    "crosses_shoulder_at_share": "where a strap's middle crosses the shoulder: 0 side of the neck, 1 acromion",
    "inner_edge_off_neck_m": "distance of its inner edge from the side of the neck",
    "outer_edge_off_shoulder_bone_m": "distance of its outer edge from the acromion",
    "outer_edge_off_shoulder_ball_m": "distance of its outer edge from the ball of the joint, below 0 onto it",
    "shoulder_slopes_deg": "by which the shoulder falls outward under it",
    "left_shoulder_path_m": "points of the left shoulder strap's middle line; the right one is its mirror image",
    "waist_path_m": "points of the waist strap's",
    "crotch_path_m": "points of the crotch strap's",
}
ASHORE: Final = {
    "body_mass_kg": "of the bare diver",
    "carried_kg": "rig and lead on the belt, dry, without clothes and fins",
    "carried_share_of_body_mass": "that over the body's mass",
    "rig_kg": "what the harness bears",
    "rig_cm_m": "point: its centre of mass",
    "belt_lead_kg": "lead on the belt",
    "clothes_kg": "suit, hood, mask and what is on the legs",
    "in_the_hands_kg": "fins",
    "cm_upright_m": "point: centre of mass of diver and load, bolt upright, fins left out",
    "cm_behind_bare_m": "how far that lies behind the bare diver's",
    "cm_before_heels_m": "and before the hindmost point of the heels",
    "lean_from_ankles_deg": "forward lean that brings it back, stiff from the ankles",
    "lean_from_hips_deg": "the same by bending at the hips alone",
    "waist_strap": "as in on_back",
    "hips_share": "a, b: share of the rig's weight that the waist strap bears",
    "hips_share_basis": "what is known of that share",
    "shoulder_force_n": "a, b: along the trunk on both shoulders together",
    "strap_pull_n": "a, b: backward pull of both shoulder straps",
    "collarbone_moment_nm": "a, b: of one strap's load about the inner end of the collarbone",
    "l5_s1_moment_nm": "a, b: of trunk and rig at L5/S1, plus bends forward (unlike moments elsewhere)",
    "l5_s1_moment_doubt_nm": "either way, from where the joint lies",
    "l5_s1_moment_bare_nm": "the same moment without gear",
    "l5_s1_compression_n": "a, b: along the trunk at L5/S1",
    "l5_s1_compression_bare_n": "a, b: without gear",
    "lifting_compression_limit_n": "action limit for lifting at work (NIOSH 1981)",
    "neck_moment_nm": "a, b: of the head, held level, at C7/T1, plus bends forward",
    "neck_moment_bare_nm": "without gear",
    "load_shares[].least": "loads that people have been told to carry, as a share of body mass: from",
    "load_shares[].greatest": "to",
    "load_shares[].who": "by whom, with its source",
    "advice": "what helps, and who can judge it",
}
REACH: Final = {
    "[].valve": '"left valve", "right valve", "isolator", or "valve" of a single cylinder',
    "[].hand": 'the hand that does better: "left" or "right"',
    "[].knob_m": "point: the knob's end",
    "[].margin_m": "how much lower the knob could lie and still be reached; below 0 how far the hand stays short; "
    "null: no way at all",
    "[].margin_stiff_m": "the same with shoulders as stiff as 1 in 20 people of that sex has",
    "[].margin_supple_m": "and as supple",
    "[].limited_by": "what ends the reach",
    "[].shoulder_m": "point of the arm at the knob, or as near as it gets",
    "[].elbow_m": "point",
    "[].wrist_m": "point",
    "[].grip_m": "point: what the hand holds",
    "[].arm_raised_deg": "upper arm from hanging, 180 overhead",
    "[].arm_outward_deg": "its plane: 0 straight ahead, 90 to the side",
    "[].outward_turn_deg": "of the upper arm about itself",
    "[].elbow_flexion_deg": "0 straight",
    "[].wrist_bend_deg": "to whichever side",
}
LOOK_AHEAD: Final = {
    "head_lift_deg": "how far the head is lifted from straight",
    "neck_deg": "how far the neck lets it go",
    "meets_gear_at_deg": "lift at which it meets gear; null if never",
    "stopped_by": "what ends the lift",
    "contact_m": "point on the gear that it meets first; null if never",
    "eyes_m": "point between the eyes, head so lifted",
    "sight": "unit vector of the line of sight",
    "looks_deg": "how high the eyes then look, held flat: 0 straight ahead, plus above it",
    "notices_deg": "the upper edge of what they notice at all",
    "bottom_seen_ahead_m": "how far ahead they see the bottom from 1.5 m above it; null from the horizon up",
    "seen_pitch_deg": "pitch at which the trunk is held to look straight ahead",
    "seen_moment_nm": "what turns the diver there",
    "flat_moment_nm": "and held flat",
    "rest_pitch_deg": "the stable pitch nearest flat, roll held; null if there is none before the vertical",
}
_SET_UP: Final = {
    "drop_m": "of the waist slots below the natural waist",
    "shift_m": "of the cylinders from their usual place on the plate, plus headward",
    "margins.<demand>": "of each demand, in m, of look-ahead in degrees; null where nothing is near, or no way",
    "flat_moment_nm": "what turns the diver held flat",
}
SET_UP: Final = {
    **{f"as_worn.{name}": words for name, words in _SET_UP.items()},
    **{f"nearest.{name}": words for name, words in _SET_UP.items()},
    "nearest": "the least change that meets every demand, as_worn itself where that does; null where nothing does",
    "nearest.shoulder_strap_m": "one shoulder strap, as in straps",
    "nearest.still_fails": "subjects of verdicts that fail even so",
    "barred_by": "where nearest is null, the fewest demands that no set-up meets together",
    "tried.drop_m": "a, b: of the drops tried, in steps of 2.5 mm",
    "tried.shift_m": "a, b: of the shifts tried",
    "told": "all of it as a sentence",
}
VERDICTS: Final = {
    "[].subject": "what was looked at",
    "[].passes": "null where there is nothing to pass or fail",
    "[].sentence": "the finding in words",
    "[].margin_m": "what is left before it fails; null where it has none in m",
    "[].limit": "the threshold with its source",
}
_PLACE: Final = {
    "source": '"stated", "found" in the drawing, or "assumed"',
    "from_top_edge_m": "of each, from the plate's highest point: bolts upper and lower, slots left and right",
    "from_middle_line_m": "of each, from halfway between the outermost points, plus to the diver's left",
    "told": "both in words",
}
DRAWN_PLATE: Final = {
    "file": "the drawing's name",
    "solid": "whether it is a finished solid, not a flat outline",
    "flat_without_bends": "whether it is a flat outline for which no bends are stated: taken as a flat sheet",
    "unit": "in which its numbers were taken",
    "unit_as_the_file_states": "whether the file itself states that unit; else whoever uses it",
    "unit_told": "both in words",
    "mass_kg": "of the bare plate",
    "weighed": "whether that was stated; else from volume and density",
    "volume_l": "water that it displaces",
    "weight_in_water_kg": "in the water of the file, plus sinks",
    "material": "what it is taken to be made of",
    "density_kg_m3": "of that",
    "thickness_m": "of the sheet; null of a solid",
    "length_m": "from top to bottom edge",
    "drawn_width_m": "from side to side as drawn, before it is bent",
    "width_m": "from side to side as worn",
    "channel_depth_m": "of the channel along the middle",
    **{f"{name}.{field}": words for name in ("bolts", "shoulder_slots", "waist_slots", "crotch_slot")
       for field, words in _PLACE.items()},
    "bends[].offset_m": "distance of a fold from the middle line, on both sides, on the flat pattern",
    "bends[].angle_deg": "turn of what lies outside it, plus toward the diver",
    "bends[].radius_m": "at the middle of the sheet",
    "bend_lines_m": "bend lines drawn in the file, from the middle line, plus to the diver's left",
    "assumed": "what nobody stated and no file says, in words",
    "doubts": "what may be wrong with it, as sentences; they are among the notes, too",
    "read": "what was skipped or mended in the file, as sentences",
}  # fmt: skip
PLATES: Final = {
    "plate": "its name",
    "drawn_plate": "null for a plate that no drawing shows; in settle and why, too",
    **{f"drawn_plate.{name}": words for name, words in DRAWN_PLATE.items()},
    **{f"on_back.{name}": words for name, words in ON_BACK.items()},
    **{f"straps.{name}": words for name, words in STRAPS.items()},
    **{f"ashore.{name}": words for name, words in ASHORE.items()},
    **{f"reach{name}": words for name, words in REACH.items()},
    **{f"look_ahead.{name}": words for name, words in LOOK_AHEAD.items()},
    "set_up": "null without a harness",
    **{f"set_up.{name}": words for name, words in SET_UP.items()},
    **{f"verdicts{name}": words for name, words in VERDICTS.items()},
    "notes": "plain sentences",
}
SWEEP: Final = {
    "along": "what is swept",
    "along_words": "the same as the words of an axis",
    "plates[].plate": "its name",
    "plates[].told": "where every demand is met, or what rules that out, as a sentence",
    "plates[].bands[].least_m": "every demand is met from here",
    "plates[].bands[].greatest_m": "to here",
    "plates[].barred_by": "where there is no band, the fewest demands that rule each other out",
    "plates[].also_fails[].what": "what else about the plate fails where every demand is met, as in verdicts",
    "plates[].also_fails[].at_all": "whether at all values there, or at some",
    "plates[].limits.ahead_deg": "look-ahead is met from here up, or where no gear stops the head",
    "plates[].limits.reach_m": "reach is met from here up",
    "plates[].limits.strap_above_crest_m": "the waist strap is met from here up to as far below the lowest rib",
    "plates[].values_m": "of what is swept, rising",
    "plates[].points[].moment_nm": "what turns the diver held flat; one point a value",
    "plates[].points[].ahead_deg": "look_ahead.looks_deg",
    "plates[].points[].head_up_deg": "look_ahead.seen_pitch_deg",
    "plates[].points[].reach_m": "margin of the valve hardest to reach; null without cylinders",
    "plates[].points[].hardest_valve": "its name; null without cylinders",
    "plates[].points[].strap_above_crest_m": "waist strap above the top of the hip bones",
    "plates[].points[].rib_above_crest_m": "lowest rib above the top of the hip bones",
    "plates[].points[].margins.<demand>": "in m, of look-ahead in degrees",
    "left_out[].plate": "where no rig could be made: plate,",
    "left_out[].value_m": "value,",
    "left_out[].why": "and why",
    "chart.file": "only where it was asked for",
    "table.file": "only where it was asked for",
}
_GROUP: Final = {
    "people": "how many were held against the plate",
    "pass": "how many pass, banded as in the file",
    "pass_share": "of all; null of nobody",
    "pass_share_band_90": "a, b: what the share of all such people may be",
    "pass_with_bands_set": "how many pass with the bands set for each",
    "pass_at_waist": "how many pass with the strap right at the natural waist",
    "fail.<reason>": "how many fail by each reason, banded as in the file",
}
PEOPLE: Final = {
    "source": "whom they were drawn from",
    "rule": "when a plate passes",
    "left_out": "drawn bodies that could not be built",
    "plates[].plate": "its name",
    **{f"plates[].female.{name}": words for name, words in _GROUP.items()},
    **{f"plates[].male.{name}": words for name, words in _GROUP.items()},
    "map.file": "only where it was asked for",
    "table.file": "only where it was asked for",
}
FIELDS: Final[Mapping[str, str]] = {
    "format": "hangflat.fit/1",
    **{f"made_by.{field.path}": field.meaning for field in fields_of(MadeBy)},
    "title": "of the file",
    **{f"plates[].{name}": words for name, words in PLATES.items()},
    "estimated": "names of inputs that were estimated, not given",
    "caution": "the caution",
    "picture.file": "only where a picture was asked for",
    **{f"sweep.{name}": words for name, words in SWEEP.items()},
    **{f"people.{name}": words for name, words in PEOPLE.items()},
}
