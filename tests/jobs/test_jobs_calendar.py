"""The calendar file: read back by a reader written here, whatever stands in names and words."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.jobs.calendar import LONGEST_LINE, Dated, calendar_text

STAMP = datetime(2026, 11, 27, 9, 30, tzinfo=UTC)


def lines_of(text: str) -> list[str]:
    """Return the content lines of a calendar, unfolded as RFC 5545, 3.1, says."""
    assert text.endswith("\r\n")
    raw = text[:-2].split("\r\n")
    found: list[str] = []
    for line in raw:
        assert len(line.encode("utf-8")) <= LONGEST_LINE
        assert "\n" not in line
        assert "\r" not in line
        if line.startswith(" "):
            found[-1] += line[1:]
        else:
            found.append(line)
    return found


def read(text: str) -> list[dict[str, str]]:
    """Return the events of a calendar as property -> text, escapes undone (RFC 5545, 3.3.11)."""
    events: list[dict[str, str]] = []
    for line in lines_of(text):
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            events.append({})
        elif events and name != "END":
            plain = re.sub(r"\\(.)", lambda m: "\n" if m[1] in "nN" else m[1], value)
            events[-1][name] = plain
    return events


@pytest.mark.published
def test_an_event_has_what_rfc_5545_asks_of_it():
    """RFC 5545, 3.4, 3.6, 3.6.1 and 3.7: the calendar's own lines, and each event's."""
    text = calendar_text([Dated("i-1", date(2028, 2, 29), "gloves are due", "6 months")], STAMP)
    lines = lines_of(text)
    assert lines[:2] == ["BEGIN:VCALENDAR", "VERSION:2.0"]
    assert lines[2].startswith("PRODID:")
    assert lines[-1] == "END:VCALENDAR"
    (event,) = read(text)
    assert event["UID"] == "i-1@swapwright"
    assert event["DTSTAMP"] == "20261127T093000Z"
    assert event["DTSTART;VALUE=DATE"] == "20280229"
    assert event["DTEND;VALUE=DATE"] == "20280301", "the day after: the end is not included"


@pytest.mark.arithmetic
def test_an_item_keeps_its_id_in_the_calendar_whatever_becomes_of_its_day():
    days = [Dated("i-1", date(2027, 1, day), "a", "b") for day in (1, 31)]
    assert {read(calendar_text([each], STAMP))[0]["UID"] for each in days} == {"i-1@swapwright"}


@pytest.mark.property
@given(
    title=st.text(st.characters(exclude_categories=("C", "Z")) | st.sampled_from(" ,;\\:\n")),
    words=st.text(st.sampled_from("añ漢😀 ,;\\\n\"'BEGIN:END:"), max_size=300),
)
def test_whatever_stands_in_a_name_is_read_back_as_it_was(title, words):
    (event,) = read(calendar_text([Dated("i-1", date(2027, 3, 1), title, words)], STAMP))
    assert (event["SUMMARY"], event["DESCRIPTION"]) == (title, words)
    assert set(event) == {
        "UID",
        "DTSTAMP",
        "DTSTART;VALUE=DATE",
        "DTEND;VALUE=DATE",
        "SUMMARY",
        "DESCRIPTION",
        "TRANSP",
    }
