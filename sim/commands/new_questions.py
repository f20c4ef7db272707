"""What ``hangflat new`` asks for: the person first, then what decides how they hang, each with a default."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

from scenarios.catalogue import Section, entries
from scenarios.diver import Diver
from scenarios.loose_gear import Lead
from scenarios.new_scenario import NONE, USUAL_CYLINDERS, USUAL_PLATES, NewScenario, is_dry, new_scenario_text
from scenarios.quantities import Quantity
from scenarios.reading import scenario_of
from scenarios.table import quantity_of
from scenarios.units import parse
from sim.commands.console import UsageError
from sim.commands.interview import JOINED, Interview, one_of, yes_or_no
from sim.commands.watching import waiting
from sim.said import note, word
from sim.telling.language import say, told

SEXES: Final = {"f": "female", "female": word("female"), "m": "male", "male": word("male")}
COUNTS: Final[Mapping[str, Literal["one", "two"]]] = {
    "1": "one", "one": "one", "single": "one", "2": "two", "two": "two", "twin": "two",
}  # fmt: skip
HEIGHTS: Final = {"female": "166 cm", "male": "180 cm"}  # of invented people
BODY_MASS_INDEX: Final = {"female": 21.0, "male": 24.7}  # kg/m^2, of invented people: 58 kg at 166 cm, 80 at 180
LEAD_STEP: Final = 0.5  # kg
SHORT_BACK: Final = 0.4515  # m, C7 to waist, midway between the means of ANSUR II's men and women (478, 425 mm)
WEIGHED: Final = word("weighed by this model for 4 m, 50 bar, an empty wing; to the next half kilogram up")
Read = Callable[[str], str]


@dataclass(frozen=True)
class Questions:
    """What was given as options, by name, and how all else is asked for."""

    given: Mapping[str, str]
    trained: bool
    interview: Interview

    @property
    def whole(self) -> bool:
        """Whether all is asked for: nothing of the person was given."""
        return not self.trained and not {"sex", "height", "mass", "body_fat"} & self.given.keys()

    def answer(self, name: str, question: str, usual: str, read: Read, default: str, *, ask: bool) -> str:
        """An option, an answer, or the default. Raises UsageError for an option that cannot be read."""
        if name not in self.given:
            return self.interview.ask(name, question, usual, read, default) if ask else default
        try:
            return read(self.given[name])
        except ValueError as wrong:
            raise UsageError(f"--{name.replace('_', '-')}: {told(wrong.args[0])}") from None

    def of_catalogue(self, section: Section, question: str, default: str, *more: str, ask: bool = True) -> str:
        """An entry of a section of the catalogue, or one of ``more``."""
        names = [*entries(section), *more]
        asked = f"{question} ({', '.join(n.replace(' ', JOINED) for n in names)})"
        return self.answer(section, asked, default, one_of(names), default, ask=ask and self.whole)


def answers_to(questions: Questions) -> NewScenario:
    """All that the file is to say. Raises UsageError for what cannot be."""
    _check(questions)
    person = _person(questions)
    geared = _geared(questions, person)
    if "lead" in questions.given:
        lead = questions.answer("lead", "", "", _read_lead, "", ask=False)
        return replace(geared, lead="" if lead == NONE else lead)
    weighed = _weighed(geared)
    question = say('Lead on the belt, e.g. "4 kg", or none')
    if weighed == NONE:
        usual = say("none, sinks without: {how}", how=told(WEIGHED))
    else:
        usual = say("{lead}: {how}", lead=weighed, how=told(WEIGHED))
    lead = questions.answer("lead", question, usual, _read_lead, weighed, ask=questions.whole)
    if lead == NONE:
        return geared
    return replace(geared, lead=lead, lead_words=WEIGHED if lead == weighed else "")


def _check(questions: Questions) -> None:
    """Raises UsageError for an option that cannot be used, before anything is asked."""
    readers = {
        "sex": _read_sex, "height": _of_diver("height"), "mass": _of_diver("mass"), "body_fat": _of_diver("body_fat"),
        "suit": one_of([*entries("suit"), NONE]), "undergarment": one_of([*entries("undergarment")]),
        "count": _read_count, "cylinders": one_of([*entries("cylinders")]), "plate": one_of([*entries("plate")]),
        "lead": _read_lead,
    }  # fmt: skip
    read = {name: questions.answer(name, "", "", readers[name], "", ask=False) for name in questions.given}
    if "suit" in read:
        _check_under(questions, read["suit"])


def _check_under(questions: Questions, suit: str) -> None:
    if "undergarment" in questions.given and not is_dry(suit):
        raise UsageError(note("--undergarment goes under a drysuit, and none is worn; leave it out."))


def _person(questions: Questions) -> NewScenario:
    """The diver; who is not told is invented, and said to be."""
    invented = []

    def asked(name: str, question: str, default: str, read: Read) -> str:
        usual = say("{value}, invented", value=told(default))
        found = questions.answer(name, question, usual, read, "", ask=True)
        if not found:
            invented.append(name)
        return found or default

    sex = asked("sex", say("Sex, female or male"), "female", _read_sex)
    question = say('Height without shoes, e.g. "166 cm" or "5 ft 5 in"')
    height = asked("height", question, HEIGHTS[sex], _of_diver("height"))
    usual = f"{BODY_MASS_INDEX[sex] * _metres(height) ** 2:.0f} kg"
    mass = asked("mass", say('Mass without clothes, e.g. "58 kg" or "128 lb"'), usual, _of_diver("mass"))
    question = say('Body fat, e.g. "24 %"; most have 10 to 35 %')
    fat = questions.answer("body_fat", question, say("not known"), _of_diver("body_fat"), "", ask=questions.whole)
    trained = questions.trained
    if questions.whole and not fat:
        question = say("Trains for a sport on most days of the week, yes or no")
        trained = questions.interview.ask("trained", question, say("no"), yes_or_no, False)
    return NewScenario(sex, height, mass, fat, trained, invented=tuple(invented))


def _geared(questions: Questions, person: NewScenario) -> NewScenario:
    """What the person wears, but for lead."""
    suit = questions.of_catalogue("suit", say("Suit"), person.suit, NONE)
    dry = is_dry(suit)
    _check_under(questions, suit)
    under = questions.of_catalogue("undergarment", say("Undergarment"), person.undergarment, ask=dry)
    question = say("Cylinders on the back, one or two")
    count = COUNTS[questions.answer("count", question, say("two"), _read_count, "two", ask=questions.whole)]
    what = say("Which cylinders") if count == "two" else say("Which cylinder")
    cylinders = questions.of_catalogue("cylinders", what, USUAL_CYLINDERS[count])
    geared = replace(person, suit=suit, undergarment=under, count=count, cylinders=cylinders)
    usual = "" if "plate" in questions.given else _usual_plate(geared)
    return replace(geared, plate=questions.of_catalogue("plate", say("Plate"), usual))


def _usual_plate(answers: NewScenario) -> str:
    """The plate that an instructor would hang the rest on to begin with (common practice).

    It goes by the length of the diver's back, and is of steel, unless the diver would then sink without any lead: who
    starts overweighted has nothing to take off or to hang elsewhere.
    """
    steel, light = USUAL_PLATES["short" if _back_length(answers) < SHORT_BACK else "long"]
    return light if _weighed(replace(answers, plate=steel)) == NONE else steel


def _back_length(answers: NewScenario) -> float:
    """From C7 to the waist along the back [m], as the survey's people of that size have it."""
    from sim.person.measures import estimated_measures

    diver = scenario_of(tomllib.loads(new_scenario_text(answers)), "new scenario").diver
    return estimated_measures(diver.sex, diver.height, diver.mass).values()["waistbacklength"]


