"""What a procedure is made for: a circuit, what is known of it, and whose it is.

A car whose file is missing or half-empty gets a circuit that stands for any: full pack voltage at
every orange part, a bleed that failed, contactors that welded, a second source.
"""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess.assessment import Assessment
from swapwright.assess.circuit_query import is_class_b
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import Circuit, Element
from swapwright.procedures.facts import Facts, facts_of, reason
from swapwright.procedures.step import EnergySource, Kind, Procedure, Remaining, Step
from swapwright.procedures.wording import sentence, told
from swapwright.standards.procedures import WORST_VOLTAGE

ANY_LINK = "inverter"
"""The part the section behind the gap of any car is named after."""

HIGHEST = "pack.max_working_voltage"
LAW_FIRST = (
    "Local law, the parts maker's instructions and licensed practice come before this procedure."
)
GENERIC = (
    "The file says too little: take full pack voltage at every orange part for granted, a bleed "
    "that failed, contactors that welded, and a second source."
)
NOT_COVERED = (
    "points that are not listed; what the file does not show",
    "mains parts on the far side of a charger, and a charging station",
    "fire, gas and heat from a hurt cell; hydraulics, springs and hot parts",
    "plasma in a closed box: the arc figures speak of open air and open boxes",
)
CLASS_A = (
    "Class A by its voltage, and still a hazard: burns, arcs, fuses that must break its current, "
    "tools and jewellery across its terminals."
)


@dataclass(frozen=True)
class Subject:
    """A circuit and its facts, the car's name, revision, own mark and region.

    ``lacking`` says what the file lacks for a procedure of its own; where it lacks anything the
    circuit stands for any car, or the voltage for any.
    """

    circuit: Circuit
    facts: Facts
    name: str = ""
    revision: str = ""
    mark: str = ""
    region: str = ""
    lacking: tuple[str, ...] = ()

    @property
    def is_generic(self) -> bool:
        """Tell whether it stands for a car of which the file says too little."""
        return bool(self.lacking)

    def procedure(
        self,
        kind: Kind,
        steps: tuple[Step, ...],
        *,
        sources: tuple[EnergySource, ...] = (),
        remaining: tuple[Remaining, ...] = (),
        no_absence: tuple[str, ...] = (),
        cautions: tuple[str, ...] = (),
    ) -> Procedure:
        """Return a procedure of some steps for this car."""
        is_b = is_class_b(self.facts.highest)
        return Procedure(
            kind=kind,
            car=self.name,
            revision=self.revision,
            mark=self.mark,
            region=self.region,
            is_generic=self.is_generic,
            highest=None if self.is_generic else self.facts.highest,
            is_class_b=is_b,
            sources=sources,
            steps=steps,
            remaining=remaining,
            no_absence=no_absence,
            cautions=(
                *cautions,
                *((GENERIC, *map(sentence, self.lacking)) if self.is_generic else ()),
                *(() if is_b else (CLASS_A,)),
                LAW_FIRST,
            ),
            not_covered=NOT_COVERED,
            figures=self.facts.figures,
        )


def subject_of(car: Car, assessment: Assessment) -> Subject:
    """Return what a procedure of a car is made for."""
    circuit = circuit_of(car)
    facts = facts_of(car, assessment, circuit)
    lacking = []
    if not circuit.elements:
        lacking.append("the file says nothing of a high-voltage circuit")
    elif not circuit.of_kind(model.PACK):
        lacking.append("no pack stands in the circuit of the file")
    if facts is None:
        lacking.append(f"the highest voltage is not known: {reason(assessment, HIGHEST)}")
    if lacking:
        circuit, facts = _any_circuit(), _worst()
    return Subject(
        circuit,
        facts or _worst(),
        car.texts.get("car.name", "") or assessment.name,
        assessment.revision,
        car.texts.get("car.mark", ""),
        assessment.region,
        tuple(lacking),
    )


def unknown_subject(name: str) -> Subject:
    """Return what a procedure of a car without a file is made for."""
    return Subject(_any_circuit(), _worst(), name, lacking=("there is no file of this car",))


def _worst() -> Facts:
    top = told(WORST_VOLTAGE.si, "voltage")
    return Facts(
        WORST_VOLTAGE.si,
        no_waits={ANY_LINK: f"nothing is known of what empties it; up to {top} is assumed"},
    )


def _any_circuit() -> Circuit:
    """Return a circuit that stands for any: a gap, contactors, every source from outside."""

    def element(name: str, kind: str, plus: str, minus: str) -> Element:
        string = 1 if kind == model.PACK else 0
        return Element(name, kind, plus, minus, name, "hv", string=string)

    return Circuit(
        (
            element("pack", model.PACK, "pack +", "pack -"),
            element("service disconnect", model.DISCONNECT, "pack +", "gap"),
            element("contactor +", model.CONTACTOR, "gap", "bus +"),
            element("contactor -", model.CONTACTOR, "pack -", "bus -"),
            element(ANY_LINK, model.INVERTER, "bus +", "bus -"),
            element("link capacitor", model.LINK, "bus +", "bus -"),
            element("orange cables", model.CABLE, "bus +", "far +"),
            element("charger", model.CHARGER, "far +", "bus -"),
            element("dc-dc", model.DCDC, "far +", "bus -"),
            element("fast-charge inlet", model.INLET, "far +", "bus -"),
        )
    )
