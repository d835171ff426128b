"""The glossary: one word for one thing, in words a mechanic knows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from swapwright.jobs.words import all_words, word_in

VOCABULARY = Path(__file__).resolve().parents[2] / "docs" / "vocabulary.md"


def vocabulary() -> list[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Return (words, words never used for them) of each row of the vocabulary."""
    rows = []
    for line in VOCABULARY.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        named = re.findall(r"\*\*([^*]+)\*\*", cells[0]) if len(cells) == 3 else []
        if named:
            banned = tuple(word.strip() for word in cells[2].split(",") if word.strip())
            rows.append((tuple(named), banned))
    return rows


def forms() -> set[str]:
    return {form.casefold() for word in all_words() for form in (word.term, *word.also)}


@pytest.mark.property
def test_every_term_has_an_explanation_and_the_nearest_thing_on_an_engine_car():
    assert len(all_words()) >= 70
    for word in all_words():
        assert word.words.endswith(".") and word.engine.endswith("."), word.term
        assert len(re.findall(r"[.:;] ", word.words)) <= 4, word.term


@pytest.mark.property
def test_every_term_stands_once_and_has_an_anchor_of_its_own():
    slugs = [word.slug for word in all_words()]
    assert len(set(slugs)) == len(slugs) and all(slugs)
    owners: dict[str, str] = {}
    for word in all_words():
        for form in {form.casefold() for form in (word.term, *word.also)}:
            assert owners.setdefault(form, word.term) == word.term, form


@pytest.mark.property
def test_every_word_of_the_vocabulary_is_explained_under_the_same_name():
    missing = [
        name for names, _ in vocabulary() for name in names if name.casefold() not in forms()
    ]
    assert not missing


@pytest.mark.property
def test_no_explanation_says_a_word_the_vocabulary_bans():
    banned = [word for _, words in vocabulary() for word in words]
    assert banned
    for word in all_words():
        text = " ".join((word.term, *word.also, word.words, word.engine)).casefold()
        for each in banned:
            assert not re.search(rf"\b{re.escape(each)}\b", text), (word.term, each)
        assert not re.search(r"\b(safe|safely|certified|guaranteed|approved|compliant)\b", text)
        assert not re.search(r"\b(dead|isolated)\b", text), word.term


@pytest.mark.property
@pytest.mark.parametrize(
    "term",
    [
        "kW",
        "kWh",
        "C-rate",
        "state of charge",
        "nominal voltage",
        "maximum working voltage",
        "contactor",
        "precharge",
        "bleed resistor",
        "link capacitor",
        "Y-capacitor",
        "isolation monitor",
        "interlock",
        "service disconnect",
        "prospective short-circuit current",
        "let-through",
        "adiabatic withstand",
        "back-EMF",
        "field weakening",
        "regeneration",
        "continuous rating",
        "peak rating",
        "derating",
        "road load",
        "coast-down",
        "UDDS",
        "HWFET",
        "WLTC",
        "range band",
        "cell",
        "module",
        "string",
        "series",
        "parallel",
        "internal resistance",
        "sag",
        "cold pack",
        "charge end",
    ],
)
def test_what_a_mechanic_meets_first_is_explained(term):
    assert term.casefold() in forms()


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("label", "term"),
    [
        ("maximum working voltage of the pack", "maximum working voltage"),
        ("precharge resistor", "precharge"),
        ("isolation monitor's alarm", "isolation monitor"),
        ("strings in parallel", "parallel"),
        ("drag area Cd·A", "drag area"),
        ("no regeneration above this state of charge", "state of charge"),
    ],
)
def test_a_label_leads_to_the_longest_term_that_stands_in_it(label, term):
    assert word_in(label).term == term


@pytest.mark.arithmetic
@pytest.mark.parametrize("label", ["what goes in", "rim diameter", "motor", "A", "wheelbase"])
def test_a_label_without_a_term_leads_nowhere(label):
    assert word_in(label) is None
