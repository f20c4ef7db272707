"""Dressing stage by stage: things add up in their order, and what later ones need is asked for by its type."""

from dataclasses import dataclass, replace

import numpy as np
import pytest

from meshes.solid import point_mass
from scenarios.demos import demo_path
from scenarios.reading import read_scenario
from sim.assembly.clothing import Clothing
from sim.assembly.posed_diver import posed_diver
from sim.assembly.stages import STAGES, dressed
from sim.assembly.surroundings import surroundings
from sim.assembly.unbuildable import UnbuildableError, blaming
from sim.assembly.worn_plate import SeatedPlate, put_on_plate
from sim.assembly.worn_thing import DiverSoFar, WornThing, sentence
from sim.fill_laws import logistic_law
from sim.rig import Part, WingPocket


@dataclass(frozen=True)
class Counterlung:
    """Something a new thing offers, which no stage of today knows."""

    room: float


def put_on_counterlung(on):
    """A new worn thing, as one would be added: a part, a note, something estimated, gas, an offer."""
    at = on.needed(SeatedPlate).seat.origin
    law = logistic_law(np.zeros(1), np.array([4e-3]), 200.0)
    yield WornThing(
        "gear.7",
        (Part("counterlung", "other", point_mass(1.5, at)),),
        WingPocket(at[None], law, 2e-3),
        ("Breathes warm.",),
        ("size of the counterlung",),
        (Counterlung(4e-3),),
    )


@pytest.fixture(scope="module")
def bare():
    told = read_scenario(demo_path("single-wetsuit"), ["wing=none"])
    return DiverSoFar(told, surroundings(told.water), posed_diver(told))


@pytest.fixture(scope="module")
def whole(bare):
    return dressed(bare)


def test_a_new_thing_is_one_line_more_in_the_list_of_stages(bare, whole):
    more = dressed(bare, (*STAGES, put_on_counterlung))
    assert [p.name for p in more.rig.parts] == [*(p.name for p in whole.rig.parts), "counterlung"]
    assert more.rig.parts[-1].told_by == "gear.7"
    assert more.rig.whole.mass - whole.rig.whole.mass == pytest.approx(1.5, rel=1e-12)
    assert whole.rig.wing is None
    assert more.rig.wing.gas == 2e-3
    assert more.notes == (*whole.notes, "Breathes warm.")
    assert more.estimated == (*whole.estimated, "size of the counterlung")
    assert more.offered(Counterlung).room == 4e-3


def test_a_stage_that_comes_too_early_says_so(bare):
    with pytest.raises(LookupError, match="offers a Clothing: the order of the stages"):
        dressed(bare, (put_on_plate,))


def test_what_nothing_offers_is_none_and_the_first_to_offer_is_taken(bare):
    two = bare.wearing(WornThing("a", offers=(Clothing(0.01, 0.0),))).wearing(
        WornThing("b", offers=(Clothing(0.02, 0.0),))
    )
    assert two.offered(Clothing).thickness == 0.01
    assert two.offered(SeatedPlate) is None


def test_each_part_knows_the_table_that_tells_of_it(dressed):
    rig = dressed("small-woman-steel", 'lead=[{ mass="1 kg", place="belt" }, { mass="1 kg", place="tail" }]').rig
    told = {p.told_by for p in rig.parts}
    assert told == {
        "diver", "suit", "plate", "harness", "cylinders", "cylinders.regulators", "fins", "wing", "lead.0", "lead.1",
        "gear.0", "gear.1", "gear.2",
    }  # fmt: skip
    assert [p.name for p in rig.parts if p.told_by == "lead.1"] == ["lead, tail"]


def test_what_cannot_be_is_blamed_once_on_the_innermost_key():
    with pytest.raises(UnbuildableError, match="too wide") as caught, blaming("gear"), blaming("gear.3"):
        raise ValueError("too wide")
    assert caught.value.key == "gear.3"


@pytest.mark.parametrize(
    ("text", "told"), [("lead there", "Lead there."), ("Which end?", "Which end?"), ("so.", "So."), ("", ".")]
)
def test_a_note_is_a_sentence(text, told):
    assert sentence(text) == told


def test_a_diver_is_never_changed_by_dressing(bare, whole):
    assert bare.worn == ()
    assert replace(whole, worn=()).notes == ()
