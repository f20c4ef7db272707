"""A first scenario file for a person: complete, commented, ready to be edited by someone who knows no programming."""

from __future__ import annotations

from scenarios.toml_text import quoted

_TEXT = """\
# Scenario for hangflat. Lines that begin with # are comments: take the # away to use one.
# Every quantity is text in quotes with its unit: "166 cm", "5 ft 5 in", "12 l", "200 bar", "3000 psi", "95 deg".
# "hangflat catalogue" lists the names of gear; "hangflat settle FILE" says how the diver hangs in the water.
format = "scenario/1"
{title}
[diver]
sex = {sex}
{height}# without shoes
{mass}# without clothes
# age = "34 years"                # the most useful thing to add, with a waist girth
{body_fat}# most have 10 to 35 %: by calipers, a scan or a weighing under water; or instead
{trained}# trains for a sport on most days: leaner, so denser, than others of like size
# lung_gas = "3.2 l"              # gas in the chest, if known; else estimated
breathing_level = "mid-breath"    # or "relaxed", "breathed in", "full", "empty"

# [diver.measures]                # anything measured; what is missing is estimated
# waist_girth = "76 cm"
# chest_girth = "90 cm"
# crotch_height = "78 cm"
# foot_length = "25 cm"

[water]
kind = "sea"                      # or "fresh", "brackish"
temperature = "10 °C"
depth = "10 m"

[suit]
catalogue = "trilaminate"         # or "crushed neoprene", "wetsuit 3 mm", "wetsuit 5 mm", "wetsuit 7 mm"
undergarment = "medium"           # drysuits only: "thin", "medium", "heavy"
boots = "attached rubber"         # or "rock boots", "heavy overboots", "neoprene"
gaiters = true                    # drysuits only: straps that keep gas out of the lower legs
gas = "vented"                    # drysuits only: what the last venting left; or "comfortable", or like "10 l"

[plate]
catalogue = "standard steel"      # or "small steel", "standard aluminium", "small carbon" ...
# mass = "2.9 kg"                 # weigh yours: it counts more than anything else here

[harness]
catalogue = "one-piece webbing"

[cylinders]
catalogue = "twin steel 8.5 l 232 bar"    # or "steel 12 l 232 bar", "aluminium 11.1 l 207 bar" ...
gas = "air"                       # or "nitrox 32", "trimix 18/45", "oxygen"
pressure = "200 bar"              # as the gauge shows now
shift = "-2.5 cm"                 # bands as high as they go: the valves are heavy

[wing]
catalogue = "twin"                # or "single", "large twin"
gas = "neutral"                   # or a volume, like "4 l"

[fins]
catalogue = "rubber"              # or "plastic"

[pose]
name = "flat, knees bent"         # or "flat, legs straight", "arms ahead", "arms at sides", "upright"
# joints = {{ "knee flexion" = "100 deg" }}

[[lead]]                          # as many of these as there are places
mass = "{lead} kg"
place = "belt"                    # or "plate channel", "tail", "between cylinders", "upper band", "ankles"

[[gear]]
catalogue = "mask"

# [[gear]]
# catalogue = "stage aluminium 11.1 l"
# side = "left"

# [[gear]]                        # anything else, by its mass and the water it displaces
# name = "camera"
# mass = "2.1 kg"
# volume = "1.9 l"
# place = "chest"                 # or a point in metres from the hips: at = [0.3, 0.0, -0.2] (head, left, back)
"""


def new_scenario_text(
    sex: str, height: str, mass: str, *, body_fat: str = "", trained: bool = False, title: str = ""
) -> str:
    """Text of a scenario file for a person, with common gear and every other key explained in comments.

    sex : "female" or "male";  height, mass, body_fat : with unit, kept as written ("5 ft 5 in"), fat if it is known
    trained : for a sport, on most days of the week
    Raises ScenarioError when these cannot be read.
    """
    from scenarios.reading import scenario_of

    stated = {"height": height, "mass": mass} | ({"body_fat": body_fat} if body_fat else {})
    checked = scenario_of({"diver": {"sex": sex, **stated}}, "new scenario")
    # A trilaminate suit and 2 x 8.5 l want about a twelfth of the diver's mass less 2 kg of lead (assumed; the
    # wing takes up the rest).
    lead = max(1, round(checked.diver.mass / 12.0 - 2.0))
    heading = f"title = {quoted(title)}\n" if title else ""
    lines = {k: f"{k} = {quoted(v)}" for k, v in stated.items()}
    lines |= {} if body_fat else {"body_fat": '# body_fat = "24 +- 3 %"'}
    lines["trained"] = "trained = true" if trained else "# trained = true"
    return _TEXT.format(title=heading, lead=lead, sex=quoted(sex), **{k: f"{v:<34}" for k, v in lines.items()})