def _weighed(answers: NewScenario) -> str:
    """The lead that makes the diver neutral, to the next half kilogram up; "none" for one who sinks without."""
    from sim.answers.weigh.weighing import weighed_lead
    from sim.assembly.unbuildable import UnbuildableError

    with waiting(say("Weighing the diver ...")):
        try:
            found = weighed_lead(scenario_of(tomllib.loads(new_scenario_text(answers)), "new scenario"))
        except UnbuildableError as wrong:
            raise UsageError(f"{wrong.key}: {wrong}") from None
    steps = math.ceil(found / LEAD_STEP - 1e-9)
    return f"{steps * LEAD_STEP:g} kg" if steps else NONE


def _read_sex(text: str) -> str:
    wanted = text.strip().lower()
    for sex in ("female", "male"):
        if wanted == told(sex):
            return sex
    try:
        return SEXES[wanted]
    except KeyError:
        message = note('"{text}" is not known here; write female or male (the survey has these two)', text=text)
        raise ValueError(message) from None


def _read_count(text: str) -> str:
    try:
        return COUNTS[text.strip().lower()]
    except KeyError:
        raise ValueError(note('"{text}" is not known here; write one or two', text=text)) from None


def _read_lead(text: str) -> str:
    if text.strip().lower() in (NONE, "no", "0", "0 kg", say("none", sense="lead")):
        return NONE
    return _read_by(quantity_of(Lead.model_fields["mass"]), text)


def _of_diver(name: str) -> Read:
    """Lets pass what the scenario's own key lets pass."""
    return lambda text: _read_by(quantity_of(Diver.model_fields[name]), text)


def _read_by(quantity: Quantity | None, text: str) -> str:
    if quantity is not None:
        quantity.read(text)
    return text.strip()


def _metres(height: str) -> float:
    return parse("length", height)
